package reader

import (
	"net/http"
	"net/url"

	"panecore/reports/web/site"
)

// reopen opens the photo that a core was read from, with the core's marks, edges and names.
func (s *room) reopen(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	core, err := site.CoreOf(tank, r.PathValue("station"), r.PathValue("date"))
	if err != nil {
		return err
	}
	content, err := s.Store.PhotoFile(r.Context(), tank, core)
	if err != nil {
		return err
	}
	photo := s.drafts.add(content)
	if q := photo.state.Load(); q != nil && (q.Tank != tank.ID || q.Station != core.Station || q.Date != core.Date.String()) {
		photo.state.CompareAndSwap(q, nil) // it was open for another core
	}
	of := url.Values{"tank": {tank.ID}, "station": {core.Station}}
	http.Redirect(w, r, addressOf(photo.id)+"?"+of.Encode(), http.StatusSeeOther)
	return nil
}
