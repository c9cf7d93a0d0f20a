package reader

import (
	"errors"
	"fmt"
	"net/http"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

type saveRequest struct {
	readRequest
	Replace bool   `json:"replace"` // the reading of that station and day
	Answer  string `json:"answer"`  // to the question; empty: none
	Asked   string `json:"asked"`   // fingerprint of the reading that the question was about
}

// saveQuestion is what to ask about a reading before it is saved.
type saveQuestion struct {
	Asked   string       `json:"asked"`
	Text    string       `json:"question"`
	Check   string       `json:"check"`
	Answers []saveAnswer `json:"answers"`
}

type saveAnswer struct {
	Answer string `json:"answer"`
	Label  string `json:"label"`
}

// save saves a reading with its photo, and drops the draft.
func (s *room) save(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	q, err := takeRequest[saveRequest](w, r)
	if err != nil {
		return refused(w, err)
	}
	if err := s.drafts.keep(photo, w, r, &q.readRequest); err != nil {
		return err
	}
	if err := q.missing(); err != nil {
		return refused(w, err)
	}
	asked := photo.found.Load().questions(&q.readRequest)
	task, err := s.task(r.Context(), &q.readRequest)
	if err != nil {
		return refused(w, err)
	}
	said, event, question := "", (*layers.Event)(nil), (*saveQuestion)(nil)
	err = s.readDraft(r.Context(), photo, task, func(result Result, shot Shot) error {
		if asked = append(asked, s.waterQuestion(&q.readRequest, result)...); len(asked) > 0 {
			return site.WithKind(site.ErrInput, errors.New("not saved, since this is still open: "+asked[0].Text+" Answer it below the photo"))
		}
		photo, err := shot.Kept()
		if err != nil {
			return err
		}
		if event, question = s.askSave(&q, task, &result.Core); question != nil {
			return nil
		}
		said = s.savedWords(result.PhotoCore, task.Core)
		return s.Store.FileCore(r.Context(), task.Tank.ID, result.Core, photo, q.Replace)
	})
	switch {
	case errors.Is(err, site.ErrMissing): // the tank, removed since
		return refused(w, inField("tank", errors.New(err.Error())))
	case errors.Is(err, site.ErrTaken):
		return site.WithKind(site.ErrTaken, fmt.Errorf("there is already a reading of %s on %s, not from this photo: choose another place or day, or replace it with this reading", task.Core.Station, task.Core.Date))
	case err != nil:
		return refused(w, err)
	case question != nil:
		site.WriteJSON(w, http.StatusConflict, question)
		return nil
	}
	left, err := s.leave(r.Context(), photo, coreAt{task.Tank.ID, task.Core.Station, task.Core.Date})
	if err != nil {
		return err
	}
	s.drafts.drop(photo.id, savedAs(photo.id, task.Tank, task.Core))
	site.Tell(w, r, said+left+s.EnterBeside(r, task.Tank.ID, event))
	site.WriteJSON(w, http.StatusOK, map[string]string{"to": site.TankAddress(task.Tank.ID)})
	return nil
}

// askSave is the question that a reading raises, unless the keeper has answered it: that the
// reading is right, which is noted in it, or that an event is missing, which is returned. An
// answer holds only for the reading that the question was about. A keeper who has confirmed
// the same layers before is not asked again.
func (s *room) askSave(q *saveRequest, task Task, core *layers.Core) (event *layers.Event, asks *saveQuestion) {
	if former, err := site.CoreOf(task.Tank, core.Station, core.Date.String()); err == nil {
		core.Sure = core.StaysSure(former)
	}
	mark, answer := site.CoreMark(*core), ""
	if q.Asked == mark {
		answer = q.Answer
	}
	if answer == string(reports.SlipNone) {
		core.Sure = true
	}
	found := s.Question(task.Tank, *core, task.Own)
	switch {
	case found == nil:
		return nil, nil
	case site.Offers(found, answer):
		if event = (reports.Mend{Slip: reports.Slip(answer)}).Event(core.Date); event != nil {
			return event, nil
		}
	}
	asks = &saveQuestion{Asked: mark, Text: found.Text, Check: whatToCheck(found)}
	for _, m := range found.Mends {
		if m.Slip == reports.SlipNone || m.Event(core.Date) != nil {
			asks.Answers = append(asks.Answers, saveAnswer{string(m.Slip), m.Label})
		}
	}
	return nil, asks
}

// missing names the first thing that is missing.
func (q *readRequest) missing() error {
	switch wanted := q.Picks.wanted(); {
	case len(wanted) > 0:
		return site.WithKind(site.ErrInput, fmt.Errorf("the photo has not been read yet: mark the %s", strings.Join(wanted, " and the ")))
	case q.Tank == "":
		return inField("tank", errors.New("choose the tank in the photo"))
	case q.Station == "":
		return inField("station", errors.New("name the place on the glass, such as front"))
	case q.Date == "":
		return inField("date", errors.New("enter the day the photo was taken"))
	}
	return nil
}

// savedWords say what was saved.
func (s *room) savedWords(read reports.PhotoCore, core layers.Core) string {
	text := fmt.Sprintf("Saved: %s on %s, with its photo. ", core.Station, core.Date)
	if read.OxicDepth != nil {
		text += "Colour oxic depth " + words.Length(s.Units).Estimate(*read.OxicDepth) + "."
	}
	if !read.Reliable {
		text += " The reading is not reliable: don't rely on it alone."
	}
	return text
}
