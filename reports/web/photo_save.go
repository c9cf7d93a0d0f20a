package web

import (
	"errors"
	"fmt"
	"net/http"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// saveRequest asks for a reading to be filed.
type saveRequest struct {
	readRequest
	Replace bool `json:"replace"` // in the place of another one of that station and day
}

// photoSave files a reading with its photo, which is a draft no more.
func (s *server) photoSave(w http.ResponseWriter, r *http.Request) error {
	one, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	q, err := takeRequest[saveRequest](w, r)
	if err != nil {
		return refused(w, err)
	}
	one.keep(q.readRequest)
	if err := q.complete(); err != nil {
		return refused(w, err)
	}
	task, err := s.task(r.Context(), &q.readRequest)
	if err != nil {
		return refused(w, err)
	}
	said := ""
	err = s.readDraft(r.Context(), one, task, func(result Result, shot Shot) error {
		photo, err := shot.Kept()
		if err != nil {
			return err
		}
		said = s.savedWords(result.PhotoCore, task.Core)
		return s.Store.FileCore(r.Context(), task.Tank.ID, result.Core, photo, q.Replace)
	})
	switch {
	case errors.Is(err, ErrMissing): // the tank, removed since
		return refused(w, inField("tank", errors.New(err.Error())))
	case errors.Is(err, ErrTaken):
		return Fault(ErrTaken, fmt.Errorf("there is a reading of %s on %s already, not of this photo: name another place or day, or put this reading in its place", task.Core.Station, task.Core.Date))
	case err != nil:
		return refused(w, err)
	}
	s.drafts.drop(one.id)
	tell(w, r, said)
	writeJSON(w, http.StatusOK, map[string]string{"to": addressOf(task.Tank.ID)})
	return nil
}

// complete refuses what can't be filed for want of something.
func (q *saveRequest) complete() error {
	switch wanted := q.Picks.wanted(); {
	case len(wanted) > 0:
		return Fault(ErrInput, fmt.Errorf("the photo is not read yet: mark the %s", strings.Join(wanted, " and the ")))
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
func (s *server) savedWords(read reports.PhotoCore, core layers.Core) string {
	text := fmt.Sprintf("Saved: %s on %s, read from the photo, which is kept. ", core.Station, core.Date)
	if read.OxicDepth != nil {
		text += "Colour oxic depth " + words.Length(s.Units).Estimate(*read.OxicDepth) + "."
	}
	if !read.Reliable {
		text += " The reading is not reliable: don't go by it alone."
	}
	return text
}
