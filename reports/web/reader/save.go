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

// saveRequest asks for a reading to be filed.
type saveRequest struct {
	readRequest
	Replace bool   `json:"replace"` // in the place of another one of that station and day
	Answer  string `json:"answer"`  // to the question that was asked; empty: none
	Asked   string `json:"asked"`   // fingerprint of the reading that it was asked about
}

// saveQuestion is what is asked of a reading before it is filed.
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

// save files a reading with its photo, which is a draft no more.
func (s *room) save(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	q, err := takeRequest[saveRequest](w, r)
	if err != nil {
		return refused(w, err)
	}
	photo.keep(q.readRequest)
	if err := q.complete(); err != nil {
		return refused(w, err)
	}
	task, err := s.task(r.Context(), &q.readRequest)
	if err != nil {
		return refused(w, err)
	}
	said, event, question := "", (*layers.Event)(nil), (*saveQuestion)(nil)
	err = s.readDraft(r.Context(), photo, task, func(result Result, shot Shot) error {
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
		return site.WithKind(site.ErrTaken, fmt.Errorf("there is a reading of %s on %s already, not of this photo: name another place or day, or put this reading in its place", task.Core.Station, task.Core.Date))
	case err != nil:
		return refused(w, err)
	case question != nil:
		site.WriteJSON(w, http.StatusConflict, question)
		return nil
	}
	s.drafts.drop(photo.id)
	site.Tell(w, r, said+s.EnterBeside(r, task.Tank.ID, event))
	site.WriteJSON(w, http.StatusOK, map[string]string{"to": site.TankAddress(task.Tank.ID)})
	return nil
}

// askSave is the question that a reading raises before it is filed, unless the keeper has
// answered it: that the reading is right, which is noted in it, or that an event is missing,
// which is given. An answer holds for the reading that was asked about and for no other. Who
// was sure of the same layers once is not asked again.
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

// complete refuses what can't be filed for want of something.
func (q *saveRequest) complete() error {
	switch wanted := q.Picks.wanted(); {
	case len(wanted) > 0:
		return site.WithKind(site.ErrInput, fmt.Errorf("the photo is not read yet: mark the %s", strings.Join(wanted, " and the ")))
	case q.Tank == "":
		return inField("tank", errors.New("choose the tank that the photo is of"))
	case q.Station == "":
		return inField("station", errors.New("name the place on the glass, such as front"))
	case q.Date == "":
		return inField("date", errors.New("give the day on which the photo was taken"))
	}
	return nil
}

// savedWords tell what was filed.
func (s *room) savedWords(read reports.PhotoCore, core layers.Core) string {
	text := fmt.Sprintf("Saved: %s on %s, read from the photo, which is kept. ", core.Station, core.Date)
	if read.OxicDepth != nil {
		text += "Colour oxic depth " + words.Length(s.Units).Estimate(*read.OxicDepth) + "."
	}
	if !read.Reliable {
		text += " The reading is not reliable: don't go by it alone."
	}
	return text
}
