package page

import (
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/figure/timeline"
	"panecore/reports/words"
)

// view is a report in words and pictures, section by section.
type view struct {
	Notice  string
	Title   string // of the window
	Tank    string
	ID      string // empty where it is the name
	Version string
	Units   layers.Units
	AsOf    layers.Date   // zero: nothing has been read
	SetUp   layers.Date   // zero: not given
	Edge    *reports.Core // along the edge of the page; nil: no core

	Advice     *reports.Advice // nil: Notices say why
	Watch      *group          // what there is to say of a runaway, and the signs of it; nil: nothing
	Asked      []string        // questions that only the keeper can settle
	Cores      []core
	Timeline   *overTime // nil: no core
	Years      *picture  // nil: no photo
	Changes    []picture
	Oxygen     *oxygen // nil: Lacking says why
	Rehearsals []rehearsal
	Largest    []largest
	Limits     []string // where the limits of the rehearsals come from
	Lacking    string
	Numbers    numbers
	Water      water
	Events     []layers.Event
	Later      bool // there are water tests or events after AsOf
	Photos     []shot
	Cautions   []group
	Notices    []group
}

// group is a list of texts under a few words.
type group struct {
	Head  string
	Items []string
}

func newView(r Report) (view, error) {
	tank, u := r.Record.Tank, r.Units
	v := view{
		Notice: r.Notice, Tank: tank.Name, Version: r.Version, Units: u,
		AsOf: tank.AsOf, SetUp: r.Record.Timeline.SetUp,
		Advice: tank.Advice, Asked: words.Questions(tank.Questions), Timeline: newTimeline(r.Record.Timeline, u),
		Watch:  newWatch(tank),
		Oxygen: newOxygen(r.Record.Oxygen, u), Lacking: words.Lacking(r.Record), Largest: newLargest(r.Record.Rehearsals, u), Limits: limitSources(r.Record.Rehearsals),
		Numbers: newNumbers(tank, u),
		Water:   newWater(r.Record), Events: r.Record.Timeline.Events, Later: r.Record.Later,
		Cautions: cautions(r.Record), Notices: notices(r.Record),
	}
	for _, c := range tank.Cores {
		v.Cores = append(v.Cores, newCore(c, tank.Penetration, u))
	}
	if len(tank.Cores) > 0 {
		v.Edge = &tank.Cores[0]
	}
	if tank.ID != tank.Name {
		v.ID = tank.ID
	}
	v.Title = words.Judged(words.TankName(tank.ID, tank.Name), v.AsOf)
	if a := v.Advice; a != nil {
		v.Title += ": " + words.Headline(a.Action, a.WaterFirst)
	}
	for _, rehearsal := range r.Record.Rehearsals {
		v.Rehearsals = append(v.Rehearsals, newRehearsal(rehearsal, u))
	}
	if len(r.Strips) > 0 {
		years := newPicture(timeline.Years(r.Record.Timeline, r.Strips, timeline.Options{Units: u}))
		v.Years = &years
	}
	for _, c := range r.Changes {
		v.Changes = append(v.Changes, newPicture(figure.Change(c, u)))
	}
	for _, p := range r.Photos {
		s, err := newShot(p)
		if err != nil {
			return view{}, err
		}
		v.Photos = append(v.Photos, s)
	}
	return v, nil
}

func newWatch(t reports.Tank) *group {
	text := words.Watch(t.Watch)
	if text == "" {
		return nil
	}
	return &group{text, words.WatchSigns(t.Watch, t.Advice)}
}

// lists are groups of texts in which no text appears twice.
type lists struct {
	said   map[string]bool
	groups []group
}

func (l *lists) add(head string, texts []string) {
	var items []string
	for _, text := range texts {
		if !l.said[text] {
			l.said[text] = true
			items = append(items, text)
		}
	}
	if len(items) > 0 {
		l.groups = append(l.groups, group{head, items})
	}
}

// cautions are those of the advice, then those that only rehearsals have.
func cautions(r reports.Record) []group {
	l := lists{said: map[string]bool{}}
	if r.Tank.Advice != nil {
		l.add("For this advice", r.Tank.Advice.Cautions)
	}
	for _, rehearsal := range r.Rehearsals {
		l.add("If you "+string(rehearsal.Method)+" anyway", rehearsal.Cautions)
	}
	return l.groups
}

// notices are those of the tank, then those of the oxygen and the rehearsals.
func notices(r reports.Record) []group {
	l := lists{said: map[string]bool{}}
	l.add("The bed and its water", append(slices.Clone(r.Tank.Notices), r.Timeline.Notices...))
	if r.Oxygen != nil {
		l.add("The oxygen", r.Oxygen.Notices)
	}
	var rehearsed []string
	for _, rehearsal := range r.Rehearsals {
		rehearsed = append(rehearsed, rehearsal.Notices...)
	}
	l.add("The rehearsals", rehearsed)
	return l.groups
}
