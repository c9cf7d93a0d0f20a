package forms

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
)

// SettleView is a question on a tank's page that only the keeper can settle.
type SettleView struct {
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
	Becomes string // fingerprint of the core with that answer, to recognize a second send
}

// SettleViews are a tank's questions as its page puts them.
func SettleViews(tank layers.Tank, list []reports.Question) (views []SettleView) {
	for _, q := range list {
		core, err := site.CoreOf(tank, q.Station, q.Date.String())
		if err != nil { // it was removed in between
			continue
		}
		v := SettleView{Text: q.Text, Here: site.CoreAddress(tank.ID, core.Station, core.Date), Seen: site.CoreMark(core)}
		for _, m := range q.Mends {
			answer := settleAnswer{Mend: m, Do: site.AnswerText(m), Link: m.Slip == reports.SlipElsewhere}
			if mended, err := mendedCore(core, m); err == nil {
				answer.Becomes = site.CoreMark(mended)
			}
			v.Answers = append(v.Answers, answer)
		}
		views = append(views, v)
	}
	return views
}

// mendedCore is a core as an answer has it, as the commands would: thicknesses that are
// changed were read by eye, and a name is the keeper's own.
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
			return core, site.WithKind(site.ErrInput, err)
		}
		core.Layers, core.Photo = list, nil
	case m.Event(core.Date) != nil:
		return core, nil
	default:
		return core, site.WithKind(site.ErrInput, fmt.Errorf("found the answer %q on layer %d, want one that the page offers", m.Slip, m.Layer+1))
	}
	core.Sure = core.StaysSure(former)
	return core, nil
}

// mendCore gives an answer to a question about a stored core.
func (s *Room) mendCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	m, err := parseAnswer(r.PostFormValue("do"))
	if err != nil {
		return err
	}
	event := m.Event(core.Date)
	switch now := site.CoreMark(core); {
	case event != nil && holdsEvent(tank, *event), event == nil && r.PostFormValue("becomes") == now: // it was sent twice
	case r.PostFormValue("seen") != now:
		return site.WithKind(site.ErrTaken, errors.New("the core was changed elsewhere, in another window or by a command, since this page was opened: "+
			"nothing was done; look at it as it is now"))
	default:
		if err := s.stillAsked(r, tank, core, m); err != nil {
			return err
		}
		if err := s.mend(r, tank, core, m, event); err != nil {
			return err
		}
	}
	site.Say(w, r, site.TankAddress(tank.ID), settledWords(core, m, event))
	return nil
}

// stillAsked gives an error where what was entered meanwhile has settled the question that
// an answer is of. A layer may be named at any time.
func (s *Room) stillAsked(r *http.Request, tank layers.Tank, core layers.Core, m reports.Mend) error {
	own, err := s.Store.Own(r.Context())
	if err != nil || m.Slip == reports.SlipName || site.Offers(s.Question(tank, core, own(tank.ID)), site.AnswerText(m)) {
		return err
	}
	return site.WithKind(site.ErrTaken, errors.New("this question no longer applies, since the record was changed elsewhere, in another window or by a command: "+
		"nothing was done; look at it as it is now"))
}

// mend puts an answer into the record.
func (s *Room) mend(r *http.Request, tank layers.Tank, core layers.Core, m reports.Mend, event *layers.Event) error {
	if event != nil {
		return s.Enter(r, tank.ID, *event)
	}
	mended, err := mendedCore(core, m)
	if err != nil {
		return err
	}
	return s.Store.AmendCore(r.Context(), tank.ID, core.Station, core.Date, mended)
}

func settledWords(core layers.Core, m reports.Mend, event *layers.Event) string {
	title := fmt.Sprintf("The reading of %s, %s", core.Station, core.Date)
	switch {
	case event != nil:
		return title + " stays as it is: " + site.EnteredWords(*event) + "."
	case m.Slip == reports.SlipNone:
		return title + " counts as it is: you said that it is right."
	case m.Slip == reports.SlipName:
		return fmt.Sprintf("%s is amended: layer %d is %s, as you say.", title, m.Layer+1, m.Band)
	}
	return title + " is amended: " + mendedWords(m) + "."
}
