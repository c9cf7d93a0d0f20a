package records

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strconv"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/judge"
)

// TellDoubt says of a core that was filed what should be asked about it, with a command for
// every answer. Nothing of it keeps the core from standing in the logbook.
func TellDoubt(ctx context.Context, s *shell.Shell, book *logbook.Book, id string, core layers.Core) error {
	tank, err := book.Tank(ctx, id)
	if err != nil {
		return err
	}
	settings := reports.DefaultSettings()
	if err := s.Settle(ctx, book, &settings, false); err != nil {
		return err
	}
	for _, q := range judge.Ask(tank, core, settings.Own(id), settings) {
		text := q.Text
		for _, m := range q.Mends {
			text += "\n  " + m.Label + ": " + s.Here(m.Command)
		}
		s.Note(text)
	}
	return nil
}

// doubts are what should be asked of the core at a step, were it filed with its events.
func (d *dialogue) doubts(at step) []reports.Question {
	tank := d.tank
	tank.Events = slices.Concat(tank.Events, at.events)
	return judge.Ask(tank, at.core, d.settings.Own(tank.ID), d.settings)
}

func (d *dialogue) doubtPrompt() string {
	q := d.doubts(d.step)[0]
	prompt := q.Text
	for i, m := range q.Mends {
		prompt += fmt.Sprintf("\n  %d  %s", i+1, m.Label)
	}
	return prompt + "\nWhich is it, by its number [leave it open]"
}

// takeDoubt takes the answer to what is asked of a core that does not fit. Layers that are
// mended may leave another thing to ask.
func (d *dialogue) takeDoubt(answer string, next *step) (err error) {
	if answer == "" {
		next.at = asked
		return nil
	}
	mends := d.doubts(d.step)[0].Mends
	n, err := strconv.Atoi(answer)
	if err != nil || n < 1 || n > len(mends) {
		return fmt.Errorf("found %q, want a number from 1 to %d, or nothing", answer, len(mends))
	}
	switch m := mends[n-1]; m.Slip {
	case reports.SlipNone:
		next.core.Sure = true
	case reports.SlipRemoval, reports.SlipTopUp:
		next.at, next.events = asked, []layers.Event{*m.Event(next.core.Date)}
	case reports.SlipElsewhere:
		*next = d.past[0]
	default:
		next.core.Layers, err = m.Mended(next.core.Layers)
	}
	return err
}

// mended reports whether an answer to a doubt has just changed the layers.
func (d *dialogue) mended(from step) bool {
	return from.at == askDoubt && !reflect.DeepEqual(from.core.Layers, d.core.Layers)
}
