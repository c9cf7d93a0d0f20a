package web

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"panecore/layers"
	"panecore/reports/words"
)

// coreMark is the fingerprint of a core.
func coreMark(core layers.Core) string {
	return fingerprint(layers.Tank{Cores: []layers.Core{core}})
}

func (s *server) editCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	return s.showHand(w, r, http.StatusOK, hand{form: newForm(s.coreTyped(core)), tank: tank, stored: &core})
}

// coreTyped are the fields of a core as its form holds them.
func (s *server) coreTyped(core layers.Core) url.Values {
	typed := url.Values{
		"station": {core.Station}, "date": {core.Date.String()}, "lit": {yesNo(core.Lit)}, "note": {core.Note}, "seen": {coreMark(core)},
	}
	for _, sign := range core.Signs {
		typed.Add("sign", string(sign))
	}
	for i, l := range core.Layers {
		addRow(typed, handTyped{
			thickness: lengthText(s.Units, l.ThicknessMM), hex: l.Color.String(), band: l.Band.String(), note: l.Note, was: fmt.Sprint(i),
		})
	}
	return typed
}

func (s *server) amendCore(w http.ResponseWriter, r *http.Request) error {
	s.amending.Lock()
	defer s.amending.Unlock()
	h, err := s.postedHand(r)
	if err != nil {
		return err
	}
	stored, err := coreOf(h.tank, r.PathValue("station"), r.PathValue("date"))
	if errors.Is(err, ErrMissing) && h.text("seen") != "" { // removed since the form was opened
		h.conflict("The core was removed elsewhere, in another window or by a command, since this form was opened. " +
			"Nothing was saved, and what you typed is still here. Saving again files it as a new reading.")
		h.typed.Del("seen")
		return s.showHand(w, r, h.status, h)
	}
	if err != nil {
		return err
	}
	h.stored = &stored
	if s.rearranged(&h) {
		return s.showHand(w, r, cmp.Or(h.status, http.StatusOK), h)
	}
	core, rows := s.readCore(h)
	event, err := s.ask(r, &h, &core)
	if err != nil {
		return err
	}
	now := coreMark(stored)
	if !h.Failed() && coreMark(core) == now {
		what := "Nothing was changed: the reading is as it was."
		if h.text("seen") != now { // it was sent twice
			what = amendedWords(stored, core)
		}
		say(w, r, addressOf(h.tank.ID), what+s.enterBeside(r, h.tank.ID, event))
		return nil
	}
	if !h.Failed() && h.text("seen") != now {
		h.conflict("The core was changed elsewhere, in another window or by a command, since this form was opened. " +
			"Nothing was saved, and what you typed is still here, beside the core as it stands now (" + s.coreWords(stored) + "). " +
			"Saving again puts yours in its place; the other is kept among the former values.")
		h.typed.Set("seen", now)
		h.asked = nil // one thing at a time: it is asked when this is saved again
	}
	if h.asked != nil {
		return s.showHand(w, r, http.StatusOK, h)
	}
	if !h.Failed() {
		h.refuse(s.Store.AmendCore(r.Context(), h.tank.ID, stored.Station, stored.Date, core), coreField(rows))
	}
	if h.Failed() {
		return s.showHand(w, r, h.status, h)
	}
	say(w, r, addressOf(h.tank.ID), amendedWords(stored, core)+s.enterBeside(r, h.tank.ID, event))
	return nil
}

// coreWords tell a core in short.
func (s *server) coreWords(core layers.Core) string {
	parts := append([]string{s.layersWords(core)}, words.Signs(core)...)
	if core.Note != "" {
		parts = append(parts, "note: "+core.Note)
	}
	return strings.Join(parts, "; ")
}

// conflict notes that the record is no longer what the form showed.
func (f *form) conflict(what string) { f.status, f.rest = http.StatusConflict, append(f.rest, what) }

// amendedWords say that a core was amended, and how many edges went with it.
func amendedWords(former, core layers.Core) string {
	text := fmt.Sprintf("The reading of %s, %s is amended.", core.Station, core.Date)
	if gone := edgesOf(former) - edgesOf(core); gone == 1 {
		text += " One edge that was traced in the photo is no longer told: the layer's foot moved."
	} else if gone > 1 {
		text += fmt.Sprintf(" %d edges that were traced in the photo are no longer told: the layers' feet moved.", gone)
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

func (s *server) removeCore(w http.ResponseWriter, r *http.Request) error {
	s.amending.Lock()
	defer s.amending.Unlock()
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	if r.PostFormValue("seen") != coreMark(core) {
		return Fault(ErrTaken, errors.New("the core was changed elsewhere, in another window or by a command, since this page was opened: "+
			"nothing was removed; look at it as it stands now"))
	}
	if err := s.Store.RemoveCore(r.Context(), tank.ID, core.Station, core.Date); err != nil {
		return err
	}
	say(w, r, addressOf(tank.ID), fmt.Sprintf("The reading of %s, %s is removed.", core.Station, core.Date))
	return nil
}
