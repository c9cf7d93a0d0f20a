package table

import (
	"cmp"
	"fmt"
	"io"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/reports/words"
)

// A TankEntry is a line of the list of tanks.
type TankEntry struct {
	ID, Name string
	Retired  bool
	Cores    int
	Newest   layers.Date // of the cores; zero: none
}

// WriteTanks lists tanks in the order given. Its errors are those of w.
func WriteTanks(w io.Writer, tanks []TankEntry, o Options) error {
	p := newPage(o)
	g := grid{columns: []column{left("tank"), right("cores"), left("newest"), left("")}}
	for _, t := range tanks {
		newest, mark := p.missing, ""
		if t.Newest != 0 {
			newest = t.Newest.String()
		}
		if t.Retired {
			mark = "retired"
		}
		g.rows = append(g.rows, []string{words.TankName(t.ID, t.Name), strconv.Itoa(t.Cores), newest, mark})
	}
	p.listed("no tanks in this logbook", g)
	return p.write(w)
}

// WriteTank writes what is known of a tank and how much is written down of it. Its
// errors are those of w.
func WriteTank(w io.Writer, t layers.Tank, retired bool, o Options) error {
	p := newPage(o)
	p.text(0, words.TankName(t.ID, t.Name))
	if retired {
		p.fact("retired", "yes")
	}
	for _, f := range layers.TankFields() {
		switch {
		case f.Name == "vessel":
			p.fact("vessel", p.vessel(t.Vessel))
		case f.Name == "native":
			p.facts("native", p.natives(t.Native))
		case f.Name == "limits":
			p.facts("limits", limitWords(t.Limits))
		case f.Head != "":
			p.fact(f.Head, f.Text(&t, p.Units))
		}
	}
	p.fact("cores", coresWords(t.Cores))
	p.fact("water tests", strconv.Itoa(len(t.Water)))
	p.fact("events", strconv.Itoa(len(t.Events)))
	return p.write(w)
}

// factWidth holds the longest name of a fact, columns.
const factWidth = len("rooted plants")

// fact writes one thing known behind its name.
func (p *page) fact(name, value string) {
	p.item(gridIndent, pad(name, factWidth)+"  ", cmp.Or(value, "not given"))
}

// facts writes things of one kind, a line each.
func (p *page) facts(name string, values []string) {
	if len(values) == 0 {
		p.fact(name, "")
	}
	for _, value := range values {
		p.fact(name, value)
		name = ""
	}
}

func (p *page) vessel(v *layers.Vessel) string {
	if v == nil {
		return ""
	}
	return fmt.Sprintf("%s, %s", v.Shape, words.Vessel(*v, p.Units))
}

func (p *page) natives(list []layers.Native) (lines []string) {
	for _, n := range list {
		parts := []string{string(n.Kind), n.Color.String()}
		if n.ThicknessMM > 0 {
			parts = append(parts, p.Units.Length(n.ThicknessMM))
		}
		if n.Name != "" {
			parts = append(parts, n.Name)
		}
		lines = append(lines, strings.Join(parts, ", "))
	}
	return lines
}

func limitWords(limits layers.Limits) (lines []string) {
	if len(limits) == 0 {
		return []string{"all by default"}
	}
	for i, rule := range layers.LimitRules() {
		if value, own := limits.Of(layers.Limit(i)); own {
			lines = append(lines, fmt.Sprintf("%s %v %s (default %v)", rule.Name, value, rule.Unit, rule.Default))
		}
	}
	return lines
}

func coresWords(cores []layers.Core) string {
	if len(cores) == 0 {
		return "0"
	}
	return fmt.Sprintf("%d, newest %s", len(cores), cores[len(cores)-1].Date)
}
