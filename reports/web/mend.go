package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
)

// settleView is a question on a tank's page that only its keeper can settle.
type settleView struct {
	Text    string
	Here    string // the address of the core that it is about
	Seen    string // the core's fingerprint
	Answers []settleAnswer
}

// settleAnswer is an answer that a button gives, or a link where it leads to the core's form.
type settleAnswer struct {
	reports.Mend
	Do      string // what the button sends
	Link    bool
	Becomes string // fingerprint of the core with that answer, by which a second send is told
}

// settleViews are a tank's questions as its page puts them.
func settleViews(tank layers.Tank, list []reports.Question) (views []settleView) {
	for _, q := range list {
		core, err := coreOf(tank, q.Station, q.Date.String())
		if err != nil { // it was removed in between
			continue
		}
		v := settleView{Text: q.Text, Here: coreAddress(tank.ID, core.Station, core.Date), Seen: coreMark(core)}
		for _, m := range q.Mends {
			answer := settleAnswer{Mend: m, Do: answerText(m), Link: m.Slip == reports.SlipElsewhere}
			if mended, err := mendedCore(core, m); err == nil {
				answer.Becomes = coreMark(mended)
			}
			v.Answers = append(v.Answers, answer)
		}
		views = append(views, v)
	}
	return views
}

// mendedCore is a core as an answer has it, as the commands would: thicknesses that are
// mended were read by eye, and a name is the keeper's own.
func mendedCore(core layers.Core, m reports.Mend) (layers.Core, error) {
	former := core
	switch {
	case m.Slip == reports.SlipNone:
		core.Sure = true
		return core, nil
	case m.Slip == reports.SlipName && m.Layer >= 0 && m.Layer < len(core.Layers):
		core.Layers = slices.Clone(core.Layers)
		core.Layers[m.Layer].Band = m.Band
	case m.ChangesLayers():
		list, err := m.Mended(core.Layers)
		if err != nil {
			return core, Fault(ErrInput, err)
		}
		core.Layers, core.Photo = list, nil
	case m.Event(core.Date) != nil:
		return core, nil
	default:
		return core, Fault(ErrInput, fmt.Errorf("found the answer %q on layer %d, want one that the page offers", m.Slip, m.Layer+1))
	}
	core.Sure = core.StaysSure(former)
	return core, nil
}

// mendCore gives an answer to a question about a stored core.
func (s *server) mendCore(w http.ResponseWriter, r *http.Request) error {
	s.amending.Lock()
	defer s.amending.Unlock()
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	m, err := parseAnswer(r.PostFormValue("do"))
	if err != nil {
		return err
	}
	event := m.Event(core.Date)
	switch now := coreMark(core); {
	case event != nil && holdsEvent(tank, *event), event == nil && r.PostFormValue("becomes") == now: // it was sent twice
	case r.PostFormValue("seen") != now:
		return Fault(ErrTaken, errors.New("the core was changed elsewhere, in another window or by a command, since this page was opened: "+
			"nothing was done; look at it as it stands now"))
	default:
		if err := s.stillAsked(r, tank, core, m); err != nil {
			return err
		}
		if err := s.mend(r, tank, core, m, event); err != nil {
			return err
		}
	}
	say(w, r, addressOf(tank.ID), settledWords(core, m, event))
	return nil
}

// stillAsked gives an error where what was entered meanwhile has settled the question that
// an answer is of. A layer may be named at any time.
func (s *server) stillAsked(r *http.Request, tank layers.Tank, core layers.Core, m reports.Mend) error {
	own, err := s.Store.Own(r.Context())
	if err != nil || m.Slip == reports.SlipName || offers(s.question(tank, core, own(tank.ID)), answerText(m)) {
		return err
	}
	return Fault(ErrTaken, errors.New("that is not asked any more, since the record was changed elsewhere, in another window or by a command: "+
		"nothing was done; look at it as it stands now"))
}

// mend puts an answer into the record.
func (s *server) mend(r *http.Request, tank layers.Tank, core layers.Core, m reports.Mend, event *layers.Event) error {
	if event != nil {
		return s.enter(r, tank.ID, *event)
	}
	mended, err := mendedCore(core, m)
	if err != nil {
		return err
	}
	return s.Store.AmendCore(r.Context(), tank.ID, core.Station, core.Date, mended)
}

// settledWords say what an answer did.
func settledWords(core layers.Core, m reports.Mend, event *layers.Event) string {
	title := fmt.Sprintf("The reading of %s, %s", core.Station, core.Date)
	switch {
	case event != nil:
		return title + " stays as it is: " + enteredWords(*event) + "."
	case m.Slip == reports.SlipNone:
		return title + " counts as it stands: you are sure of it."
	case m.Slip == reports.SlipName:
		return fmt.Sprintf("%s is amended: layer %d is %s, by your word.", title, m.Layer+1, m.Band)
	}
	return title + " is amended: " + mendedWords(m) + "."
}
