package infer

import (
	"cmp"
	"math"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// Slips are found by their cost: how badly a core fits the one before it, as the natural logarithm
// of odds, plus how rare the slip is. All numbers below are assumptions, tried on simulated beds
// made separately (holdout_test.go).
const (
	colorSpread     = 10.0 // CIELAB (1976): how much a layer's colour strays from month to month
	mostColor       = 10.0 // the most that a layer of another colour costs
	thicknessSpread = 0.3  // natural logarithm of how much a thickness strays
	shrinkSpread    = 0.2  // the same for a top that gets thinner
	thicknessSlack  = 3.0  // mm that any thickness may stray in addition
	growthSlack     = 5.0  // mm a month that the top may grow in addition
	mostThickness   = 8.0  // the most that a layer of another thickness costs
	viewSpread      = 1.2  // as thicknessSpread, for a layer that the view ends in
	lostLayer       = 2.5  // a layer that is missing or new
	lostEvery       = 8.0  // mm of it that cost one more, up to lostMost
	lostMost        = 3.0
	newTop          = 2.0 // in addition, a new layer on top of all
	lostBelow       = 0.5 // a layer below where the other view ends

	likelyFit  = 4.0  // up to this cost no question is asked
	slipOdds   = 5.0  // a slip in all layers, for its rarity
	eventOdds  = 3.0  // a siphoning or a top-up that was not entered
	anyColumn  = 2.5  // a layer of a core that has nothing to do with the one before
	clearlySo  = 1.0  // by how much a slip must explain the core better
	strangers  = 4.0  // the same against another station, whose bed differs anyway
	rulerOdds  = 4.0  // another ruler
	leastRuler = 1.4  // how much longer or shorter another ruler must make a bed to be noticed
	mostRuler  = 6.0  // from here on a wrong unit is likelier
	LeastMoved = 10.0 // mm of mulm that must disappear for a siphoning to be suspected
)

// Depths and growths that no bed of such a tank has by itself (assumptions).
const (
	deepestBed    = 400.0 // mm
	shallowestBed = 5.0   // mm
	mostMulm      = 200.0 // mm
	mostGrowth    = 60.0  // mm of mulm a month since set-up
)

// doubtSlips compares every reading with those before it at its station. One that fits neither the
// last sound one nor the last of all is in doubt: two that agree are not a slip.
func (o *Outlook) doubtSlips() {
	sound, last := map[string]*Reading{}, map[string]*Reading{}
	for _, r := range o.Readings {
		station := r.Core.Station
		former, before := sound[station], last[station]
		r.Former = former
		if former == nil {
			r.Slip = o.slipAlone(r, nearestOf(sound, r))
		} else {
			r.Slip, r.SlipLayer = o.slipAgainst(former, r)
			if r.Slip != "" && before != former {
				if again, _ := o.slipAgainst(before, r); again == "" {
					r.Slip = ""
				}
			}
		}
		last[station] = r
		if r.Sound() {
			sound[station] = r
		}
	}
}

// nearestOf is the newest sound reading of another station; nil: none is near.
func nearestOf(sound map[string]*Reading, to *Reading) (nearest *Reading) {
	for _, r := range sound {
		if to.Core.Date-r.Core.Date <= oldestLean && (nearest == nil || cmp.Or(cmp.Compare(r.Core.Date, nearest.Core.Date), cmp.Compare(nearest.Core.Station, r.Core.Station)) > 0) {
			nearest = r
		}
	}
	return nearest
}

// between is what was done to a bed between two readings that changes what the later should show.
type between struct{ removed, added, planted bool }

func (b between) any() bool { return b.removed || b.added || b.planted }

// workedBetween is what was done to the bed between two readings, the days of both included: what is
// entered needs no question.
func (o *Outlook) workedBetween(former, r *Reading) (b between) {
	first, _ := slices.BinarySearchFunc(o.Tank.Events, former.Core.Date, func(e layers.Event, day layers.Date) int { return cmp.Compare(e.Date, day) })
	for _, e := range o.Tank.Events[first:] {
		if e.Date > r.Core.Date {
			break
		}
		switch e.Kind {
		case layers.EventSiphon, layers.EventStir:
			b.removed = true
		case layers.EventTopUpSubstrate:
			b.added = true
		case layers.EventReplant:
			b.planted = true
		}
	}
	return b
}

// Depth is how far down the core was seen, mm.
func (r *Reading) Depth() float64 { return r.Edges[len(r.Edges)-1] }

// slipAgainst is the likeliest slip of a reading after another of its station, and the layer that has
// it if it is only one, else -1; empty: the reading fits.
func (o *Outlook) slipAgainst(former, r *Reading) (slip reports.Slip, layer int) {
	was, is := former.column.Layers, r.column.Layers
	months := former.Core.Date.Months(r.Core.Date)
	as := costOf(was, is, months)
	done := o.workedBetween(former, r)
	gone := former.Named.Mulm - r.Named.Mulm
	if done.removed {
		as = min(as, costOf(less(was, gone), is, months))
	}
	if done.added && len(is) > 1 {
		as = min(as, costOf(was, is[1:], months))
	}
	if as <= likelyFit {
		return "", -1
	}
	best := as - clearlySo
	layer = -1
	try := func(s reports.Slip, l int, cost float64) {
		if cost < best {
			slip, layer, best = s, l, cost
		}
	}
	if !done.any() { // work on a bed changes more than is entered
		try(reports.SlipElsewhere, -1, slipOdds+anyColumn*float64(max(len(was), len(is))))
		if ratio := former.Depth() / r.Depth(); max(ratio, 1/ratio) > leastRuler && max(ratio, 1/ratio) < mostRuler {
			try(reports.SlipElsewhere, -1, rulerOdds+costOf(was, scaled(is, ratio), months))
		}
		if gone > LeastMoved {
			try(reports.SlipRemoval, -1, eventOdds+costOf(less(was, gone), is, months))
		}
		if r.Names[0] == palette.Native && len(is) > 1 {
			try(reports.SlipTopUp, -1, eventOdds+costOf(was, is[1:], months))
		}
	}
	trySlips(was, is, months, try)
	if slip == "" && !done.any() && gone > LeastMoved { // and its layers do not show how
		return reports.SlipRemoval, -1
	}
	return slip, layer
}

// trySlips tries the typing slips.
func trySlips(was, is []palette.Seen, months float64, try func(s reports.Slip, layer int, cost float64)) {
	turned := slices.Clone(is)
	slices.Reverse(turned)
	try(reports.SlipTurnedOver, -1, slipOdds+costOf(was, turned, months))
	try(reports.SlipTenfold, -1, slipOdds+costOf(was, scaled(is, 0.1), months))
	try(reports.SlipTenth, -1, slipOdds+costOf(was, scaled(is, 10), months))
	if thick, ok := differences(is); ok {
		try(reports.SlipDepths, -1, slipOdds+costOf(was, thick, months))
	}
	if len(is) > mostSingle {
		return
	}
	for i := range is {
		thin := slices.Clone(is)
		thin[i].ThicknessMM /= 10
		try(reports.SlipTenfold, i, slipOdds+math.Log(float64(len(is)))+costOf(was, thin, months))
	}
}

// mostSingle is how many layers a core may have for a slip in one of them to be tried: the work grows
// with the cube (assumption: no keeper types more).
const mostSingle = 30

// scaled are layers so many times as thick.
func scaled(list []palette.Seen, factor float64) []palette.Seen {
	list = slices.Clone(list)
	for i := range list {
		list[i].ThicknessMM *= factor
	}
	return list
}

// differences are layers whose thicknesses were depths; false where they can't be.
func differences(list []palette.Seen) ([]palette.Seen, bool) {
	thick, above := slices.Clone(list), 0.0
	for i := range thick {
		if thick[i].ThicknessMM <= above {
			return nil, false
		}
		thick[i].ThicknessMM, above = thick[i].ThicknessMM-above, thick[i].ThicknessMM
	}
	return thick, len(list) > 2
}

// less are layers with so many mm taken off the top.
func less(list []palette.Seen, mm float64) []palette.Seen {
	list = slices.Clone(list)
	for mm > 0 && len(list) > 1 {
		if list[0].ThicknessMM > mm {
			list[0].ThicknessMM -= mm
			break
		}
		mm -= list[0].ThicknessMM
		list = list[1:]
	}
	return list
}

// costOf is how badly layers fit those read so many months before: the cheapest way to pair them in
// order, each with one or with none. What one view shows below the other's last layer costs little
// if that layer has a pair.
func costOf(was, is []palette.Seen, months float64) float64 {
	row := make([]float64, len(is)+1)
	for j := range is {
		row[j+1] = row[j] + lost(is[j]) + newTop
	}
	least := math.Inf(1)
	for i, a := range was {
		slant := row[0]
		row[0] += lost(a)
		for j, b := range is {
			lastA, lastB := i == len(was)-1, j == len(is)-1
			both := slant + pair(a, b, lastA, lastB, j == 0, months)
			slant = row[j+1]
			row[j+1] = min(both, row[j+1]+lost(a), row[j]+lost(b))
			if lastA || lastB {
				least = min(least, both+lostBelow*float64(len(was)-1-i+len(is)-1-j))
			}
		}
	}
	return min(least, row[len(is)])
}

// lost is the cost of a layer without a pair.
func lost(l palette.Seen) float64 { return lostLayer + min(lostMost, l.ThicknessMM/lostEvery) }

// pair is the cost of taking two layers for one. A view may end within either.
func pair(a, b palette.Seen, endsA, endsB, top bool, months float64) float64 {
	d := math.Hypot(math.Hypot(a.Lab.L-b.Lab.L, a.Lab.A-b.Lab.A), a.Lab.B-b.Lab.B) / colorSpread
	slack, spread := thicknessSlack, thicknessSpread
	switch {
	case endsA || endsB:
		spread = viewSpread
	case top && b.ThicknessMM > a.ThicknessMM:
		slack += growthSlack * months
	case top:
		spread = shrinkSpread
	}
	thin, thick := min(a.ThicknessMM, b.ThicknessMM), max(a.ThicknessMM, b.ThicknessMM)
	z := math.Log(max(1, (thick-slack)/thin)) / spread
	return min(mostColor, d*d/2) + min(mostThickness, z*z/2)
}

// leastTurned is how much likelier a core must be upside down to count as a slip, as the natural
// logarithm of the ratio (assumption: a thousand to one).
const leastTurned = 6.9

// slipAlone is the slip of a station's first reading, judged against another station's, which may be
// nil, or by itself.
func (o *Outlook) slipAlone(r, other *Reading) reports.Slip {
	if other != nil {
		was, is := other.column.Layers, r.column.Layers
		slip, best := reports.Slip(""), costOf(was, is, 0)-strangers
		trySlips(was, is, 0, func(s reports.Slip, _ int, cost float64) {
			if cost < best {
				slip, best = s, cost
			}
		})
		if slip != "" && best < likelyFit+slipOdds {
			return slip
		}
	}
	months := math.Inf(1)
	if o.Tank.SetUp != 0 {
		months = max(1, o.Tank.SetUp.Months(r.Core.Date))
	}
	switch mulm := r.Named.Mulm; {
	case r.Depth() > deepestBed, mulm > mostMulm, mulm/months > mostGrowth:
		return reports.SlipTenfold
	case r.Depth() < shallowestBed:
		return reports.SlipTenth
	}
	if r.Names[0] == palette.Native && o.toppedUp(r.Core.Date) {
		return ""
	}
	turned := r.column
	turned.Layers = slices.Clone(turned.Layers)
	slices.Reverse(turned.Layers)
	if r.matcher.Match(turned).Evidence() > r.matcher.Match(r.column).Evidence()+leastTurned {
		return reports.SlipTurnedOver
	}
	return ""
}

// toppedUp reports whether substrate was added up to a day.
func (o *Outlook) toppedUp(by layers.Date) bool {
	return slices.ContainsFunc(o.Tank.Events, func(e layers.Event) bool { return e.Kind == layers.EventTopUpSubstrate && e.Date <= by })
}

// doubtful reports that the estimates have no sound reading to rest on.
func (o *Outlook) doubtful() bool {
	return !slices.ContainsFunc(o.Newest, func(r *Reading) bool { return r.Sound() || r.LeansOn() != nil })
}
