package site

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
)

// Question is what to ask about a core before it is saved; nil: it fits its tank, or the keeper
// has said that it is right.
func (s *Site) Question(tank layers.Tank, core layers.Core, own []palette.Prototype) *reports.Question {
	settings := reports.DefaultSettings()
	settings.Units = s.Units
	if list := judge.Ask(tank, core, own, settings); len(list) > 0 {
		return &list[0]
	}
	return nil
}

// Offers reports whether a question offers an answer; nil offers none.
func Offers(q *reports.Question, answer string) bool {
	return q != nil && slices.ContainsFunc(q.Mends, func(m reports.Mend) bool { return AnswerText(m) == answer })
}

// AnswerText is an answer as its button sends it: "depths", "tenfold:2" for the third layer
// alone, "name:2:rust".
func AnswerText(m reports.Mend) string {
	switch {
	case m.Slip == reports.SlipName:
		return fmt.Sprintf("%s:%d:%s", m.Slip, m.Layer, m.Band)
	case m.Alone:
		return fmt.Sprintf("%s:%d", m.Slip, m.Layer)
	}
	return string(m.Slip)
}

// Enter enters an event, unless it is there already because a form was sent twice.
func (s *Site) Enter(r *http.Request, id string, event layers.Event) error {
	if err := s.Store.AddEvent(r.Context(), id, event); err != nil && !errors.Is(err, ErrTaken) {
		return err
	}
	return nil
}

// EnteredWords say that an event was entered, and what to do if its day is wrong.
func EnteredWords(event layers.Event) string {
	name := "siphoning"
	if event.Kind == layers.EventTopUpSubstrate {
		name = "top-up"
	}
	return fmt.Sprintf("a %s was entered for %s, the day before; if that is the wrong day, remove it and add it again", name, event.Date)
}

// EnterBeside enters an event that goes with a reading just saved, and says so. The reading
// stays even if the event can't be entered.
func (s *Site) EnterBeside(r *http.Request, id string, event *layers.Event) string {
	if event == nil {
		return ""
	}
	if err := s.Enter(r, id, *event); err != nil {
		return " But the event could not be entered: " + err.Error()
	}
	text := EnteredWords(*event)
	return " " + strings.ToUpper(text[:1]) + text[1:] + ". Undo removes the event; undo again removes the reading."
}
