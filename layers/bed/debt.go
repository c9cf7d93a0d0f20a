package bed

import "math"

// Half-times of the oxygen debt, d.
const (
	// IronSulfideHalfTime is that of FeS in near-neutral water in balance with air:
	// Burton et al. 2009, Environ. Sci. Technol. (29 ± 2 min).
	IronSulfideHalfTime = 29 * Minute
	// SlowHalfTime is that of the rest of the debt (assumption: 75 % in two days, in
	// which most of a stirred-up black ooze was oxidised in Choppala et al. 2017,
	// J. Environ. Manage. 186:158).
	SlowHalfTime = 1
)

// Water is the water that a release goes into, mixed.
type Water struct {
	Volume   float64 // m³
	Surface  float64 // m²
	Transfer float64 // gas transfer velocity kL, m/d
	Oxygen   float64 // before the disturbance, mg/L
}

// OxygenAfter is the oxygen left in the water, mg/L, some days after a release into it.
// What took up oxygen before goes on doing so, in balance with the surface, which lets
// in more as oxygen falls; the debt is paid at its half-times:
//
//	dC/dt = k (C0 − C) − Σ rᵢ Dᵢ, dDᵢ/dt = −rᵢ Dᵢ, k = kL A/V, r = ln 2/half-time
//
// in closed form. Water without oxygen pays both debts alike with what the surface lets
// in, until that is enough for both.
func (w Water) OxygenAfter(r Release, days float64) float64 { return w.owing(r).after(days) }

// Dips works out quickly, for many releases into the same water, how far each lowers its
// oxygen.
type Dips struct {
	volume     float64
	fast, slow [dipTimes]float64 // deficit per unit of each debt, time by time
}

// dipTimes is the number of times at which Dips looks, from firstDip to the end in even
// steps of the logarithm: the deficit is so flat near its peak that their maximum is
// within one per cent of it (held by a test).
const (
	dipTimes = 24
	firstDip = 5 * Minute
)

// Dips prepares for releases into the water, within some days, more than firstDip.
func (w Water) Dips(days float64) Dips {
	d := Dips{volume: w.Volume}
	water := owing{refill: w.Transfer * w.Surface / w.Volume}
	step := math.Pow(days/firstDip, 1.0/(dipTimes-1))
	at := float64(firstDip)
	for i := range dipTimes {
		d.fast[i], d.slow[i] = water.lacking(fastRate, at), water.lacking(slowRate, at)
		at *= step
	}
	return d
}

// Of is the most that a release takes from the oxygen in the water, mg/L, if there is
// that much. It is proportional to the release. The least oxygen is what there was
// minus the dip, or 0.
func (d *Dips) Of(r Release) float64 {
	fast, slow := r.FastDebt/d.volume, (r.FullDebt-r.FastDebt)/d.volume
	var most float64
	for i := range d.fast {
		most = max(most, fast*d.fast[i]+slow*d.slow[i])
	}
	return most
}

func (w Water) owing(r Release) owing {
	return owing{
		oxygen: w.Oxygen,
		refill: w.Transfer * w.Surface / w.Volume,
		fast:   r.FastDebt / w.Volume,
		slow:   (r.FullDebt - r.FastDebt) / w.Volume,
	}
}

// owing is water that owes oxygen.
type owing struct {
	oxygen     float64 // its level without debts, mg/L
	refill     float64 // 1/d
	fast, slow float64 // debts, mg/L
}

// The rates at which debts are paid, 1/d.
const (
	fastRate = math.Ln2 / IronSulfideHalfTime
	slowRate = math.Ln2 / SlowHalfTime
)

// after is the oxygen some days after it was at its level without debts.
func (o owing) after(days float64) float64 {
	left := func(days float64) float64 { return o.oxygen - o.deficit(days) }
	if o.fast+o.slow <= o.oxygen { // paid all at once, they would still leave oxygen
		return left(days)
	}
	deepest := o.deepest(days)
	if left(deepest) >= 0 {
		return left(days)
	}
	if o.oxygen <= 0 {
		return 0
	}
	begin := crossing(left, 0, deepest)
	rest, end := o.later(begin).spent()
	if end += begin; days <= end {
		return 0
	}
	rising := o.oxygen * -math.Expm1(-o.refill*(days-end))
	return max(0, rising-rest.deficit(days-end))
}

// deepest is the time within some days when the deficit is largest. It has a single
// peak, since it follows payments that only fall.
func (o owing) deepest(days float64) float64 {
	growth := func(days float64) float64 { // from 1 to −1
		more, less := o.paying(days), o.refill*o.deficit(days)
		if less == 0 {
			return 1
		}
		return (more - less) / (more + less)
	}
	if growth(days) >= 0 {
		return days
	}
	return crossing(growth, 0, days)
}

// spent is what is left of the debts when the surface lets enough into water without
// oxygen for both again, and how long that takes, d. With both payments cut alike, the
// debts are as after a shorter time τ of full payment, and what was paid is what the
// surface let in.
func (o owing) spent() (rest owing, days float64) {
	income := o.refill * o.oxygen // mg/L/d
	short := func(tau float64) float64 { return o.paying(tau) - income }
	if short(0) <= 0 {
		return o, 0
	}
	rest = o.later(crossing(short, 0, math.Log(o.paying(0)/income)/slowRate))
	return rest, (o.fast - rest.fast + o.slow - rest.slow) / income
}

// later is the water some days on, with full payments.
func (o owing) later(days float64) owing {
	o.fast *= math.Exp(-fastRate * days)
	o.slow *= math.Exp(-slowRate * days)
	return o
}

// paying is the oxygen that goes into the debts after some days, mg/L/d.
func (o owing) paying(days float64) float64 {
	o = o.later(days)
	return fastRate*o.fast + slowRate*o.slow
}

// deficit is how far the water is below its level without debts after some days, mg/L.
func (o owing) deficit(days float64) float64 {
	return o.fast*o.lacking(fastRate, days) + o.slow*o.lacking(slowRate, days)
}

// lacking is the part of a debt, paid at a rate, that the surface has not refilled:
// rate/(rate − refill)·(exp(−refill t) − exp(−rate t)), written so that equal rates are
// no trouble.
func (o owing) lacking(rate, days float64) float64 {
	slower, gap := min(rate, o.refill)*days, math.Abs(rate-o.refill)*days
	ratio := 1.0 // (1 − exp(−gap))/gap
	if gap > 0 {
		ratio = -math.Expm1(-gap) / gap
	}
	return rate * days * math.Exp(-slower) * ratio
}
