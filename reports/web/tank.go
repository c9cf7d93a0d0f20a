package web

import (
	"cmp"
	"html/template"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/figure/timeline"
	"panecore/reports/judge"
	"panecore/reports/web/forms"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

type tankView struct {
	reports.Tank
	SetUp    layers.Date
	Vessel   string // in words; empty: not known
	Here     string // the tank's address
	Urgent   bool   // the water comes first
	Settle   []forms.SettleView
	Columns  []picture
	Shots    []shot
	Years    template.HTML // empty: no photo is kept
	Pairs    []pair
	Left     []string      // stations whose newest core is too old to count
	Timeline template.HTML // empty: no core has been read
	Readings site.Folded[readingRow]
	Water    forms.Records
	Events   forms.Records
}

type picture struct {
	Title string
	SVG   template.HTML
}

// readingRow is a core in the list.
type readingRow struct {
	Station  string
	Date     layers.Date
	Layers   string
	Seen     []string
	Note     string
	Photo    bool
	Kept     bool   // its photo is kept
	Doubtful bool   // the photo is not reliable, and the keeper has not said that the reading is right
	Here     string // its own address
	Mark     string // its fingerprint
}

func (s *server) tank(w http.ResponseWriter, r *http.Request) error {
	return s.showTank(w, r, http.StatusOK, nil, nil)
}

// showTank shows a tank's page with what was typed into its forms.
func (s *server) showTank(w http.ResponseWriter, r *http.Request, status int, water, event *forms.Form) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	settings, err := s.Settings(r)
	if err != nil {
		return err
	}
	strips, err := s.Store.Strips(r.Context(), tank)
	if err != nil {
		return err
	}
	record := judge.NewRecord(tank, settings)
	v := tankView{
		Tank: record.Tank, SetUp: tank.SetUp, Vessel: vesselWords(tank.Vessel, s.Units), Here: site.TankAddress(tank.ID),
		Urgent: record.Tank.Advice != nil && len(record.Tank.Advice.WaterFirst) > 0,
		Settle: forms.SettleViews(tank, record.Tank.Questions), Readings: site.Fold(s.readingRows(tank, strips)), Water: s.forms.WaterRecords(tank, water), Events: s.forms.EventRecords(tank, event),
	}
	for _, line := range record.Timeline.Stations {
		if !slices.ContainsFunc(record.Tank.Cores, func(c reports.Core) bool { return c.Station == line.Station }) {
			v.Left = append(v.Left, line.Station)
		}
	}
	for _, core := range record.Tank.Cores {
		f := figure.Core(core, figure.CoreOptions{Units: s.Units, Penetration: record.Tank.Penetration})
		v.Columns = append(v.Columns, picture{f.Title, site.Inline(f)})
	}
	v.Shots, v.Years, v.Pairs = s.shots(record.Tank, strips), s.years(record.Timeline, strips), pairs(tank.ID, strips, r.URL.Query())
	if len(record.Timeline.Stations) > 0 {
		v.Timeline = site.Inline(timeline.Figure(record.Timeline, timeline.Options{Units: s.Units}))
	}
	return s.Show(w, r, status, "tank", site.Frame{Title: words.TankName(tank.ID, tank.Name), Script: "tank.js", Style: "form.css tank.css"}, v)
}

// vesselWords give a vessel's measurements and how much water it holds above the bed.
func vesselWords(v *layers.Vessel, u layers.Units) string {
	if v == nil {
		return ""
	}
	litres, decimals := 1000*v.WaterM3(), 0 // by the definition of the litre
	if litres < 9.95 {                      // tenths below 10, as lengths have
		decimals = 1
	}
	return words.Vessel(*v, u) + ", " + words.Number(litres, decimals) + " L"
}

func (s *server) readingRows(tank layers.Tank, strips []reports.Strip) (rows []readingRow) {
	cores := slices.SortedStableFunc(slices.Values(tank.Cores), func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(b.Station, a.Station))
	})
	for _, core := range cores {
		rows = append(rows, readingRow{
			Station: core.Station, Date: core.Date, Layers: s.LayersWords(core), Seen: words.Signs(core), Note: core.Note,
			Photo: core.Photo != nil, Kept: slices.ContainsFunc(strips, stripOf(core.Station, core.Date)), Doubtful: core.Photo != nil && core.Photo.Unreliable && !core.Sure, Here: site.CoreAddress(tank.ID, core.Station, core.Date), Mark: site.CoreMark(core),
		})
	}
	return rows
}
