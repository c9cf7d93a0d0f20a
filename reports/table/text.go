// Package table draws findings as text for a terminal: the decision first, then
// the cores drawn to scale, the trend, cautions and notices. It computes nothing
// of what it shows.
//
// Text from logbooks is stripped of control characters before it is printed.
// Tables take their widths from tablewriter, which guesses from the environment
// whether some signs are two columns wide; a program calls
// twwidth.SetEastAsian(false) once at its start so that the same findings give
// the same bytes everywhere.
package table

import (
	"io"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// Options say for what kind of terminal a report is set.
type Options struct {
	Width  int          // columns; below 40 is taken as 40, above 100 as 100
	ASCII  bool         // no character beyond ASCII
	Swatch bool         // colours as 24-bit ANSI backgrounds; the writer downgrades them where needed
	Units  layers.Units // of lengths
}

// Write draws the findings of every tank. Its errors are those of w.
func Write(w io.Writer, f reports.Findings, o Options) error {
	if len(f.Tanks) == 0 {
		_, err := io.WriteString(w, "no tanks in this logbook\n")
		return err
	}
	for i, tank := range f.Tanks {
		p := newPage(o)
		if i > 0 {
			p.line()
			p.line(strings.Repeat("~", p.width))
			p.line()
		}
		p.tank(tank)
		if err := p.write(w); err != nil {
			return err
		}
	}
	return nil
}

func (p *page) tank(t reports.Tank) {
	p.text(0, words.Judged(words.TankName(t.ID, t.Name), t.AsOf))
	p.line()
	p.decision(t)
	p.watch(t)
	if bed := len(t.Cores) > 0 || t.OxicDepth != nil || t.Mulm != nil || t.Accumulation != nil; bed || t.Advice == nil { // advice on water alone has none
		p.line()
		p.grid(numbersGrid( // one that could not be estimated keeps its row
			p.number("colour oxic depth", t.OxicDepth, words.Length(p.Units)),
			p.number("mulm", t.Mulm, words.Length(p.Units)),
			p.number("accumulation", t.Accumulation, words.Rate(p.Units))))
	}
	if t.OxicDepth != nil {
		p.text(gridIndent, words.AboutOxic)
	}
	if t.Advice != nil {
		p.line()
		p.reasons(*t.Advice, len(t.Cores) > 0)
	}
	p.cores(t.Cores)
	p.trend(t)
	if t.Advice != nil {
		p.section("Cautions", t.Advice.Cautions)
	}
	p.section("Notices", t.Notices)
}

// decision writes what to do and how clear that is.
func (p *page) decision(t reports.Tank) {
	a := t.Advice
	if a == nil {
		p.text(0, "No advice: the notices below say what is missing.")
		return
	}
	if len(a.WaterFirst) > 0 {
		p.text(0, words.Headline(a.Action, a.WaterFirst)+".")
		p.list("seen", words.Reasons(words.Seen(*a)))
		p.list("now", a.First)
		p.item(0, pad("bed", gutterWidth)+" ", a.How)
		p.list("later", a.Later)
		return
	}
	p.text(0, words.Headline(a.Action, a.WaterFirst)+". "+words.HowClear(*a))
	p.item(0, pad("how", gutterWidth)+" ", a.How)
	p.list("first", a.First)
	p.asked(t.Questions)
}

// watch writes what there is to say of a runaway, and the signs that speak for it.
func (p *page) watch(t reports.Tank) {
	text := words.Watch(t.Watch)
	if text == "" {
		return
	}
	p.item(0, pad("watch", gutterWidth)+" ", text)
	for _, sign := range words.WatchSigns(t.Watch, t.Advice) {
		p.item(gutterWidth+1, p.bullet+" ", sign)
	}
}

// asked writes what only the keeper can settle, each answer's command on a line of its own,
// however long: it is there to be pasted.
func (p *page) asked(questions []reports.Question) {
	label := "asked"
	for _, q := range questions {
		p.item(0, pad(label, gutterWidth)+" "+p.bullet+" ", q.Text)
		for _, m := range q.Mends {
			p.item(gutterWidth+3, "", m.Label+":")
			p.line(spaces(gutterWidth+5), p.plain(m.Command))
		}
		label = ""
	}
}

// reasons writes what speaks for the advice, what against, and when to read again.
func (p *page) reasons(a reports.Advice, read bool) {
	if len(a.WaterFirst) > 0 {
		p.item(0, pad("next", gutterWidth)+" ", words.NextReading(a, read)+".")
		return
	}
	p.list("why", words.Reasons(a.Because))
	p.list("against", append(words.Reasons(a.Against), words.OtherActions(a)...))
	p.item(0, pad("next", gutterWidth)+" ", words.NextReading(a, read)+".")
	p.item(0, pad("draws", gutterWidth)+" ", words.AboutDraws)
}
