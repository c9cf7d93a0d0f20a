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
	Summary []string // a line for each number and note
	Layers  []layer
}

// reading is where and when a core was read. The two are apart so that a station's name
// written from right to left reorders nothing else.
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

func newCore(c reports.Core, penetration *reports.Estimate, u layers.Units) core {
	v := core{
		Reading: reading{c.Station, c.Date},
		Title:   words.CoreTitle(c),
		Picture: newPicture(figure.Core(c, figure.CoreOptions{Units: u, Penetration: penetration})),
		Summary: summary(c, u),
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

func summary(c reports.Core, u layers.Units) (lines []string) {
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

// picture is a figure within the page.
type picture struct {
	Title string
	SVG   template.HTML
	Width float64 // mm
}

func newPicture(f *pen.Figure) picture {
	return picture{f.Title, template.HTML(f.Inline()), f.Width} // the pen has escaped every text
}
