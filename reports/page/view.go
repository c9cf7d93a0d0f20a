package page

import (
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// view is a report in the words and pictures of the page, section by section.
type view struct {
	Notice  string
	Title   string // of the window
	Tank    string
	ID      string // where it says more than the name
	Version string
	Units   layers.Units
	AsOf    layers.Date // zero: nothing has been read
	SetUp   layers.Date // zero: not given
	Edge    *edge       // nil: no core

	Advice     *advice // nil: Notices say why
	Cores      []core
	Timeline   *alongTime // nil: no core
	Oxygen     *oxygen    // nil: Lacking says why
	Rehearsals []rehearsal
	Largest    []largest
	Limits     []string // where those of the rehearsals come from
	Lacking    string
	Numbers    numbers
	Water      water
	Events     []event
	Later      bool // there are more water tests or events
	Photos     []shot
	Cautions   []group
	Notices    []group
}

// group is a list of texts under a few words.
type group struct {
	Head  string
	Items []string
}

// edge is a core along the edge of the page.
type edge struct {
	Core   reading
	Layers []stripe
}

type stripe struct {
	Color palette.Color
	MM    float64
}

func newView(r Report) (view, error) {
	tank, u := r.Record.Tank, r.Units
	v := view{
		Notice: r.Notice, Tank: tank.Name, Version: r.Version, Units: u,
		AsOf: tank.AsOf, SetUp: r.Record.Timeline.SetUp, Edge: newEdge(tank.Cores),
		Advice: newAdvice(tank), Cores: newCores(tank, u), Timeline: newTimeline(r.Record.Timeline, u),
		Oxygen: newOxygen(r.Record.Oxygen, u), Lacking: words.Lacking(r.Record), Largest: newLargest(r.Record.Rehearsals, u), Limits: limitSources(r.Record.Rehearsals),
		Numbers: newNumbers(tank, u),
		Water:   newWater(r.Record), Events: newEvents(r.Record.Timeline.Events, u), Later: r.Record.Later,
		Cautions: cautions(r.Record), Notices: notices(r.Record),
	}
	if tank.ID != tank.Name {
		v.ID = tank.ID
	}
	v.Title = words.Judged(words.TankName(tank.ID, tank.Name), v.AsOf)
	if v.Advice != nil {
		v.Title += ": " + v.Advice.Headline
	}
	for _, one := range r.Record.Rehearsals {
		v.Rehearsals = append(v.Rehearsals, newRehearsal(one, u))
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

func newEdge(cores []reports.Core) *edge {
	if len(cores) == 0 {
		return nil
	}
	e := &edge{Core: reading{cores[0].Station, cores[0].Date}}
	for _, l := range cores[0].Layers {
		e.Layers = append(e.Layers, stripe{l.Hex, l.Thickness.Value})
	}
	return e
}

// lists are groups of texts of which none is said twice.
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

// cautions are those of the advice, then what the rehearsals say beside.
func cautions(r reports.Record) []group {
	l := lists{said: map[string]bool{}}
	if r.Tank.Advice != nil {
		l.add("For what is advised here", r.Tank.Advice.Cautions)
	}
	for _, one := range r.Rehearsals {
		l.add("If you "+string(one.Method)+" all the same", one.Cautions)
	}
	return l.groups
}

// notices are those of the tank, then of what was worked out beside.
func notices(r reports.Record) []group {
	l := lists{said: map[string]bool{}}
	l.add("The bed and its water", append(slices.Clone(r.Tank.Notices), r.Timeline.Notices...))
	if r.Oxygen != nil {
		l.add("The oxygen", r.Oxygen.Notices)
	}
	var rehearsed []string
	for _, one := range r.Rehearsals {
		rehearsed = append(rehearsed, one.Notices...)
	}
	l.add("The rehearsals", rehearsed)
	return l.groups
}
