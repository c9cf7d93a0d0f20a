package table

import (
	"fmt"
	"io"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// WriteMarkdown writes the findings of every tank as a Markdown document, for notes and
// forums. Its errors are those of w.
func WriteMarkdown(w io.Writer, f reports.Findings, units layers.Units) error {
	d := document{page: newPage(Options{Width: maxWidth, Units: units})}
	for _, tank := range f.Tanks {
		d.tank(tank)
	}
	return d.write(w)
}

// document is a page whose lines are Markdown.
type document struct{ *page }

// escaped is a text on one line that Markdown shows as it stands.
func (d document) escaped(text string) string {
	return markdownSigns.Replace(d.plain(text))
}

var markdownSigns = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;", "#", `\#`, "|", `\|`, "~", `\~`)

func (d document) tank(t reports.Tank) {
	d.line("# ", d.escaped(words.Judged(words.TankName(t.ID, t.Name), t.AsOf)))
	d.line()
	if a := t.Advice; a != nil {
		if len(a.WaterFirst) > 0 {
			d.line("**", words.Headline(a.Action, a.WaterFirst), ".**")
			d.line()
			d.section("What was seen", words.Reasons(words.Seen(*a)))
			d.section("What to do now", a.First)
			d.section("What the bed says for later", a.Later)
		} else {
			d.line(fmt.Sprintf("**%s.** %s %s", words.Headline(a.Action, a.WaterFirst), d.escaped(words.HowClear(*a)), d.escaped(a.How)))
			d.line()
			d.section("First", a.First)
			d.section("What only you can settle", words.Questions(t.Questions))
		}
	}
	if text := words.Watch(t.Watch); text != "" {
		d.line("**", d.escaped(text), "**")
		d.line()
		d.items(words.WatchSigns(t.Watch, t.Advice))
	}
	d.numbers([]numberRow{
		{"colour oxic depth", t.OxicDepth, words.Length(d.Units)}, {"mulm", t.Mulm, words.Length(d.Units)},
		{"accumulation of mulm", t.Accumulation, words.Rate(d.Units)}, {"front shift, below zero it rises", t.FrontShift, words.Rate(d.Units)},
		{"front shift against the floor, below zero it rises", t.FloorShift, words.Rate(d.Units)},
		{"black zone, depth of its top", t.BlackTop, words.Length(d.Units)}, {"black zone, thickness", t.BlackZone, words.Length(d.Units)},
		{"oxygen penetration", t.Penetration, words.Length(d.Units)}, {"oxygen at the bottom", t.BottomOxygen, words.Oxygen()},
		{"un-ionised ammonia", t.Ammonia, words.Ammonia()},
	})
	if t.OxicDepth != nil {
		d.line(words.AboutOxic)
		d.line()
	}
	if frames := words.Frames(t.FrontShift, t.FloorShift, d.Units); frames != "" {
		d.line(frames)
		d.line()
	}
	if t.LimitReached != nil {
		d.line(words.Forecast(*t.LimitReached, t.AsOf, d.Units))
		d.line()
	}
	if a := t.Advice; a != nil {
		about := ""
		if len(a.WaterFirst) == 0 {
			d.section("Why", words.Reasons(a.Because))
			d.section("Against", append(words.Reasons(a.Against), words.OtherActions(*a)...))
			about = " " + words.AboutDraws
		}
		d.line(words.NextReading(*a, len(t.Cores) > 0), ".", about)
		d.line()
	}
	for _, core := range t.Cores {
		d.core(core)
	}
	if t.Advice != nil {
		d.section("Cautions", t.Advice.Cautions)
	}
	d.section("Notices", t.Notices)
}

type numberRow struct {
	name string
	e    *reports.Estimate
	m    words.Measure
}

// numbers is a table of the estimates that could be made.
func (d document) numbers(rows []numberRow) {
	d.line("| | value | 90 % range |")
	d.line("| --- | ---: | ---: |")
	for _, r := range rows {
		if r.e != nil {
			row := d.number(r.name, r.e, r.m)
			d.line("| ", d.escaped(row[0]), " | ", row[1], " ", row[2], " | ", row[3], " |")
		}
	}
	d.line()
}

func (d document) core(c reports.Core) {
	d.line("## ", d.escaped(words.Titled(c.Station, c.Date)))
	d.line()
	unit := d.Units.String()
	d.line("| from ", unit, " | thickness ", unit, " | band | colour |")
	d.line("| ---: | ---: | --- | --- |")
	for _, l := range c.Layers {
		d.line("| ", words.OnRuler(d.Units, l.TopMM), " | ", d.thickness(l), " | ", words.WithBeside(words.Band(l), l), " | `", l.Hex.String(), "` |")
	}
	d.line()
}

// section is a heading and a list, or nothing for an empty list.
func (d document) section(heading string, items []string) {
	if len(items) == 0 {
		return
	}
	d.line("## ", heading)
	d.line()
	d.items(items)
}

// items is a list, or nothing for an empty one.
func (d document) items(items []string) {
	if len(items) == 0 {
		return
	}
	for _, item := range items {
		d.line("- ", d.escaped(item))
	}
	d.line()
}
