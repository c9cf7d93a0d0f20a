// Package infer turns a tank's records into numbers with their doubt: it names the layers of each
// core, finds slips, fits rates, and draws possible truths about bed and water. It passes each truth
// on to be judged and knows no rule.
package infer

import (
	"cmp"
	"math"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// SameTimeDays is how far apart two stations may be read and still count as one time, days (the
// project's definition).
const SameTimeDays = 7

// Outlook is one tank as read: all that the draws and the rules rest on.
type Outlook struct {
	*Facts
	Tank       layers.Tank
	Readings   []*Reading // all, by date and station
	Newest     []*Reading // those that carry the estimates, by station
	Swelling   Swelling
	Gone       []Gone // mulm that went and no event explains, the first first
	Growth     *Rate  // of the mulm; nil: not known
	Shift      *Rate  // of the front against the bed surface; nil: not known
	FloorShift *Rate  // of the front against the floor; nil: not known
	Mulm       reports.Estimate
	Oxic       reports.Estimate
	Black      reports.Estimate // thickness of the black zone
	Ammonia    reports.Estimate // meaningful where Tests.Ammonia.Known
	Bottom     reports.Estimate // meaningful where Chemistry is not nil

	sorts              []*sort       // of layers, see settle
	entered            []float64     // worked, in months from the first reading
	stations           []string      // all that were ever read, by name
	worked             []layers.Date // when the bed was, by date; a reading on such a day comes before (assumption: a keeper reads first, then siphons)
	mulm, front, depth *course       // depth: of the front against the floor; nil: the floor is not seen

	Chemistry *Chemistry // nil: Missing says what it lacks
	Missing   []string
	AltitudeM float64
	Safe      SafeShares
}

// SafeShares are the largest shares of the floor that stay within the limits in 95 % of the draws,
// 0 to 1; 1 if not known.
type SafeShares struct{ Stir, Siphon, SiphonAerated float64 }

// NewOutlook reads a tank's records up to the day it is judged as of.
func NewOutlook(tank layers.Tank, s reports.Settings) *Outlook {
	asOf := s.DayOf(tank)
	tank = asOfDay(tank, asOf)
	o := &Outlook{
		Facts: newFacts(tank, asOf, s.Units), Tank: tank, AltitudeM: s.AltitudeM, Safe: SafeShares{1, 1, 1},
	}
	lessons := Learn(tank, s.PrototypesOf(tank.ID))
	cores := slices.Clone(tank.Cores)
	slices.SortStableFunc(cores, func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Station, b.Station))
	})
	for _, e := range tank.Events {
		if e.Kind.Splits() {
			o.worked = append(o.worked, e.Date)
		}
	}
	slices.Sort(o.worked)
	typed := lessons.Matcher(layers.Core{})
	for _, core := range cores {
		matcher := typed
		if core.Photo != nil {
			matcher = lessons.Matcher(core)
		}
		r := newReading(core, matcher)
		r.segment, _ = slices.BinarySearch(o.worked, core.Date)
		o.Readings = append(o.Readings, r)
	}
	o.doubtSlips()
	o.Newest = newestOfEach(o.Readings)
	for _, r := range o.Newest {
		r.Match = r.matcher.Match(r.column)
		if lean := r.LeansOn(); lean != nil {
			lean.Match = lean.matcher.Match(lean.column)
		}
	}
	o.follow(s.Seed)
	return o
}

// NewMatcher is a matcher for colours of a tank by themselves: with its native ones, the keeper's own prototypes and
// what its photos teach.
func NewMatcher(tank layers.Tank, own []palette.Prototype) *palette.Matcher {
	return Learn(tank, own).Matcher(layers.Core{})
}

func newMatcher(tank layers.Tank, own []palette.Prototype, taught palette.Lessons) *palette.Matcher {
	baselines := make([]palette.Baseline, len(tank.Native))
	for i, n := range tank.Native {
		baselines[i] = palette.Baseline{Kind: string(n.Kind), Color: n.Color}
	}
	return palette.NewTaughtMatcher(baselines, own, taught)
}

// newestOfEach is each station's newest reading that lies within SameTimeDays of the newest of all,
// by station.
func newestOfEach(readings []*Reading) []*Reading {
	if len(readings) == 0 {
		return nil
	}
	last := readings[len(readings)-1].Core.Date
	var newest []*Reading
	for i := len(readings) - 1; i >= 0 && last-readings[i].Core.Date <= SameTimeDays; i-- {
		station := readings[i].Core.Station
		if !slices.ContainsFunc(newest, func(r *Reading) bool { return r.Core.Station == station }) {
			newest = append(newest, readings[i])
		}
	}
	slices.SortFunc(newest, func(a, b *Reading) int { return cmp.Compare(a.Core.Station, b.Core.Station) })
	return newest
}

// PlacesOver are the newest readings whose mulm is over its limit while the mean of all is not.
func (o *Outlook) PlacesOver() (over []*Reading) {
	limit, sum := o.Limit(layers.LimitMulm), 0.0
	for _, r := range o.Newest {
		sum += r.Named.Mulm / float64(len(o.Newest))
		if r.Named.Mulm > limit {
			over = append(over, r)
		}
	}
	if sum > limit {
		return nil
	}
	return over
}

// LastRead is the day of the newest core.
func (o *Outlook) LastRead() (day layers.Date) {
	for _, r := range o.Newest {
		day = max(day, r.Core.Date)
	}
	return day
}

// ReadDays is how old the newest core is, days.
func (o *Outlook) ReadDays() int { return int(o.AsOf - o.LastRead()) }

// FloorMM is the depth of the shallowest of the newest cores, mm.
func (o *Outlook) FloorMM() float64 {
	floor := math.Inf(1)
	for _, r := range o.Newest {
		floor = min(floor, r.Edges[len(r.Edges)-1])
	}
	return floor
}
