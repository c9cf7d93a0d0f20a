package infer

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/reports/stats"
	"panecore/reports/trend"
)

// Swelling is what the readings say of black swelling up through the bed.
type Swelling struct {
	Odds    float64     // of a runaway under way against none, by the bed alone
	Since   layers.Date // the last reading that showed nothing of the likeliest one
	Station string      // where the likeliest one is; empty: all over the floor
}

// What is thought of runaways before anything is read (assumptions: one tank in seventeen has one in a year;
// an oxic zone of 2 cm is gone within two to six months).
const (
	runawaysAMonth = 0.005
	aloneShare     = 0.1  // of the runaways show at one station only
	turnMean       = 8.0  // mm a month that the front rises and the black thickens
	turnOpen       = 4.5  // standard deviation of what the front rises
	thickerOpen    = 3.0  // of what the black thickens, which is about as much
	turnDays       = 200  // how long ago one may have begun
	mostTurns      = 8    // days on which it may have begun that are weighed
	untoldRemoval  = 0.02 // how likely mulm was removed between two readings and it was not entered
	removedMean    = 15.0 // mm
	removedOpen    = 12.0 // its standard deviation
)

// A front that lies leastFall mm nearer the surface than the middle of its station's readings, or black
// that is as much thicker, is looked into (assumption: less is never told).
const (
	leastFall = 2.5
	yearDays  = 400
)

// swell weighs whether a runaway is under way: all over the floor, or at the one station that speaks most
// for it, where the others would make it look like a slip.
func (o *Outlook) swell() Swelling {
	var worst *Reading
	if o.front.fit != nil {
		worst = o.suspicious()
	}
	if worst == nil {
		return Swelling{Odds: runawaysAMonth}
	}
	s := o.swelling(nil)
	if len(o.stations) > 1 {
		alone := o.swelling(worst)
		alone.Odds *= aloneShare / float64(len(o.stations)) // it might have been any of them
		if alone.Odds > s.Odds {
			s.Since, s.Station = alone.Since, worst.Core.Station
		}
		s.Odds += alone.Odds
	}
	return s
}

// swelling weighs it by the readings of one newest reading's station, nil for those of all.
func (o *Outlook) swelling(here *Reading) (s Swelling) {
	front, thickness := o.front.fit, trend.New(o.recordAt(here, blackOf, o.entered)) // substrate on top, too, turns black what it buries
	if here != nil {
		front = trend.New(o.recordAt(here, frontOf, o.front.removals))
	}
	if front == nil {
		return Swelling{}
	}
	none, same := front.Bound(nil), thickness.Bound(nil)
	before, best, healthy := o.monthsOf(o.LastRead()), 0.0, 1.0
	for _, at := range o.begins(here) {
		healthy += untoldRemoval * likelier(front.Bound(&trend.Turn{At: at, Step: true, Mean: -removedMean, Spread: removedOpen}), none)
		odds := runawaysAMonth * (before - at) *
			likelier(front.Bound(&trend.Turn{At: at, Mean: -turnMean, Spread: turnOpen}), none) *
			likelier(thickness.Bound(&trend.Turn{At: at, Mean: turnMean, Spread: thickerOpen}), same)
		s.Odds += odds
		if odds > best {
			best, s.Since = odds, o.dayOf(at)
		}
		before = at
	}
	s.Odds /= healthy
	return s
}

// recordAt is record, of one station's readings unless here is nil.
func (o *Outlook) recordAt(here *Reading, of func(Profile) (float64, bool), removals []float64) *trend.Record {
	r, _ := o.record(of, removals)
	if here != nil {
		station, _ := slices.BinarySearch(o.stations, here.Core.Station)
		r.Readings = slices.DeleteFunc(r.Readings, func(reading trend.Reading) bool { return reading.Station != station })
	}
	return r
}

// likelier is by what factor one bound is above another; a factor that is beyond all doubt is cut off.
func likelier(bound, other float64) float64 { return math.Exp(min(50, bound-other)) }

// begins are the days on which a runaway may have begun, the last first, months: those on which the
// front was read before the newest, there or anywhere.
func (o *Outlook) begins(here *Reading) (list []float64) {
	last := o.LastRead()
	before := last - SameTimeDays
	for _, r := range slices.Backward(o.Readings) {
		if _, read := frontOf(r.Settled); !read || r.Core.Date >= before || here != nil && r.Core.Station != here.Core.Station {
			continue
		}
		if last-r.Core.Date > turnDays || len(list) == mostTurns {
			break
		}
		list, before = append(list, o.monthsOf(r.Core.Date)), r.Core.Date-SameTimeDays
	}
	return list
}

// suspicious is the newest reading whose front lies nearest the surface, of the readings since the bed
// was last worked, or whose black is thickest, of those in the last year; nil: none by much. Black that
// is thicker while the front lies deeper below the mulm does not swell up: the whole core is thicker.
func (o *Outlook) suspicious() (worst *Reading) {
	type past struct{ fronts, blacks, depths []float64 }
	before, newest := map[string]*past{}, map[string]*Reading{}
	for _, r := range o.Newest {
		before[r.Core.Station], newest[r.Core.Station] = &past{}, r
	}
	for _, former := range o.Readings {
		r := newest[former.Core.Station]
		if r == nil || former.Core.Date >= r.Core.Date || r.Core.Date-former.Core.Date > yearDays || !former.Sound() {
			continue
		}
		p := before[former.Core.Station]
		p.blacks, p.depths = append(p.blacks, former.Settled.black), append(p.depths, former.Settled.Oxic-former.Settled.Mulm)
		if former.segment == r.segment {
			p.fronts = append(p.fronts, former.Settled.Oxic)
		}
	}
	most := leastFall
	for _, r := range o.Newest {
		p, by := before[r.Core.Station], 0.0
		if len(p.blacks) > 1 && r.Settled.Oxic-r.Settled.Mulm <= stats.Quantile(p.depths, 0.5)+leastFall {
			by = r.Settled.black - stats.Quantile(p.blacks, 0.5)
		}
		if len(p.fronts) > 1 {
			by = max(by, stats.Quantile(p.fronts, 0.5)-r.Settled.Oxic)
		}
		if by > most {
			most, worst = by, r
		}
	}
	return worst
}

func blackOf(p Profile) (float64, bool) { return p.black, true }
