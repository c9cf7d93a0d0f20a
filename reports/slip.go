package reports

import (
	"cmp"
	"math"
	"slices"

	"panecore/layers"
	"panecore/palette"
)

// From here on a core is so unlike the one before it that a slip is likelier than the bed
// (assumptions: more than a bed does in a month by itself).
const (
	unlikeShare  = 0.25 // of the depth that was seen
	unlikeMM     = 10.0 // of depth or mulm
	unlikeGrowth = 5.0  // of mulm, mm a month, added to that
	unlikeColor  = 25.0 // mean CIELAB difference at the same share of the depth
	sameColor    = 4.0  // up to here they are one and the same
	likeColor    = 12.0 // up to here two columns are of one bed
	tenfoldNear  = 0.35 // how far a tenth of the depth may lie off the depth before, as a share of it
)

// Depths and growths that no bed of such a tank has by itself (assumptions).
const (
	deepestBed    = 400.0 // mm
	shallowestBed = 5.0   // mm
	mostMulm      = 200.0 // mm
	mostGrowth    = 60.0  // mm of mulm a month since set-up
)

// doubtSlips looks at every reading beside those before it at its station. One that fits
// neither the last sound one nor the last of all is in doubt: two that agree are no slip.
func (o *outlook) doubtSlips() {
	sound, last := map[string]*reading{}, map[string]*reading{}
	for _, r := range o.readings {
		station := r.core.Station
		former, before := sound[station], last[station]
		r.former = former
		switch {
		case former == nil:
			r.slip = o.slipAlone(r, nearestOf(sound, r))
		case !o.fits(former, r) && (before == former || !o.fits(before, r)):
			r.slip = o.slipBeside(former, r)
		}
		last[station] = r
		if r.sound() {
			sound[station] = r
		}
	}
}

// nearestOf is the newest sound reading of another station; nil: there is none near.
func nearestOf(sound map[string]*reading, to *reading) (nearest *reading) {
	for _, r := range sound {
		if to.core.Date-r.core.Date <= oldestLean && (nearest == nil || cmp.Or(cmp.Compare(r.core.Date, nearest.core.Date), cmp.Compare(nearest.core.Station, r.core.Station)) > 0) {
			nearest = r
		}
	}
	return nearest
}

// worked reports whether something was taken out or put in between two readings.
func (o *outlook) worked(former, r *reading) bool {
	return slices.ContainsFunc(o.tank.Events, func(e layers.Event) bool {
		return (e.Kind.Splits() || e.Kind == layers.EventReplant) && former.core.Date <= e.Date && e.Date <= r.core.Date
	})
}

// fits reports whether a reading may well come after another of its station.
func (o *outlook) fits(former, r *reading) bool {
	was, is := former.depth(), r.depth()
	differ := apart(former.column.Layers, r.column.Layers, 1/was, 1/is)
	deeper := math.Abs(is-was) > max(unlikeMM, unlikeShare*was)
	if differ <= sameColor && !deeper {
		return true
	}
	switch {
	case slipOf(former, r, 1) != "":
		return false
	case o.worked(former, r):
		return true
	case differ > unlikeColor, is > 4*was, was > 4*is:
		return false
	case apart(former.column.Layers, r.column.Layers, 1/min(was, is), 1/min(was, is)) <= likeColor:
		return true // the same bed, seen less far down or named otherwise
	}
	most := unlikeMM + unlikeGrowth*former.core.Date.Months(r.core.Date)
	return !deeper && math.Abs(r.named.mulm-former.named.mulm) <= most
}

func (r *reading) depth() float64 { return r.edges[len(r.edges)-1] }

// samples is at how many depths two columns are compared (assumption).
const samples = 16

// apart is the mean CIELAB difference (1976) of two columns at the same depths, each depth
// counted by its own scale in parts of 1; what lies beyond 1 is left out.
func apart(a, b []palette.Seen, scaleA, scaleB float64) (mean float64) {
	i, j := 0, 0
	footA, footB := a[0].ThicknessMM*scaleA, b[0].ThicknessMM*scaleB
	for n := range samples {
		at := (float64(n) + 0.5) / samples
		for ; footA < at && i < len(a)-1; footA += a[i].ThicknessMM * scaleA {
			i++
		}
		for ; footB < at && j < len(b)-1; footB += b[j].ThicknessMM * scaleB {
			j++
		}
		x, y := a[i].Lab, b[j].Lab
		mean += math.Hypot(math.Hypot(x.L-y.L, x.A-y.A), x.B-y.B) / samples
	}
	return mean
}

