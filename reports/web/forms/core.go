package forms

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"

	"panecore/layers"
	"panecore/reports/web/site"
)

// coreForm is a core being typed.
type coreForm struct {
	*Form
	tank   layers.Tank
	stored *layers.Core // the one to amend; nil: a new one
	asked  *asked       // at the form's head; nil: nothing
}

func (s *Room) newCore(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	station := r.URL.Query().Get("station")
	if station == "" {
		station = nextStation(tank, s.Today())
	}
	typed := url.Values{"station": {station}, "date": {s.Today().String()}}
	h := coreForm{Form: newForm(typed), tank: tank}
	rows := leastRows
	if former, ok := h.former(s.Today()); ok {
		typed.Set("lit", layers.YesNo(former.Lit))
		rows = max(rows, len(former.Layers))
	}
	h.addRows(rows)
	return s.showCore(w, r, http.StatusOK, h)
}

// nextStation is where a tank is read next on a day: at a station that was not yet.
func nextStation(tank layers.Tank, day layers.Date) string {
	stations := tank.Stations()
	for _, station := range stations {
		if _, err := site.CoreOf(tank, station, day.String()); err != nil {
			return station
		}
	}
	return append(stations, "front")[0]
}

func (s *Room) addCore(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedCore(r)
	if err != nil {
		return err
	}
	if s.rearranged(&h) {
		return s.showCore(w, r, cmp.Or(h.status, http.StatusOK), h)
	}
	core, rows := s.readCore(h)
	event, err := s.ask(r, &h, &core)
	switch {
	case err != nil:
		return err
	case h.asked != nil:
		return s.showCore(w, r, http.StatusOK, h)
	}
	if !h.Failed() {
		err := s.Store.AddCore(r.Context(), h.tank.ID, core)
		if errors.Is(err, site.ErrTaken) && s.holds(r, h.tank.ID, core) {
			err = nil // it was sent twice
		}
		h.refuse(err, coreField(rows))
	}
	if h.Failed() {
		return s.showCore(w, r, h.status, h)
	}
	what := fmt.Sprintf("The reading of %s, %s is saved.", core.Station, core.Date)
	if known := h.alike(); known != "" {
		what += " It is a different station from " + known + ": amend the reading if it is the same place."
	}
	site.Say(w, r, site.TankAddress(h.tank.ID), what+s.EnterBeside(r, h.tank.ID, event))
	return nil
}

// postedCore is what was typed of a core.
func (s *Room) postedCore(r *http.Request) (h coreForm, err error) {
	if h.Form, err = postedForm(r); err != nil {
		return h, err
	}
	h.tank, err = s.Store.Tank(r.Context(), r.PathValue("id"))
	return h, err
}

// holds reports whether the store has a core just as it is typed.
func (s *Room) holds(r *http.Request, id string, core layers.Core) bool {
	tank, err := s.Store.Tank(r.Context(), id)
	if err != nil {
		return false
	}
	stored, err := site.CoreOf(tank, core.Station, core.Date.String())
	return err == nil && site.CoreMark(stored) == site.CoreMark(core)
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
func (s *Room) core(r *http.Request) (tank layers.Tank, core layers.Core, err error) {
	if tank, err = s.Store.Tank(r.Context(), r.PathValue("id")); err != nil {
		return tank, core, err
	}
	core, err = site.CoreOf(tank, r.PathValue("station"), r.PathValue("date"))
	return tank, core, err
}
