package infer

import (
	"math"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/reports"
)

// Disturbed is the water of one draw after a disturbance, mg/L.
type Disturbed struct {
	TotalAmmonia float64 // before (zero if not measured) and freed, mg N/L
	Ammonia      float64 // un-ionised at the day's highest pH, mg N/L
	Sulfide      float64 // H2S at once, at the day's lowest pH, mg H2S/L
	SulfideDay   float64 // its mean over a day
	FastDebt     float64
	FullDebt     float64
	Release      bed.Release
}

// Free is what disturbing the whole floor releases, to a depth in mm. Everything released is
// proportional to the share of the floor.
func (c *Chemistry) Free(m reports.Method, depthMM float64) bed.Release {
	d := &c.Draw
	disturbance := bed.Disturbance{
		Footprint: c.Vessel.FootprintM2(), Share: 1, Depth: depthMM * bed.Millimeter,
		Reaching: 1, Exchangeable: d.exchangeable, Desorbed: d.desorbed,
	}
	if m == reports.MethodSiphon {
		disturbance.Reaching = d.SiphonReaching
	}
	var mean bed.Release
	for i := range c.stations {
		mean = plus(mean, disturbance.Release(c.stations[i].stack).In(float64(len(c.stations))))
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

// Water is the tank's water before the disturbance.
func (c *Chemistry) Water(s State) bed.Water {
	return bed.Water{Volume: c.Vessel.WaterM3(), Surface: c.Vessel.FootprintM2(), Transfer: s.transfer, Oxygen: s.mixed}
}

// OfShare is the water after the release from a share of the floor, 0 to 1. Without a pH, un-ionised
// ammonia and sulphide are NaN.
func (c *Chemistry) OfShare(whole bed.Release, share float64) (out Disturbed) {
	volume := c.Vessel.WaterM3()
	in := whole.In(volume / share)
	out.Release = whole.In(1 / share)
	if c.Ammonia != nil {
		out.TotalAmmonia = max(0, *c.Ammonia+c.Draw.totalAmmonia)
	}
	out.TotalAmmonia += in.Ammonia
	out.Ammonia, out.Sulfide, out.SulfideDay = math.NaN(), math.NaN(), math.NaN()
	if c.HighPH > 0 {
		out.Ammonia = out.TotalAmmonia * bed.UnionisedShare(c.HighPH+c.Draw.pH, c.Celsius)
		out.Sulfide = in.Sulfide * bed.UndissociatedShare(c.lowPH+c.Draw.pH, c.Celsius) * bed.H2SPerS
		out.SulfideDay = out.Sulfide * meanOverDay(c.Draw.sulfideLasts)
	}
	out.FastDebt, out.FullDebt = in.FastDebt, in.FullDebt
	return out
}

// meanOverDay is the mean over the first day of something that decays with a half-time, d, as a
// share of what there was.
func meanOverDay(halfTime float64) float64 {
	rate := math.Ln2 / halfTime
	return -math.Expm1(-rate) / rate
}

// LargestShare is ShareWithin, but 0 where the water is over a limit before.
func (c *Chemistry) LargestShare(whole bed.Release, s State, dips *bed.Dips) float64 {
	return max(0, c.ShareWithin(whole, s, dips))
}

// ShareWithin is the largest share of the floor, up to 1, whose release stays within every limit:
// un-ionised ammonia at once, hydrogen sulphide as the mean of a day, oxygen at its least within a
// day. whole is the release of the whole floor. Each is linear in the share, so no search is needed.
// Below 0 the water is over a limit before.
func (c *Chemistry) ShareWithin(whole bed.Release, s State, dips *bed.Dips) float64 {
	all := c.OfShare(whole, 1)
	share := 1.0
	within := func(limit, before, after float64) {
		switch {
		case before > limit:
			share = -1
		case after > before:
			share = min(share, (limit-before)/(after-before))
		}
	}
	if !math.IsNaN(all.Ammonia) {
		rise := whole.Ammonia / c.Vessel.WaterM3() / all.TotalAmmonia
		within(c.facts.Limit(layers.LimitAmmonia), all.Ammonia*(1-rise), all.Ammonia)
		within(bed.SulfideLimitH2S, 0, all.SulfideDay)
	}
	within(-c.facts.Limit(layers.LimitOxygen), -s.mixed, -s.mixed+dips.Of(whole))
	return share
}
