package reader

import (
	"context"
	"errors"
	"fmt"
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
	photo.of.Store(&coreAt{tank.ID, core.Station, core.Date})
	s.drafts.keepState(photo)
	query := url.Values{"tank": {tank.ID}, "station": {core.Station}}
	http.Redirect(w, r, addressOf(photo.id)+"?"+query.Encode(), http.StatusSeeOther)
	return nil
}

// leave removes the core that a photo was opened to amend if it was saved as one of another place or day, and says so.
func (s *room) leave(ctx context.Context, photo *draft, saved coreAt) (said string, err error) {
	of := photo.of.Load()
	if of == nil || *of == saved {
		return "", nil
	}
	err = s.Store.RemoveCore(ctx, of.tank, of.station, of.date)
	if errors.Is(err, site.ErrMissing) { // removed elsewhere meanwhile
		return "", nil
	}
	return fmt.Sprintf(" It is no longer that of %s on %s.", of.station, of.date), err
}
