package table

import (
	"errors"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// gridIndent is the margin before a table and before a text's further lines, columns.
const gridIndent = 2

// minText is the least room in which a table's text is set, columns: enough for
// most of the words it holds.
const minText = 14

// grid is a small table without lines. One column holds text and takes the room
// that the others leave.
type grid struct {
	columns []column
	text    int // index of the text column
	rows    [][]string
}

// column is a column's heading and how its cells stand.
type column struct {
	head  string
	align tw.Align
	gap   int // spaces behind it, which the last one goes without
}

func left(head string) column  { return column{head, tw.AlignLeft, 2} }
func right(head string) column { return column{head, tw.AlignRight, 2} }

// near is a column whose next one belongs to it, as a unit does to its number.
func (c column) near() column {
	c.gap = 1
	return c
}

func (g grid) heads() (list []string) {
	for _, c := range g.columns {
		list = append(list, c.head)
	}
	return list
}

// gap stands behind a column.
func (g grid) gap(column int) string {
	if column == len(g.columns)-1 {
		return ""
	}
	return spaces(g.columns[column].gap)
}

// grid draws g, or, where its text would have no room, each row as a wrapped line.
func (p *page) grid(g grid) {
	room := p.width - gridIndent - g.fixedWidth()
	if room < minText {
		p.stack(g)
		return
	}
	var b strings.Builder
	t := tablewriter.NewTable(&b, g.options()...)
	t.Header(g.heads())
	for _, row := range g.rows {
		cells := slices.Clone(row)
		cells[g.text] = strings.Join(fill(p.words(row[g.text]), " ", room-gridIndent), "\n"+spaces(gridIndent))
		p.failed = errors.Join(p.failed, t.Append(cells))
	}
	p.failed = errors.Join(p.failed, t.Render())
	for line := range strings.Lines(b.String()) {
		p.line(spaces(gridIndent), strings.TrimSuffix(line, "\n"))
	}
}

// listed draws a list, or says that it is empty.
func (p *page) listed(none string, g grid) {
	if len(g.rows) == 0 {
		p.line(none)
		return
	}
	p.grid(g)
}

// fixedWidth is what all columns but the text take, gaps included.
func (g grid) fixedWidth() int {
	total := 0
	for column, c := range g.columns {
		total += len(g.gap(column))
		if column == g.text {
			continue
		}
		widest := ansi.StringWidth(c.head)
		for _, row := range g.rows {
			widest = max(widest, ansi.StringWidth(row[column]))
		}
		total += widest
	}
	return total
}

// stack writes each row as one wrapped paragraph.
func (p *page) stack(g grid) {
	for _, row := range append([][]string{g.heads()}, g.rows...) {
		var words []string
		for column, cell := range row {
			switch {
			case column == g.text:
				words = append(words, p.words(cell)...)
			case cell != "":
				words = append(words, cell)
			}
		}
		margin := gridIndent
		for _, line := range fill(words, " ", p.width-2*gridIndent) {
			p.line(spaces(margin), line)
			margin = 2 * gridIndent
		}
	}
}

// options draw no lines, wrap nothing and leave names as they are: tablewriter's
// own formatting spoils units, its wrapping loses colour at line ends.
func (g grid) options() []tablewriter.Option {
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
	}
	for i, c := range g.columns {
		cell.Alignment.PerColumn = append(cell.Alignment.PerColumn, c.align)
		cell.Padding.PerColumn = append(cell.Padding.PerColumn, tw.Padding{Right: g.gap(i), Overwrite: true})
	}
	return []tablewriter.Option{
		tablewriter.WithConfig(tablewriter.Config{
			Header: cell, Row: cell, Behavior: tw.Behavior{TrimSpace: tw.Off},
		}),
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: tw.Border{Left: tw.Off, Right: tw.Off, Top: tw.Off, Bottom: tw.Off},
			Settings: tw.Settings{
				Separators: tw.Separators{ShowHeader: tw.Off, ShowFooter: tw.Off, BetweenRows: tw.Off, BetweenColumns: tw.Off},
				Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.Off, ShowFooterLine: tw.Off},
			},
		})),
	}
}
