package table

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"panecore/reports"
	"panecore/reports/words"
)

// The column's size in the terminal (assumption: what reads well on one screen).
const (
	mostRows  = 24 // of the deepest core
	leastFill = 5  // columns between the two edges, where words leave little room
	goodFill  = 10 // for which a second name goes on a line of its own
	mostFill  = 16
)

// drawing is what all columns of a tank share, so that two stations compare.
type drawing struct {
	mmPerRow  float64
	ruler     int // columns of the widest depth
	name      int // of the widest band name
	thickness int
	fill      int // columns between the two edges
}

// cores draws each core as a column, all to one scale.
func (p *page) cores(cores []reports.Core) {
	if len(cores) == 0 {
		return
	}
	p.heading("The bed, drawn to scale")
	d := p.drawing(cores)
	p.scaleWords(d)
	for _, core := range cores {
		p.line()
		p.text(2, words.CoreTitle(core))
		p.column(core, d)
		p.underColumn(core)
	}
}

func (p *page) scaleWords(d drawing) {
	p.text(2, fmt.Sprintf("One row is about %s %s; a thin layer still gets one. Depths and thicknesses are in %s, "+
		"the 90 %% range in brackets.", words.OnRuler(p.Units, d.mmPerRow), p.Units, words.Plural(p.Units)))
}

func (p *page) drawing(cores []reports.Core) drawing {
	d := drawing{ruler: 5}
	deepest, widest, usual := 0.0, 0, 0
	for _, core := range cores {
		for _, l := range core.Layers {
			deepest = max(deepest, l.BottomMM())
			d.ruler = max(d.ruler, len(words.OnRuler(p.Units, l.BottomMM())))
			d.name = max(d.name, len(words.Band(l)))
			d.thickness = max(d.thickness, ansi.StringWidth(p.thickness(l)))
		}
	}
	for _, core := range cores {
		for _, l := range core.Layers {
			fields := p.fields(l, d)
			widest = max(widest, ansi.StringWidth(strings.Join(fields, "  ")))
			usual = max(usual, ansi.StringWidth(strings.Join(fields[:3], "  ")))
		}
	}
	d.mmPerRow = p.scaleFor(deepest, mostRows)
	room := p.width - d.besideFill()
	d.fill = max(leastFill, min(room-usual, mostFill, max(goodFill, room-widest)))
	return d
}

// besideFill is what a row takes besides its filling and its words: the ruler, a
// space, two edges, the lane of the mark and a space.
func (d drawing) besideFill() int { return d.ruler + 5 }

// scaleFor is the least round length, in the units shown, that draws depth in at
// most so many rows. Returned in mm.
func (p *page) scaleFor(depth float64, rows float64) float64 {
	unit := 1 / p.Units.Of(1) // mm
	for power := 0.01; ; power *= 10 {
		for _, step := range []float64{1, 1.5, 2, 3, 4, 6, 8} {
			if scale := step * power * unit; scale*rows >= depth {
				return scale
			}
		}
	}
}

// column draws one core: the ruler at the layers' tops, the filling between two
// edges, the lane of the colour oxic depth, and the words. What stands in a row
// counts for the row's upper edge.
func (p *page) column(core reports.Core, d drawing) {
	beside := make([][]string, len(core.Layers))
	for i, l := range core.Layers {
		beside[i] = p.layerWords(l, d)
	}
	ends := rowEnds(core.Layers, beside, d.mmPerRow)
	lane := p.lane(core, ends)
	p.line(spaces(d.ruler+2), strings.Repeat("~", d.fill), "   water")
	row, depth := 0, 0.0
	for i, l := range core.Layers {
		for first := row; row < ends[i]; row++ {
			label, edge, word := "", p.side, ""
			if row == first {
				label, edge = words.OnRuler(p.Units, l.TopMM), p.tick
			}
			if row-first < len(beside[i]) {
				word = beside[i][row-first]
			}
			p.line(padLeft(label, d.ruler), " ", edge, p.filling(l, row, d.fill), p.side, lane(row), " ", word)
		}
		depth = l.BottomMM()
	}
	p.line(padLeft(words.OnRuler(p.Units, depth), d.ruler), " ", p.left, strings.Repeat(p.floor, d.fill), p.right, lane(row))
}

