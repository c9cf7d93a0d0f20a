package forms

import (
	"cmp"
	"errors"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// EventRecords are a tank's events and the form for another.
func (s *Room) EventRecords(tank layers.Tank, f *Form) Records {
	today := s.Today()
	if f == nil {
		f = newForm(nil)
	}
	if len(f.typed) == 0 {
		f.typed = map[string][]string{"date": {today.String()}}
	}
	events := slices.SortedStableFunc(slices.Values(tank.Events), func(a, b layers.Event) int { return cmp.Compare(a.Date, b.Date) })
	var rows []recordRow
	for _, e := range events {
		row := recordRow{Head: e.Date.String(), Note: e.Note, Mark: eventMark(e)}
		e.Note = "" // it stands by itself
		row.Text = words.Event(e, s.Units)
		rows = append(rows, row)
	}
	return Records{Rows: site.Fold(rows), Form: f, What: "an event", To: site.TankAddress(tank.ID) + "/event", Anchor: "events", Add: fieldsOf(f, "event", layers.EventFields(), s.Units, today)}
}

// eventMark tells an event from every other.
func eventMark(e layers.Event) string {
	return site.Fingerprint(layers.Tank{Events: []layers.Event{e}})
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
		f.refuse(s.Store.AddEvent(r.Context(), id, event), eventField)
	}
	if f.Failed() {
		return s.showTank(w, r, f.status, nil, f)
	}
	site.Say(w, r, site.TankAddress(id)+site.AtTop, "The "+words.Spaced(event.Kind)+" of "+event.Date.String()+" is saved.")
	return nil
}

func eventField(path string) string { return keyAt(path, layers.EventFields()) }

func (s *Room) removeEvent(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("id")
	tank, err := s.Store.Tank(r.Context(), id)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(tank.Events, func(e layers.Event) bool { return eventMark(e) == r.PostFormValue("seen") })
	if i < 0 {
		return site.WithKind(site.ErrMissing, errors.New("the event is no longer there: it was removed already"))
	}
	event := tank.Events[i]
	if err := s.Store.RemoveEvent(r.Context(), id, event); err != nil {
		return err
	}
	site.Say(w, r, site.TankAddress(id), "The "+words.Spaced(event.Kind)+" of "+event.Date.String()+" is removed.")
	return nil
}
