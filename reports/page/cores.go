package page

import (
	"html/template"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// core is a station's newest reading: its picture and its layers.
type core struct {
	Reading reading
	Title   string
	Picture picture
	Told    []string // what the column shows as a whole, a line each
	Layers  []layer
}

// reading is where and when, apart, so that a station's name in letters that run the other
// way turns nothing else about.
type reading struct {
	Station string
	Date    layers.Date
}

// layer is a row of a core's table.
type layer struct {
	From, Thickness, Range string
	Band, Beside           string
	Color                  palette.Color
}

func newCores(t reports.Tank, u layers.Units) (list []core) {
	for _, c := range t.Cores {
		list = append(list, newCore(c, t.Penetration, u))
	}
	return list
}

func newCore(c reports.Core, penetration *reports.Estimate, u layers.Units) core {
	v := core{
		Reading: reading{c.Station, c.Date},
		Title:   words.CoreTitle(c),
		Picture: newPicture(figure.Core(c, figure.CoreOptions{Units: u, Penetration: penetration})),
		Told:    told(c, u),
	}
	length := words.Length(u)
	for _, l := range c.Layers {
		v.Layers = append(v.Layers, layer{
			From: words.OnRuler(u, l.TopMM), Thickness: length.Value(l.Thickness), Range: length.Bounds(l.Thickness),
			Band: words.Band(l), Beside: words.Beside(l), Color: l.Hex,
		})
	}
	return v
}

// told says what a column shows as a whole.
func told(c reports.Core, u layers.Units) (lines []string) {
	length := words.Length(u)
	add := func(name string, e *reports.Estimate) {
		if e == nil {
			return
		}
		text := name + " " + length.Estimate(*e)
		if basis := words.Basis(*e); basis != "" {
			text += ": " + basis
		}
		lines = append(lines, text)
	}
	add("Colour oxic depth", c.OxicDepth)
	add("Mulm", c.Mulm)
	if c.BlackZone != nil && c.BlackZone.High > 0 {
		add("Top of the black zone", c.BlackTop)
		add("Thickness of the black zone", c.BlackZone)
	} else if c.BlackZone != nil {
		lines = append(lines, "No black zone")
	}
	if signs := words.Signs(layers.Core{Signs: c.Signs}); len(signs) > 0 {
		lines = append(lines, "Seen: "+strings.Join(signs, ", "))
	}
	if c.Note != "" {
		lines = append(lines, "Note: "+c.Note)
	}
	return lines
}

// picture is a figure as it stands in the page.
type picture struct {
	Title string
	SVG   template.HTML
	Width float64 // mm, as drawn
}

func newPicture(f *pen.Figure) picture {
	return picture{f.Title, template.HTML(f.Inline()), f.Width} // figure escapes every text
}
