package bed

import (
	"cmp"
	"fmt"
	"math"
)

// Day is a column of water, mixed from top to bottom, through light and dark that are
// the same every day.
type Day struct {
	Column      Column  // its Mixing is not used
	LightsOn    float64 // hour of the clock, 0 to 24
	LitHours    float64 // 0 to 24
	PlantOxygen float64 // what plants and algae give off while lit, g O2 a day per m² of water surface
	Step        float64 // longest step of the calculation, d; 0: FineStep
}

// DayCourse is the oxygen in the water through a day that ends as it began.
type DayCourse struct {
	Minimum     float64 // mg/L
	MinimumHour float64 // hour of the clock
	Maximum     float64 // mg/L
	MaximumHour float64 // hour of the clock
	Mean        float64 // mg/L

	day Day
}

// Steps through the day, d. The Runge-Kutta method is good to far less than 0.01 mg/L
// in either; the coarse one is for thousands of draws.
const (
	FineStep   = 5 * Minute
	CoarseStep = 30 * Minute
)

// Course is the day's course of
//
//	H dC/dt = kL (Csat − C) − a F(C) + P(t) − R H
//
// with the uptake F of Bed.Profile, which follows the water within minutes to hours
// (Higashino, Gantzer & Stefan 2004, Water Research 38:1), and P while lit. Water
// without oxygen takes up what comes in and no more. The course ends where it began.
// Oxygen rises all through the light and falls all through the dark, since neither
// changes within itself: it is least when the lights come on.
//
// Limits: those of Column; above saturation, oxygen also leaves in bubbles.
func (d Day) Course() DayCourse {
	c := d.Column
	gain := func(oxygen float64) float64 {
		after, _ := d.advance(oxygen, 0, 24)
		return after - oxygen
	}
	// Even in endless light the water would settle below this.
	most := c.Saturation + d.PlantOxygen/c.Transfer
	dawn := crossing(gain, 0, most)
	dusk, lit := d.advance(dawn, 0, d.LitHours)
	_, dark := d.advance(dusk, d.LitHours, 24-d.LitHours)
	// Light takes no oxygen; in water that is left with less than the steps resolve it may seem to.
	dusk = max(dusk, dawn)
	return DayCourse{
		Minimum: dawn, MinimumHour: math.Mod(d.LightsOn, 24),
		Maximum: dusk, MaximumHour: math.Mod(d.LightsOn+d.LitHours, 24),
		Mean: lit + dark,
		day:  d,
	}
}

// At is the oxygen, mg/L, at an hour of the clock, 0 to 24.
func (c DayCourse) At(hour float64) float64 {
	oxygen, _ := c.day.advance(c.Minimum, 0, c.day.sinceLight(hour))
	return oxygen
}

// sinceLight is how long ago the lights came on, h, at an hour of the clock.
func (d Day) sinceLight(hour float64) float64 { return math.Mod(hour-d.LightsOn+48, 24) }

// The gas transfer velocities that FitTransfer tries, m/d (assumption: a dead still
// surface under a lid, and twice the strongest air stone).
const (
	leastTransfer = 0.02
	mostTransfer  = 20.0
)

// FitTransfer is the gas transfer velocity kL, m/d, at which the day's course passes
// through the oxygen, mg/L, measured at an hour of the clock. If two do, as may happen
// in water that makes more oxygen than it uses, it is the one nearer to the Column's.
// Its error says that none does.
func (d Day) FitTransfer(oxygen, hour float64) (float64, error) {
	const fold = 2 // from one velocity tried to the next
	from := d.sinceLight(hour)
	// A day that starts from the measured oxygen must end at it.
	gain := func(transfer float64) float64 {
		d := d
		d.Column.Transfer = transfer
		after, _ := d.advance(oxygen, from, 24)
		return after - oxygen
	}
	best, distance := 0.0, math.Inf(1)
	low, below := leastTransfer, gain(leastTransfer)
	for low < mostTransfer {
		high := min(low*fold, mostTransfer)
		above := gain(high)
		if (below < 0) != (above < 0) {
			fit := crossing(gain, low, high)
			if off := math.Abs(math.Log(fit / d.Column.Transfer)); off < distance {
				best, distance = fit, off
			}
		}
		low, below = high, above
	}
	if best == 0 {
		return 0, fmt.Errorf("found oxygen %g mg/L at %g h, want one that a gas transfer velocity of %g to %g m/d can explain",
			oxygen, hour, leastTransfer, mostTransfer)
	}
	return best, nil
}

// advance carries oxygen, mg/L, on over so many hours from a time in hours after the
// lights came on. The second result is what they add to the mean of 24 hours.
func (d Day) advance(oxygen, from, hours float64) (after, share float64) {
	for hours > 0 {
		end, plants := 24.0, 0.0
		if from < d.LitHours {
			end, plants = d.LitHours, d.PlantOxygen
		}
		span := min(hours, end-from)
		var mean float64
		oxygen, mean = d.phase(oxygen, plants, span*Hour)
		share += mean * span / 24
		hours -= span
		if from = end; from >= 24 {
			from = 0
		}
	}
	return oxygen, share
}

// phase carries oxygen on over some days of unchanged light, by the fourth-order
// Runge-Kutta method; mean is the mean oxygen meanwhile.
func (d Day) phase(oxygen, plants, days float64) (after, mean float64) {
	if days <= 0 {
		return oxygen, 0
	}
	n := math.Ceil(days / d.step())
	h, c := days/n, &d.Column
	mean = oxygen / 2
	for range int(n) {
		k1 := change(c, oxygen, plants)
		k2 := change(c, oxygen+h/2*k1, plants)
		k3 := change(c, oxygen+h/2*k2, plants)
		k4 := change(c, oxygen+h*k3, plants)
		oxygen = max(0, oxygen+h/6*(k1+2*k2+2*k3+k4))
		mean += oxygen
	}
	return oxygen, (mean - oxygen/2) / n
}

// step is the longest step taken, d: the one asked for, but at most half the shortest
// response time of the water; the method fails at 2.8 of those.
func (d Day) step() float64 {
	const thinnest = 0.01 * Millimeter // a thinner film makes no visible difference (assumption)
	c := &d.Column
	response := c.Depth / (c.Transfer + c.AreaRatio*c.Bed.Diffusivity/max(c.Bed.Boundary, thinnest))
	return min(cmp.Or(d.Step, FineStep), response/2)
}

// change is dC/dt in a mixed column, mg/L/d, while plants give off g O2/m²/d.
func change(c *Column, oxygen, plants float64) float64 {
	oxygen = max(0, oxygen)
	film := c.Bed.Boundary / c.Bed.Diffusivity
	rate := (c.Transfer*(c.Saturation-oxygen)-c.AreaRatio*descend(&c.Bed, oxygen, film).Uptake+plants)/c.Depth - c.Respiration
	if oxygen == 0 {
		return max(0, rate)
	}
	return rate
}

// crossing is where f, which changes its sign once from low to high, crosses zero, by
// false position with Illinois weights (Dowell & Jarratt 1971, BIT 11:168, citation
// from memory): nearly straight functions take three or four calls.
func crossing(f func(float64) float64, low, high float64) float64 {
	const (
		agree = 1e-7 // mg/L: between two days
		calls = 100
	)
	below, above := f(low), f(high)
	if math.Abs(below) < agree {
		return low
	}
	for range calls {
		if math.Abs(above) < agree {
			break
		}
		x := high - above*(high-low)/(above-below)
		y := f(x)
		if (y < 0) == (above < 0) {
			below /= 2
		} else {
			low, below = high, above
		}
		high, above = x, y
	}
	return high
}
