package web

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"panecore/layers"
)

// handRoutes are the addresses of readings by hand.
func (s *server) handRoutes() map[string]handler {
	return map[string]handler{
		"GET /tank/{id}/read":                          s.newCore,
		"POST /tank/{id}/read":                         s.addCore,
		"POST /tank/{id}/preview":                      s.preview,
		"GET /tank/{id}/core/{station}/{date}":         s.editCore,
		"POST /tank/{id}/core/{station}/{date}":        s.amendCore,
		"POST /tank/{id}/core/{station}/{date}/remove": s.removeCore,
		"POST /tank/{id}/core/{station}/{date}/mend":   s.mendCore,
	}
}

// hand is a core being typed.
type hand struct {
	*form
	tank   layers.Tank
	stored *layers.Core // the one that is amended; nil: a new one
	asked  *asked       // what stands at the form's head; nil: nothing is asked
}

func (s *server) newCore(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	station := r.URL.Query().Get("station")
	if station == "" {
		station = nextStation(tank, s.Today())
	}
	typed := url.Values{"station": {station}, "date": {s.Today().String()}}
	h := hand{form: newForm(typed), tank: tank}
	rows := leastRows
	if former, ok := h.former(s.Today()); ok {
		typed.Set("lit", yesNo(former.Lit))
		rows = max(rows, len(former.Layers))
	}
	h.addRows(rows)
	return s.showHand(w, r, http.StatusOK, h)
}

// nextStation is where a tank is read next on a day: at a station that was not yet.
func nextStation(tank layers.Tank, day layers.Date) string {
	stations := tank.Stations()
	for _, station := range stations {
		if _, err := coreOf(tank, station, day.String()); err != nil {
			return station
		}
	}
	return append(stations, "front")[0]
}

func (s *server) addCore(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedHand(r)
	if err != nil {
		return err
	}
	if s.rearranged(&h) {
		return s.showHand(w, r, cmp.Or(h.status, http.StatusOK), h)
	}
	core, rows := s.readCore(h)
	event, err := s.ask(r, &h, &core)
	switch {
	case err != nil:
		return err
	case h.asked != nil:
		return s.showHand(w, r, http.StatusOK, h)
	}
	if !h.Failed() {
		err := s.Store.AddCore(r.Context(), h.tank.ID, core)
		if errors.Is(err, ErrTaken) && s.holds(r, h.tank.ID, core) {
			err = nil // it was sent twice
		}
		h.refuse(err, coreField(rows))
	}
	if h.Failed() {
		return s.showHand(w, r, h.status, h)
	}
	what := fmt.Sprintf("The reading of %s, %s is kept.", core.Station, core.Date)
	if known := h.alike(); known != "" {
		what += " It is a station of its own beside " + known + ": amend the reading if it is the same place."
	}
	say(w, r, addressOf(h.tank.ID), what+s.enterBeside(r, h.tank.ID, event))
	return nil
}

// postedHand is what was typed of a core.
func (s *server) postedHand(r *http.Request) (h hand, err error) {
	if h.form, err = postedForm(r); err != nil {
		return h, err
	}
	h.tank, err = s.Store.Tank(r.Context(), r.PathValue("id"))
	return h, err
}

// holds reports whether the store has a core just as it is typed.
func (s *server) holds(r *http.Request, id string, core layers.Core) bool {
	tank, err := s.Store.Tank(r.Context(), id)
	if err != nil {
		return false
	}
	stored, err := coreOf(tank, core.Station, core.Date.String())
	return err == nil && coreMark(stored) == coreMark(core)
}

// coreField finds the field that holds a part of a core; its layers come from rows.
func coreField(rows []int) func(path string) string {
	return func(path string) string {
		switch path {
		case "date", "station", "note":
			return path
		case "layers":
			return nthName("thickness", 0)
		}
		var i int
		var part string
		if _, err := fmt.Sscanf(path, "layers[%d].%s", &i, &part); err != nil || i >= len(rows) {
			return ""
		}
		return nthName(map[string]string{"thickness_mm": "thickness", "hex": "hex", "band": "band", "note": "layer_note"}[part], rows[i])
	}
}

// core is the core that an address names.
func (s *server) core(r *http.Request) (tank layers.Tank, core layers.Core, err error) {
	if tank, err = s.Store.Tank(r.Context(), r.PathValue("id")); err != nil {
		return tank, core, err
	}
	core, err = coreOf(tank, r.PathValue("station"), r.PathValue("date"))
	return tank, core, err
}

func coreOf(tank layers.Tank, station, date string) (layers.Core, error) {
	i := slices.IndexFunc(tank.Cores, func(c layers.Core) bool { return c.Station == station && c.Date.String() == date })
	if i < 0 {
		return layers.Core{}, Fault(ErrMissing, fmt.Errorf("found no core %s %s of tank %q, want one that the logbook holds", station, date, tank.ID))
	}
	return tank.Cores[i], nil
}
