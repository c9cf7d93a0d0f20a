package reports

import (
	"math"

	"panecore/layers"
	"panecore/layers/bed"
)

// Method is a way of disturbing a bed.
type Method string

// The methods.
const (
	MethodStir   Method = "stir"
	MethodSiphon Method = "siphon"
)

// action is the advice that a method belongs to.
func (m Method) action() Action {
	if m == MethodStir {
		return Stir
	}
	return Siphon
}

// disturbed is what a method, over a share of the floor and down to a depth, does to the
// water of one draw; mg/L.
type disturbed struct {
	totalAmmonia float64 // what there was and what is freed, mg N/L; what was is zero where not measured
	ammonia      float64 // un-ionised at the day's highest pH, mg N/L
	sulfide      float64 // H2S at once, at the day's lowest pH, mg H2S/L
	sulfideDay   float64 // its mean over a day
	fastDebt     float64
	fullDebt     float64
	release      bed.Release
}

// free works out a disturbance of the whole floor; everything it frees goes in step with
// the share of the floor.
func (c *chemistry) free(m Method, depthMM float64) bed.Release {
	d := &c.draw
	hand := bed.Disturbance{
		Footprint: c.vessel.FootprintM2(), Share: 1, Depth: depthMM * bed.Millimeter,
		Reaching: 1, Exchangeable: d.exchangeable, Desorbed: d.desorbed,
	}
	if m == MethodSiphon {
		hand.Reaching = d.siphonReaching
	}
	var mean bed.Release
	for i := range c.stations {
		mean = plus(mean, hand.Release(c.stations[i].stack).In(float64(len(c.stations))))
	}
	return mean
}

// plus adds two releases.
func plus(a, b bed.Release) bed.Release {
	return bed.Release{
		Ammonia: a.Ammonia + b.Ammonia, Sulfide: a.Sulfide + b.Sulfide, IronSulfide: a.IronSulfide + b.IronSulfide,
		FastDebt: a.FastDebt + b.FastDebt, FullDebt: a.FullDebt + b.FullDebt,
	}
}

// water is the tank's water before the disturbance.
func (c *chemistry) water(s state) bed.Water {
	return bed.Water{Volume: c.vessel.WaterM3(), Surface: c.vessel.FootprintM2(), Transfer: s.transfer, Oxygen: s.mixed}
}

// ofShare is what the release from a share of the floor does to the water. Where no pH
// was measured, ammonia and sulphide are NaN.
func (c *chemistry) ofShare(whole bed.Release, share float64) (out disturbed) {
	volume := c.vessel.WaterM3()
	in := whole.In(volume / share)
	out.release = whole.In(1 / share)
	if c.ammonia != nil {
		out.totalAmmonia = max(0, *c.ammonia+c.draw.totalAmmonia)
	}
	out.totalAmmonia += in.Ammonia
	out.ammonia, out.sulfide, out.sulfideDay = math.NaN(), math.NaN(), math.NaN()
	if c.highPH > 0 {
		out.ammonia = out.totalAmmonia * bed.UnionisedShare(c.highPH+c.draw.pH, c.celsius)
		out.sulfide = in.Sulfide * bed.UndissociatedShare(c.lowPH+c.draw.pH, c.celsius) * bed.H2SPerS
		out.sulfideDay = out.sulfide * meanOverDay(c.draw.sulfideLasts)
	}
	out.fastDebt, out.fullDebt = in.FastDebt, in.FullDebt
	return out
}

// meanOverDay is the mean over the first day of what goes with a half-time, d, as a
// share of what there was.
func meanOverDay(halfTime float64) float64 {
	rate := math.Ln2 / halfTime
	return -math.Expm1(-rate) / rate
}

// largestShare is shareWithin of a water that has room for any.
func (c *chemistry) largestShare(whole bed.Release, s state, dips *bed.Dips, limits *[limitCount]limit) float64 {
	return max(0, c.shareWithin(whole, s, dips, limits))
}

// shareWithin is the largest share of the floor, up to 1, at which a release from the
// whole of it stays within every limit: un-ionised ammonia as it stands after, hydrogen
// sulphide as the mean of a day, oxygen at its least within a day. Each goes in step
// with the share, so no search is needed. Below 0 the water is over a limit before.
func (c *chemistry) shareWithin(whole bed.Release, s state, dips *bed.Dips, limits *[limitCount]limit) float64 {
	one := c.ofShare(whole, 1)
	share := 1.0
	within := func(limit, before, after float64) {
		switch {
		case before > limit:
			share = -1
		case after > before:
			share = min(share, (limit-before)/(after-before))
		}
	}
	if !math.IsNaN(one.ammonia) {
		rise := whole.Ammonia / c.vessel.WaterM3() / one.totalAmmonia
		within(limits[layers.LimitAmmonia].value, one.ammonia*(1-rise), one.ammonia)
		within(bed.SulfideLimitH2S, 0, one.sulfideDay)
	}
	within(-limits[layers.LimitOxygen].value, -s.mixed, -s.mixed+dips.Of(whole))
	return share
}
