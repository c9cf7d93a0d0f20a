package reader

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports/web/site"
)

// mostEnded is of how many drafts it is known how they ended (assumption: those that tabs may
// still be open on).
const mostEnded = 64

// A goneError is the draft that no longer exists.
type goneError struct {
	id  string
	why string // how it ended, and what becomes of later marks
	to  string // the address of what was saved; empty: nothing
}

func (e *goneError) Error() string {
	return "this photo is no longer here: " + e.why
}

func (e *goneError) Unwrap() error { return site.ErrMissing }

// savedAs is how a draft ends that was saved.
func savedAs(id string, tank layers.Tank, core layers.Core) *goneError {
	return &goneError{id, fmt.Sprintf("it was saved as the reading of %s on %s, perhaps in another tab. What was marked here and not in that tab is lost", core.Station, core.Date),
		site.CoreAddress(tank.ID, core.Station, core.Date)}
}

// thrownAway is how a draft ends that the keeper did not want.
func thrownAway(id string) *goneError {
	return &goneError{id, "it was thrown away, perhaps in another tab, with all that was marked on it. Choose it again if you want it", ""}
}

// goneOf is the draft of an id that no longer exists. The list must be locked.
func (d *drafts) goneOf(id string) *goneError {
	if i := slices.IndexFunc(d.ended, func(end *goneError) bool { return end.id == id }); i >= 0 {
		return d.ended[i]
	}
	return &goneError{id, fmt.Sprintf("perhaps %d newer photos were opened. What was marked on it is lost. Choose it again", mostDrafts), ""}
}

// goneAnswer tells a script that its photo is gone.
func goneAnswer(w http.ResponseWriter, e *goneError) {
	site.WriteJSON(w, http.StatusNotFound, struct {
		Error string `json:"error"`
		To    string `json:"to,omitempty"`
	}{e.Error(), e.to})
}

// showGone shows that a photo is gone instead of its page.
func (s *room) showGone(w http.ResponseWriter, r *http.Request, err error) error {
	var gone *goneError
	if !errors.As(err, &gone) {
		return err
	}
	return s.Show(w, r, http.StatusNotFound, "photo-gone", site.Frame{Title: "This photo is no longer here"}, struct{ Why, To string }{gone.Error(), gone.to})
}