// rowEnds gives the row behind each layer. Layers keep to the scale, except that
// each gets as many rows as its words need.
func rowEnds(layers []reports.Layer, beside [][]string, mmPerRow float64) []int {
	ends := make([]int, len(layers))
	row := 0
	for i, l := range layers {
		row = max(row+len(beside[i]), int(math.Round(l.BottomMM()/mmPerRow)))
		ends[i] = row
	}
	return ends
}

// rowAt is the row whose upper edge lies nearest to a depth.
func rowAt(mm float64, layers []reports.Layer, ends []int) int {
	first := 0
	for i, l := range layers {
		if mm < l.BottomMM() && l.Thickness.Value > 0 {
			share := max(0, (mm-l.TopMM)/l.Thickness.Value)
			return first + int(math.Round(share*float64(ends[i]-first)))
		}
		first = ends[i]
	}
	return first
}

// lane gives for each row the mark of the colour oxic depth, a colon within its
// range, or a space.
func (p *page) lane(core reports.Core, ends []int) func(row int) string {
	e := core.OxicDepth
	if e == nil {
		return func(int) string { return " " }
	}
	low, at, high := rowAt(e.Low, core.Layers, ends), rowAt(e.Value, core.Layers, ends), rowAt(e.High, core.Layers, ends)
	return func(row int) string {
		switch {
		case row == at:
			return p.mark
		case low <= row && row <= high:
			return ":"
		}
		return " "
	}
}

// layerWords are the words beside a layer, on one line where they fit.
func (p *page) layerWords(l reports.Layer, d drawing) []string {
	room := p.width - d.besideFill() - d.fill
	fields := p.fields(l, d)
	if ansi.StringWidth(strings.Join(fields[:3], "  ")) > room {
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
	}
	return fill(fields, "  ", room)
}

// fields are a layer's name, thickness, colour and, where there is one, the
// second name or the keeper's word, the first two padded to line up.
func (p *page) fields(l reports.Layer, d drawing) []string {
	fields := []string{pad(words.Band(l), d.name), pad(p.thickness(l), d.thickness), l.Hex.String()}
	if beside := words.Beside(l); beside != "" {
		fields = append(fields, beside)
	}
	return fields
}

func (p *page) thickness(l reports.Layer) string {
	m := words.Length(p.Units)
	return p.plain(m.Value(l.Thickness) + " (" + m.Bounds(l.Thickness) + ")")
}

// filling is one row of a layer: its band's letters, staggered from row to row
// like courses of brick, on its colour.
func (p *page) filling(l reports.Layer, row, width int) string {
	letters := l.Band.Letters()
	unit := letters.Pair + spaces(letters.Gap)
	shift := row % 2 * (len(unit) / 2)
	text := strings.Repeat(unit, width/len(unit)+2)[shift : shift+width]
	if !p.Swatch {
		return text
	}
	return paint(l.Hex, text)
}

// underColumn says what the column shows as a whole.
func (p *page) underColumn(core reports.Core) {
	m := words.Length(p.Units)
	if e := core.OxicDepth; e != nil {
		text := "colour oxic depth " + m.Estimate(*e)
		if basis := words.Basis(*e); basis != "" {
			text += ": " + basis
		}
		p.item(2, p.mark+" ", text)
	}
	var parts []string
	add := func(name string, e *reports.Estimate) {
		if e != nil {
			parts = append(parts, name+" "+m.Estimate(*e))
		}
	}
	add("mulm", core.Mulm)
	switch {
	case black(core.BlackZone):
		add("top of the black zone", core.BlackTop)
		add("thickness of the black zone", core.BlackZone)
	case core.BlackZone != nil:
		parts = append(parts, "no black zone")
	}
	p.text(4, strings.Join(parts, "; "))
}

// black reports whether a core or a tank shows any black zone.
func black(zone *reports.Estimate) bool { return zone != nil && zone.High > 0 }