// slipBeside is the likeliest slip of a reading that does not fit the one before it.
func (o *outlook) slipBeside(former, r *reading) Slip {
	was, is := former.depth(), r.depth()
	below := r.column.Layers[1:]
	if r.names[0] == palette.Native && len(below) > 0 && apart(former.column.Layers, below, 1/was, 1/(is-r.edges[1])) <= likeColor {
		return SlipTopUp
	}
	if slip := slipOf(former, r, 1); slip != "" {
		return slip
	}
	if _, ok := tenfoldLayer(former, r); ok && math.Abs(is-was) > max(unlikeMM, unlikeShare*was) {
		return SlipTenfold
	}
	if former.named.mulm-r.named.mulm > unlikeMM && apart(former.column.Layers, r.column.Layers, 1/was, 1/is) > likeColor {
		return SlipRemoval
	}
	return SlipElsewhere // such as the same bed by another ruler
}

// slipOf is the slip that, put right, has a reading agree with another; empty: none does.
// Slack is how much more two stations may differ than two readings of one.
func slipOf(former, r *reading, slack float64) Slip {
	was := former.depth()
	near := func(list []layers.Layer, share float64) bool { return math.Abs(depthOf(list)-was) <= slack*share*was }
	list := r.core.Layers
	as := apart(former.column.Layers, r.column.Layers, 1/was, 1/r.depth())
	turned := slices.Clone(r.column.Layers)
	slices.Reverse(turned)
	if as > likeColor && 2*slack*apart(former.column.Layers, turned, 1/was, 1/r.depth()) < as {
		return SlipTurnedOver
	}
	if near(list, unlikeShare) {
		return ""
	}
	if differences, err := layers.FromDepths(list); err == nil && len(list) > 2 && near(differences, unlikeShare) {
		return SlipDepths
	}
	switch {
	case near(layers.Scaled(list, 0.1), tenfoldNear):
		return SlipTenfold
	case near(layers.Scaled(list, 10), tenfoldNear):
		return SlipTenth
	}
	return ""
}

// tenfoldLayer is the one layer that, ten times thinner, has the reading as deep as the one
// before it.
func tenfoldLayer(former, r *reading) (layer int, ok bool) {
	was, is := former.depth(), r.depth()
	best := max(unlikeMM, unlikeShare*was)
	for i, l := range r.core.Layers {
		if off := math.Abs(is - 0.9*l.ThicknessMM - was); off <= best {
			layer, best, ok = i, off, true
		}
	}
	return layer, ok
}

func depthOf(list []layers.Layer) (mm float64) {
	for _, l := range list {
		mm += l.ThicknessMM
	}
	return mm
}

// leastTurned is how much likelier a column turned over must be for a slip, as the natural
// logarithm of the ratio (assumption: a thousand to one).
const leastTurned = 6.9

// slipAlone is the slip of a station's first reading: by another station's, which may be nil,
// or by itself.
func (o *outlook) slipAlone(r, other *reading) Slip {
	if other != nil {
		if slip := slipOf(other, r, 2); slip != "" {
			return slip
		}
	}
	months := math.Inf(1)
	if o.tank.SetUp != 0 {
		months = max(1, o.tank.SetUp.Months(r.core.Date))
	}
	switch mulm := r.named.mulm; {
	case r.depth() > deepestBed, mulm > mostMulm, mulm/months > mostGrowth:
		return SlipTenfold
	case r.depth() < shallowestBed:
		return SlipTenth
	}
	if r.names[0] == palette.Native && o.toppedUp(r.core.Date) {
		return ""
	}
	turned := r.column
	turned.Layers = slices.Clone(turned.Layers)
	slices.Reverse(turned.Layers)
	if o.matcher.Match(turned).Evidence() > o.matcher.Match(r.column).Evidence()+leastTurned {
		return SlipTurnedOver
	}
	return ""
}

// toppedUp reports whether substrate was laid on the bed by a day.
func (o *outlook) toppedUp(by layers.Date) bool {
	return slices.ContainsFunc(o.tank.Events, func(e layers.Event) bool { return e.Kind == layers.EventTopUpSubstrate && e.Date <= by })
}

// doubtful reports that nothing sound is left for the estimates to stand on.
func (o *outlook) doubtful() bool {
	return !slices.ContainsFunc(o.newest, func(r *reading) bool { return r.sound() || r.leansOn() != nil })
}
