package forms

import (
	"cmp"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// EventRecords are a tank's events and the form for another.
func (s *Room) EventRecords(tank layers.Tank, f *Form) Records {
	f = entryForm(f, s.Today())
	events := slices.SortedStableFunc(slices.Values(tank.Events), func(a, b layers.Event) int { return cmp.Compare(a.Date, b.Date) })
	var rows []recordRow
	for _, e := range events {
		row := recordRow{Head: e.Date.String(), Note: e.Note, Mark: entryMark(eventsIn, e)}
		e.Note = "" // it stands by itself
		row.Text = words.Event(e, s.Units)
		rows = append(rows, row)
	}
	return Records{Rows: site.Fold(rows), Form: f, What: "an event", To: site.TankAddress(tank.ID) + "/event", Anchor: "events", Add: fieldsOf(f, "event", layers.EventFields(), s.Units, s.Today())}
}

func (s *Room) addEvent(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	var event layers.Event
	readFields(f, &event, layers.EventFields(), s.Units)
	id := r.PathValue("id")
	if !f.Failed() {
		f.refuse(s.Store.AddEvent(r.Context(), id, event), keyAt(layers.EventFields()))
	}
	if f.Failed() {
		return s.showTank(w, r, f.status, nil, f)
	}
	site.Say(w, r, site.TankAddress(id)+site.AtTop, "The "+words.Spaced(event.Kind)+" of "+event.Date.String()+" is saved.")
	return nil
}

func (s *Room) removeEvent(w http.ResponseWriter, r *http.Request) error {
	return removeEntry(s, w, r, eventsIn, "the event is no longer there: it was removed already",
		func(id string, e layers.Event) (what string, err error) {
			return words.Spaced(e.Kind) + " of " + e.Date.String(), s.Store.RemoveEvent(r.Context(), id, e)
		})
}

func eventsIn(t *layers.Tank) *[]layers.Event { return &t.Events }
