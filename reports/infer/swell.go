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
	Odds  float64     // of a runaway under way against none, by the bed alone
	Since layers.Date // the last reading that showed nothing of the likeliest one
}

// What is thought of runaways before anything is read (assumptions: one tank in seventeen has one in a year;
// an oxic zone of 2 cm is gone within two to six months).
const (
	runawaysAMonth = 0.005
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

// swell weighs whether a runaway is under way.
func (o *Outlook) swell() (s Swelling) {
	if len(o.Readings) == 0 || o.front.fit == nil || !o.suspicious() {
		return Swelling{Odds: runawaysAMonth}
	}
	black, _ := o.record(blackOf, o.worked) // substrate on top, too, turns black what it buries
	front, thickness := o.front.fit, trend.New(black)
	none, same := front.Bound(nil), thickness.Bound(nil)
	before, best, healthy := o.monthsOf(o.LastRead()), 0.0, 1.0
	for _, at := range o.begins() {
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

// likelier is by what factor one bound is above another; a factor that is beyond all doubt is cut off.
func likelier(bound, other float64) float64 { return math.Exp(min(50, bound-other)) }

// begins are the days on which a runaway may have begun, the last first, months: those on which the
// front was read before the newest.
func (o *Outlook) begins() (list []float64) {
	last := o.LastRead()
	before := last - SameTimeDays
	for _, r := range slices.Backward(o.Readings) {
		if _, read := frontOf(r.Settled); !read || r.Core.Date >= before {
			continue
		}
		if last-r.Core.Date > turnDays || len(list) == mostTurns {
			break
		}
		list, before = append(list, o.monthsOf(r.Core.Date)), r.Core.Date-SameTimeDays
	}
	return list
}

// suspicious reports a front that lies nearer the surface than since the bed was last worked, or black
// that is thicker than in the last year.
func (o *Outlook) suspicious() bool {
	for _, r := range o.Newest {
		var fronts, blacks []float64
		for _, former := range o.Readings {
			if former.Core.Station != r.Core.Station || former.Core.Date >= r.Core.Date || r.Core.Date-former.Core.Date > yearDays || !former.Sound() {
				continue
			}
			blacks = append(blacks, former.Settled.black)
			if former.segment == r.segment {
				fronts = append(fronts, former.Settled.Oxic)
			}
		}
		if len(blacks) > 1 && r.Settled.black-stats.Quantile(blacks, 0.5) > leastFall || len(fronts) > 1 && stats.Quantile(fronts, 0.5)-r.Settled.Oxic > leastFall {
			return true
		}
	}
	return false
}

func blackOf(p Profile) (float64, bool) { return p.black, true }
