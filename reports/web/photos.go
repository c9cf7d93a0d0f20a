package web

import (
	"context"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
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
