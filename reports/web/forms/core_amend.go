package forms

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

func (s *Room) editCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	return s.showCore(w, r, http.StatusOK, coreForm{Form: newForm(s.coreTyped(core)), tank: tank, stored: &core})
}

// coreTyped are the fields of a core as its form holds them.
func (s *Room) coreTyped(core layers.Core) url.Values {
	typed := url.Values{
		"station": {core.Station}, "date": {core.Date.String()}, "lit": {layers.YesNo(core.Lit)}, "note": {core.Note}, "seen": {site.CoreMark(core)},
	}
	for _, sign := range core.Signs {
		typed.Add("sign", string(sign))
	}
	for i, l := range core.Layers {
		addRow(typed, typedRow{
			thickness: lengthText(s.Units, l.ThicknessMM), hex: l.Color.String(), band: l.Band.String(), note: l.Note, was: fmt.Sprint(i),
		})
	}
	return typed
}

func (s *Room) amendCore(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedCore(r)
	if err != nil {
		return err
	}
	stored, err := site.CoreOf(h.tank, r.PathValue("station"), r.PathValue("date"))
	if errors.Is(err, site.ErrMissing) && h.text("seen") != "" { // removed since the form was opened
		h.conflict("The core was removed", ". Saving again files it as a new reading.")
		h.typed.Del("seen")
		return s.showCore(w, r, h.status, h)
	}
	if err != nil {
		return err
	}
	h.stored = &stored
	if s.rearranged(&h) {
		return s.showCore(w, r, cmp.Or(h.status, http.StatusOK), h)
	}
	core, rows := s.readCore(h)
	event, err := s.ask(r, &h, &core)
	if err != nil {
		return err
	}
	now := site.CoreMark(stored)
	if !h.Failed() && site.CoreMark(core) == now {
		what := "Nothing was changed: the reading is as it was."
		if h.text("seen") != now { // it was sent twice
			what = amendedWords(stored, core)
		}
		site.Say(w, r, site.TankAddress(h.tank.ID), what+s.EnterBeside(r, h.tank.ID, event))
		return nil
	}
	if !h.Failed() && h.text("seen") != now {
		h.conflict("The core was changed", ", next to the core as it is now ("+s.coreWords(stored)+"). "+
			"Saving again replaces it with yours; the other is kept among the former values.")
		h.typed.Set("seen", now)
		h.asked = nil // one thing at a time: it is asked when this is saved again
	}
	if h.asked != nil {
		return s.showCore(w, r, http.StatusOK, h)
	}
	if !h.Failed() {
		h.refuse(s.Store.AmendCore(r.Context(), h.tank.ID, stored.Station, stored.Date, core), coreField(rows))
	}
	if h.Failed() {
		return s.showCore(w, r, h.status, h)
	}
	site.Say(w, r, site.TankAddress(h.tank.ID), amendedWords(stored, core)+s.EnterBeside(r, h.tank.ID, event))
	return nil
}

func (s *Room) coreWords(core layers.Core) string {
	parts := append([]string{s.LayersWords(core)}, words.Signs(core)...)
	if core.Note != "" {
		parts = append(parts, "note: "+core.Note)
	}
	return strings.Join(parts, "; ")
}

// amendedWords say that a core was amended, and how many edges were dropped.
func amendedWords(former, core layers.Core) string {
	text := fmt.Sprintf("The reading of %s, %s is amended.", core.Station, core.Date)
	if gone := edgesOf(former) - edgesOf(core); gone == 1 {
		text += " One edge that was traced in the photo was dropped: the layer's foot moved."
	} else if gone > 1 {
		text += fmt.Sprintf(" %d edges that were traced in the photo were dropped: the layers' feet moved.", gone)
	}
	return text
}

func edgesOf(core layers.Core) (n int) {
	for _, l := range core.Layers {
		if l.Edge != nil {
			n++
		}
	}
	return n
}

func (s *Room) removeCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	if r.PostFormValue("seen") != site.CoreMark(core) {
		return site.WithKind(site.ErrTaken, errors.New("the core was changed elsewhere, in another window or by a command, since this page was opened: "+
			"nothing was removed; look at it as it is now"))
	}
	if err := s.Store.RemoveCore(r.Context(), tank.ID, core.Station, core.Date); err != nil {
		return err
	}
	site.Say(w, r, site.TankAddress(tank.ID), fmt.Sprintf("The reading of %s, %s is removed.", core.Station, core.Date))
	return nil
}
