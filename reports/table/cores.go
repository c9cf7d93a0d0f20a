package table

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// A CoreEntry is a line of the list of cores.
type CoreEntry struct {
	layers.Core
	Ended string // how and when it ended; empty: it stands
}

// WriteCores lists cores in the order given. Its errors are those of w.
func WriteCores(w io.Writer, cores []CoreEntry, o Options) error {
	p := newPage(o)
	g := grid{columns: []column{left("date"), left("station"), right("layers"), right("depth"), left("seen besides")}, text: 4}
	for _, core := range cores {
		g.rows = append(g.rows, []string{core.Date.String(), p.plain(core.Station), strconv.Itoa(len(core.Layers)),
			p.Units.Length(core.DepthMM()), coreRemarks(core)})
	}
	p.listed("no cores to show", g)
	return p.write(w)
}

// coreRemarks is what is known of a core besides its layers.
func coreRemarks(core CoreEntry) string {
	parts := words.Signs(core.Core)
	if photo := photoWords(core.Core); photo != "" {
		parts = append(parts, photo)
	}
	if core.Ended != "" {
		parts = append([]string{core.Ended}, parts...)
	}
	if core.Note != "" {
		parts = append(parts, core.Note)
	}
	return strings.Join(parts, "; ")
}

// photoWords say that a core was read from a photo, and which.
func photoWords(core layers.Core) string {
	const digits = 8 // of its SHA-256: enough to tell a keeper's photos apart
	switch {
	case core.Photo == nil:
		return ""
	case core.Photo.SHA256 == "":
		return "read from a photo"
	}
	return "read from photo " + core.Photo.SHA256[:digits]
}

// WriteCore draws one core of a tank: what was written down, and what it was read
// as. Its errors are those of w.
func WriteCore(w io.Writer, tank layers.Tank, core layers.Core, read reports.Core, o Options) error {
	p := newPage(o)
	p.text(0, words.TankName(tank.ID, tank.Name)+": "+words.CoreTitle(read))
	p.text(gridIndent, strings.Join(words.Signs(core), ", "))
	p.text(gridIndent, photoWords(core))
	p.text(gridIndent, core.Note)
	p.line()
	p.single(read)
	p.section("Notes", p.layerNotes(core))
	p.section("Edges across the photo's strip", p.edges(core))
	return p.write(w)
}

func (p *page) single(read reports.Core) {
	d := p.drawing([]reports.Core{read})
	p.scaleWords(d)
	p.line()
	p.column(read, d)
	p.underColumn(read)
}

func (p *page) layerNotes(core layers.Core) (notes []string) {
	top := 0.0
	for _, l := range core.Layers {
		if l.Note != "" {
			notes = append(notes, fmt.Sprintf("from %s to %s %s: %s", words.OnRuler(p.Units, top), words.OnRuler(p.Units, top+l.ThicknessMM), p.Units, l.Note))
		}
		top += l.ThicknessMM
	}
	return notes
}

// surface tells the relief of the bed surface.
func (p *page) surface(e reports.Relief) string {
	return fmt.Sprintf("from %s above its mean to %s below, the mean good to %s",
		p.Units.Length(math.Abs(e.HighestMM)), p.Units.Length(e.LowestMM), p.Units.Length(e.ErrorMM))
}

// edges tells the relief of a core's edges as far as they were traced.
func (p *page) edges(core layers.Core) (lines []string) {
	if core.Photo != nil {
		at := core.Photo.Surface
		lines = append(lines, "bed surface: "+p.surface(reports.Relief{ErrorMM: at.ErrorMM, HighestMM: at.HighestMM, LowestMM: at.LowestMM}))
	}
	depth := 0.0
	for _, l := range core.Layers[:max(0, len(core.Layers)-1)] { // the last one ends with the view
		depth += l.ThicknessMM
		if l.Edge != nil {
			lines = append(lines, fmt.Sprintf("at %s: from %s to %s, the mean good to %s",
				p.Units.Length(depth), p.Units.Number(l.Edge.HighestMM), p.Units.Length(l.Edge.LowestMM), p.Units.Length(l.Edge.ErrorMM)))
		}
	}
	return lines
}

// besideGap stands between cores beside each other, columns.
const besideGap = 2

// WriteBeside lists the layers of cores, the cores beside each other where there is
// room. Its errors are those of w.
func WriteBeside(w io.Writer, cores []reports.Core, o Options) error {
	p := newPage(o)
	lists, width := make([][]string, len(cores)), 0
	for i, core := range cores {
		lists[i] = p.layerList(core)
		for _, line := range lists[i] {
			width = max(width, ansi.StringWidth(line)+besideGap)
		}
	}
	fitting := max(1, (p.width-gridIndent+besideGap)/width)
	for beside := range slices.Chunk(lists, fitting) {
		p.beside(beside, width)
	}
	return p.write(w)
}

// beside writes lists of lines beside each other, each so many columns wide.
func (p *page) beside(lists [][]string, width int) {
	longest := 0
	for _, list := range lists {
		longest = max(longest, len(list))
	}
	for row := range longest {
		line := spaces(gridIndent)
		for i, list := range lists {
			if row < len(list) {
				line = pad(line, gridIndent+i*width) + list[row]
			}
		}
		p.line(line)
	}
}

// layerList is a core's date and its layers, a line each: number, thickness in the
// units shown, colour and name.
func (p *page) layerList(core reports.Core) []string {
	row := func(number, thickness, rest string) string {
		return padLeft(number, 2) + padLeft(thickness, 6) + " " + rest
	}
	list := []string{row("", p.Units.String(), core.Date.String())}
	for i, l := range core.Layers {
		list = append(list, row(strconv.Itoa(i+1), p.Units.Number(l.Thickness.Value), p.painted(l.Hex)+" "+nameOrDoubt(l)))
	}
	return list
}

// painted is a colour's own name on a patch of it.
func (p *page) painted(c palette.Color) string {
	if !p.Swatch {
		return c.String()
	}
	return paint(c, c.String())
}

func nameOrDoubt(l reports.Layer) string {
	if l.Doubtful() {
		return l.Band.String() + "?"
	}
	return l.Band.String()
}

// leastMeaning is the least probability of a meaning that is told (assumption: what helps
// to choose).
const leastMeaning = 0.05

// WriteMeanings shows a colour and what it may mean by itself. Its errors are those of w.
func WriteMeanings(w io.Writer, color palette.Color, meanings []reports.Meaning, o Options) error {
	p := newPage(o)
	p.meanings(color, meanings)
	return p.write(w)
}

func (p *page) meanings(color palette.Color, meanings []reports.Meaning) {
	var parts []string
	for _, m := range meanings {
		if m.Probability >= leastMeaning {
			parts = append(parts, fmt.Sprintf("%s %d %%", meaningWords(m), words.Hundred(m.Probability)))
		}
	}
	p.item(gridIndent, p.swatch(color), color.String()+" by itself may mean "+strings.Join(parts, ", "))
}

func meaningWords(m reports.Meaning) string {
	if m.Kind == "" {
		return m.Band.String()
	}
	return m.Band.String() + " (" + m.Kind + ")"
}
