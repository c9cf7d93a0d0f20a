package web

import (
	"errors"
	"fmt"
	"net/http"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
)

// question is what is to be asked of a core before it is kept; nil: it fits its tank, or its
// keeper is sure of it.
func (s *server) question(tank layers.Tank, core layers.Core, own []palette.Prototype) *reports.Question {
	settings := reports.DefaultSettings()
	settings.Units = s.Units
	if list := judge.Ask(tank, core, own, settings); len(list) > 0 {
		return &list[0]
	}
	return nil
}

// offers reports whether a question has an answer; nil has none.
func offers(q *reports.Question, answer string) bool {
	return q != nil && slices.ContainsFunc(q.Mends, func(m reports.Mend) bool { return answerText(m) == answer })
}

// answerText is an answer as its button sends it: "depths", "tenfold:2" of the third layer
// alone, "name:2:rust".
func answerText(m reports.Mend) string {
	switch {
	case m.Slip == reports.SlipName:
		return fmt.Sprintf("%s:%d:%s", m.Slip, m.Layer, m.Band)
	case m.Alone:
		return fmt.Sprintf("%s:%d", m.Slip, m.Layer)
	}
	return string(m.Slip)
}

// parseAnswer reads an answer that a button sends.
func parseAnswer(text string) (m reports.Mend, err error) {
	slip, layer, alone := strings.Cut(text, ":")
	m.Slip, m.Alone = reports.Slip(slip), alone
	if !alone {
		return m, nil
	}
	layer, band, named := strings.Cut(layer, ":")
	if m.Layer, err = strconv.Atoi(layer); err == nil && named {
		m.Alone = false
		m.Band, err = palette.ParseBand(band)
	}
	if err != nil {
		err = Fault(ErrInput, fmt.Errorf("found the answer %q, want one that the page offers: %w", text, err))
	}
	return m, err
}

// mendedWords say what was done to the layers.
func mendedWords(m reports.Mend) string {
	switch {
	case m.Slip == reports.SlipTurnedOver:
		return "the layers are turned over"
	case m.Slip == reports.SlipDepths:
		return "the thicknesses are the differences of the depths"
	case m.Slip == reports.SlipTenth:
		return "every layer is ten times as thick"
	case m.Alone:
		return fmt.Sprintf("layer %d is a tenth as thick", m.Layer+1)
	}
	return "every layer is a tenth as thick"
}

func holdsEvent(tank layers.Tank, event layers.Event) bool {
	return slices.ContainsFunc(tank.Events, func(e layers.Event) bool { return reflect.DeepEqual(e, event) })
}

// enter enters an event unless it is there already, as after a form that was sent twice.
func (s *server) enter(r *http.Request, id string, event layers.Event) error {
	if err := s.Store.AddEvent(r.Context(), id, event); err != nil && !errors.Is(err, ErrTaken) {
		return err
	}
	return nil
}

// enteredWords say that an event was entered.
func enteredWords(event layers.Event) string {
	name := "siphoning"
	if event.Kind == layers.EventTopUpSubstrate {
		name = "top-up"
	}
	return fmt.Sprintf("a %s is entered for %s, the day before; if it was another day, remove it and add it anew", name, event.Date)
}

// enterBeside enters an event that goes with a reading which was just kept, and says so. Where
// it can't be entered the reading is kept all the same.
func (s *server) enterBeside(r *http.Request, id string, event *layers.Event) string {
	if event == nil {
		return ""
	}
	if err := s.enter(r, id, *event); err != nil {
		return " But the event beside it could not be entered: " + err.Error()
	}
	text := enteredWords(*event)
	return " " + strings.ToUpper(text[:1]) + text[1:] + ". Undo takes back the event, and once more the reading."
}
