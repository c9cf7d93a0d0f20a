package web

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/words"
)

// tankRoutes are the addresses of a tank and of what is told of it.
func (s *server) tankRoutes() map[string]handler {
	return map[string]handler{
		"GET /tank/new":           s.newTank,
		"POST /tank/new":          s.addTank,
		"GET /tank/{id}":          s.tank,
		"GET /tank/{id}/edit":     s.editTank,
		"POST /tank/{id}/edit":    s.amendTank,
		"GET /tank/{id}/rehearse": s.rehearse,
		"GET /tank/{id}/report":   s.report,
	}
}

// tankView is a tank's page.
type tankView struct {
	reports.Tank
	SetUp    layers.Date
	Vessel   string // in words; empty: not told
	Here     string // the tank's address
	Urgent   bool   // the water comes first
	Settle   []settleView
	Columns  []picture
	Left     []string      // stations whose newest core is too old to count
	Timeline template.HTML // empty: no core has been read
	Readings folded[readingRow]
	Water    records
	Events   records
}

// picture is a figure as it stands in a page.
type picture struct {
	Title string
	SVG   template.HTML
}

// folded is a list of which the newest are shown and the rest can be unfolded.
type folded[Row any] struct{ Newest, Older []Row }

// mostShown is how many rows of a list are shown unfolded (assumption: two stations over
// three months).
const mostShown = 6

// fold puts the newest rows first and folds the rest away.
func fold[Row any](rows []Row) folded[Row] {
	slices.Reverse(rows)
	n := min(mostShown, len(rows))
	return folded[Row]{rows[:n], rows[n:]}
}

// readingRow is a core in the list of readings.
type readingRow struct {
	Station  string
	Date     layers.Date
	Layers   string
	Seen     []string
	Note     string
	Photo    bool
	Doubtful bool   // read from a photo that is not reliable, and its keeper is not sure of it
	Here     string // its own address
	Mark     string // its fingerprint
}

// records are a list of what a keeper entered, and the form for more.
type records struct {
	Rows folded[recordRow]
	Form *form
	Add  []field
}

// recordRow is an entry in words; Mark says which it is when it is to be removed.
type recordRow struct {
	Head, Text string
	Over       []string // limits that are passed
	Note       string
	Mark       string
}

func (s *server) tank(w http.ResponseWriter, r *http.Request) error {
	return s.showTank(w, r, http.StatusOK, newForm(nil), newForm(nil))
}

// showTank shows a tank's page with what was typed into its forms.
func (s *server) showTank(w http.ResponseWriter, r *http.Request, status int, water, event *form) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	settings, err := s.settings(r)
	if err != nil {
		return err
	}
	record := judge.NewRecord(tank, settings)
	v := tankView{
		Tank: record.Tank, SetUp: tank.SetUp, Vessel: vesselWords(tank.Vessel, s.Units), Here: addressOf(tank.ID),
		Urgent: record.Tank.Advice != nil && len(record.Tank.Advice.WaterFirst) > 0,
		Settle: settleViews(tank, record.Tank.Questions), Readings: fold(s.readingRows(tank)), Water: s.waterRecords(tank, water), Events: s.eventRecords(tank, event),
	}
	for _, line := range record.Timeline.Stations {
		if !slices.ContainsFunc(record.Tank.Cores, func(c reports.Core) bool { return c.Station == line.Station }) {
			v.Left = append(v.Left, line.Station)
		}
	}
	for _, core := range record.Tank.Cores {
		f := figure.Column(core, figure.ColumnOptions{Units: s.Units, Penetration: record.Tank.Penetration})
		v.Columns = append(v.Columns, picture{f.Title, inline(f)})
	}
	if len(record.Timeline.Stations) > 0 {
		v.Timeline = inline(figure.Timeline(record.Timeline, figure.TimelineOptions{Units: s.Units}))
	}
	return s.show(w, r, status, "tank", frame{Title: words.TankName(tank.ID, tank.Name), Script: "tank.js", Style: "form.css tank.css"}, v)
}

// vesselWords tell a vessel's measures and how much water stands above the bed.
func vesselWords(v *layers.Vessel, u layers.Units) string {
	if v == nil {
		return ""
	}
	measures := u.Number(v.LengthMM) + " × " + u.Length(v.WidthMM)
	if v.Shape == layers.Cylinder {
		measures = u.Length(v.DiameterMM) + " across"
	}
	litres, decimals := 1000*v.WaterM3(), 0 // by the definition of the litre
	if litres < 9.95 {                      // tenths below 10, as lengths have
		decimals = 1
	}
	return fmt.Sprintf("%s, water %s deep, %s L", measures, u.Length(v.WaterDepthMM), words.Number(litres, decimals))
}

func (s *server) readingRows(tank layers.Tank) (rows []readingRow) {
	for _, core := range byDay(tank.Cores) {
		rows = append(rows, readingRow{
			Station: core.Station, Date: core.Date, Layers: s.layersWords(core), Seen: words.Signs(core), Note: core.Note,
			Photo: core.Photo != nil, Doubtful: core.Photo != nil && core.Photo.Unreliable && !core.Sure, Here: coreAddress(tank.ID, core.Station, core.Date), Mark: coreMark(core),
		})
	}
	return rows
}

// byDay are cores by date and station.
func byDay(cores []layers.Core) []layers.Core {
	return slices.SortedStableFunc(slices.Values(cores), func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(b.Station, a.Station))
	})
}

// layersWords say how much of a core was seen.
func (s *server) layersWords(core layers.Core) string {
	if len(core.Layers) == 1 {
		return "1 layer, " + s.Units.Length(core.DepthMM())
	}
	return fmt.Sprintf("%d layers, %s", len(core.Layers), s.Units.Length(core.DepthMM()))
}

// coreAddress is the path of a core's own page.
func coreAddress(tank, station string, date layers.Date) string {
	return addressOf(tank) + "/core/" + url.PathEscape(station) + "/" + date.String()
}

// reportPolicy is what the printable page may load: nothing beside itself.
const reportPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"

func (s *server) report(w http.ResponseWriter, r *http.Request) error {
	text, err := s.Store.Report(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	w.Header().Set("Content-Security-Policy", reportPolicy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err = w.Write(text)
	return err
}
