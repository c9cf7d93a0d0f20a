package web

import (
	"cmp"
	"context"
	"html/template"
	"maps"
	"math"
	"net/http"
	"net/url"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/figure/timeline"
	"panecore/reports/page"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// shot is a station's newest photo with what was read drawn on it.
type shot struct {
	Station string
	Date    layers.Date
	At      string // the picture's address
	Text    string // for those who can't see it
}

// stripOf finds the strip of a reading in a list.
func stripOf(station string, date layers.Date) func(reports.Strip) bool {
	return func(s reports.Strip) bool { return s.Station == station && s.Date == date }
}

// shots are the photos of the newest cores.
func (s *server) shots(tank reports.Tank, strips []reports.Strip) (list []shot) {
	for _, core := range tank.Cores {
		if slices.ContainsFunc(strips, stripOf(core.Station, core.Date)) {
			list = append(list, shot{
				Station: core.Station, Date: core.Date, At: site.CoreAddress(tank.ID, core.Station, core.Date) + "/drawn.jpg",
				Text: "Photo of " + words.CoreTitle(core) + ", with its layers drawn on it. The picture of the core tells the same in words.",
			})
		}
	}
	return list
}

// pair is two photos of a station laid over each other.
type pair struct {
	Station       string
	Days          []layers.Date // that have a photo, the newest first
	Before, After pane
	Here          string // the address of the page
	Change        string // the address of the picture of the change
}

// pane is a strip's picture at the size that it is shown in.
type pane struct {
	Date          layers.Date
	At            string // its address
	Width, Height int    // CSS pixels
}

// paneScale is the size of strips that are laid over each other, CSS pixels a millimetre (assumption: a strip of 40 mm
// fits a phone).
const paneScale = 8.0

func newPane(tank string, s reports.Strip) pane {
	return pane{s.Date, stripAddress(tank, s), int(math.Round(s.WidthMM * paneScale)), int(math.Round((s.AboveMM + s.DepthMM) * paneScale))}
}

func stripAddress(tank string, s reports.Strip) string {
	return site.CoreAddress(tank, s.Station, s.Date) + "/strip.jpg"
}

// pairs are two photos of each station that has as many: the newest two, or those that the query names.
func pairs(tank string, strips []reports.Strip, query url.Values) (list []pair) {
	stations := map[string][]reports.Strip{}
	for _, s := range strips {
		stations[s.Station] = append(stations[s.Station], s)
	}
	for _, station := range slices.Sorted(maps.Keys(stations)) {
		of := stations[station]
		if len(of) < 2 {
			continue
		}
		slices.SortFunc(of, func(a, b reports.Strip) int { return cmp.Compare(b.Date, a.Date) })
		before, after := of[1], of[0]
		if query.Get("station") == station {
			first, second := dayOf(of, query.Get("before")), dayOf(of, query.Get("after"))
			if first != nil && second != nil && first.Date != second.Date {
				before, after = *first, *second
			}
		}
		if before.Date > after.Date {
			before, after = after, before
		}
		p := pair{Station: station, Before: newPane(tank, before), After: newPane(tank, after), Here: site.TankAddress(tank)}
		for _, s := range of {
			p.Days = append(p.Days, s.Date)
		}
		chosen := url.Values{"station": {station}, "before": {before.Date.String()}, "after": {after.Date.String()}}
		p.Change = p.Here + "/change.svg?" + chosen.Encode()
		list = append(list, p)
	}
	return list
}

// dayOf is the strip of a day in a list; nil: there is none.
func dayOf(list []reports.Strip, day string) *reports.Strip {
	if i := slices.IndexFunc(list, func(s reports.Strip) bool { return s.Date.String() == day }); i >= 0 {
		return &list[i]
	}
	return nil
}

// changePolicy lets the picture of a change show the photos that it holds.
const changePolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"

// change answers with the picture of what changed between two photos of a station.
func (s *server) change(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	var cores [2]layers.Core
	for i, day := range []string{r.FormValue("before"), r.FormValue("after")} {
		if cores[i], err = site.CoreOf(tank, r.FormValue("station"), day); err != nil {
			return err
		}
	}
	change, err := s.Store.Change(r.Context(), tank, cores[0], cores[1])
	if err != nil {
		return err
	}
	w.Header().Set("Content-Security-Policy", changePolicy)
	w.Header().Set("Content-Type", "image/svg+xml")
	return figure.Change(change, s.Units).WriteStyledSVG(w, page.Inks())
}

// years are the strips of a tank's photos side by side; empty: there are none.
func (s *server) years(record reports.Timeline, strips []reports.Strip) template.HTML {
	if len(strips) == 0 || len(record.Stations) == 0 {
		return ""
	}
	shown := slices.Clone(strips)
	for i, strip := range shown {
		shown[i].Address = stripAddress(record.ID, strip)
	}
	return site.Inline(timeline.Years(record, shown, timeline.Options{Units: s.Units}))
}

// photoOf answers with a picture of a core's photo.
func (s *server) photoOf(make func(context.Context, layers.Tank, layers.Core) ([]byte, error)) site.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
		if err != nil {
			return err
		}
		core, err := site.CoreOf(tank, r.PathValue("station"), r.PathValue("date"))
		if err != nil {
			return err
		}
		picture, err := make(r.Context(), tank, core)
		if err != nil {
			return err
		}
		w.Header().Set("Content-Type", "image/jpeg")
		_, err = w.Write(picture)
		return err
	}
}
