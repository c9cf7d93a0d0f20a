package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"panecore/reports/web/site"
)

// undo takes back the change that the button names, and returns to the page with the button if
// that still exists.
func (s *server) undo(w http.ResponseWriter, r *http.Request) error {
	change, err := strconv.ParseInt(r.PostFormValue("change"), 10, 64)
	if err != nil || change <= 0 {
		return site.WithKind(site.ErrInput, errors.New("found no change to undo, want the one on the button"))
	}
	what, err := s.Store.Undo(r.Context(), change)
	if err != nil {
		return err
	}
	to := within(r.PostFormValue("to"))
	if id, part := tankOf(to); id != "" {
		_, err := s.Store.Tank(r.Context(), id)
		switch {
		case errors.Is(err, site.ErrMissing):
			to = "/"
		case part == "core": // which may be gone
			to = site.TankAddress(id)
		}
	}
	site.Say(w, r, to, "Undone: "+what)
	return nil
}

// within is an address of our own pages; the overview, if to leads elsewhere.
func within(to string) string {
	at, err := url.Parse(to)
	path := strings.HasPrefix(to, "/") && !strings.HasPrefix(to, "//") && !strings.Contains(to, "\\")
	if err != nil || at.Host != "" || !path {
		return "/"
	}
	return to
}

// tankOf is the tank in an address, and which of the tank's pages it is.
func tankOf(to string) (id, part string) {
	at, err := url.Parse(to)
	if err != nil {
		return "", ""
	}
	parts := strings.Split(at.EscapedPath(), "/") // the first is empty
	if len(parts) < 3 || parts[1] != "tank" || parts[2] == "new" && len(parts) == 3 {
		return "", ""
	}
	if id, err = url.PathUnescape(parts[2]); err != nil {
		return "", ""
	}
	if len(parts) > 3 {
		part = parts[3]
	}
	return id, part
}
