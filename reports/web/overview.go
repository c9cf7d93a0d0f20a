package web

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/web/site"
)

// overviewView is all tanks as the page shows them.
type overviewView struct {
	Today layers.Date
	Due   string // how many are due, in words
	Drawn bool   // any has a core
	Cards []card
}

// card is one tank.
type card struct {
	reports.OverviewLine
	Beds template.HTML // empty: no core has been read
	Next string
}

func (s *server) overview(w http.ResponseWriter, r *http.Request) error {
	found, settings, err := s.findings(r)
	if err != nil {
		return err
	}
	o := judge.NewOverview(found, cmp.Or(settings.AsOf, s.Today()))
	v := overviewView{Today: o.Today, Due: dueWords(o)}
	for i, f := range figure.Small(o, s.Units) {
		c := card{OverviewLine: o.Tanks[i], Next: nextWords(o.Tanks[i])}
		if len(c.Cores) > 0 {
			c.Beds, v.Drawn = site.Inline(f), true
		}
		v.Cards = append(v.Cards, c)
	}
	return s.Show(w, r, http.StatusOK, "overview", site.Frame{Title: "Tanks", Style: "overview.css"}, v)
}

// dueWords say how many tanks are due for a reading.
func dueWords(o reports.Overview) string {
	all, due := len(o.Tanks), len(o.OnlyDue().Tanks)
	switch {
	case due == 0:
		return "None is due for a reading."
	case due == all && all > 1:
		return fmt.Sprintf("All %d are due for a reading.", all)
	case due == 1:
		return fmt.Sprintf("1 of %d is due for a reading.", all)
	}
	return fmt.Sprintf("%d of %d are due for a reading.", due, all)
}

// nextWords say when a tank is due for a reading.
func nextWords(l reports.OverviewLine) string {
	switch {
	case l.NextReading == 0:
		return "first reading due"
	case l.Due:
		return "next reading " + l.NextReading.String() + ", due"
	}
	return "next reading " + l.NextReading.String()
}
