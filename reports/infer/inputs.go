package infer

import (
	"math"

	"panecore/layers/bed"
	"panecore/reports/stats"
)

// shape is a range as a log-normal on either side of its default, with the range's ends at 5 % and
// 95 %. An end at zero counts as a twentieth of the default.
type shape struct{ middle, down, up float64 }

func newShape(r bed.Range) shape {
	low := r.Low
	if low == 0 {
		low = r.Default / 20
	}
	return shape{r.Default, math.Log(r.Default/low) / stats.Z90, math.Log(r.High/r.Default) / stats.Z90}
}

// at is the value at a normal deviate.
func (s shape) at(z float64) float64 {
	if z < 0 {
		return s.middle * math.Exp(z*s.down)
	}
	return s.middle * math.Exp(z*s.up)
}

// shapes are a material's ranges.
type shapes struct {
	porosity                               bed.Range
	demand, ammonia, sulfide, ironS, solid shape
	sulfideHigh                            float64 // if the default is zero
}

func newShapes(m bed.Material) shapes {
	p := m.Properties()
	s := shapes{
		porosity: p.Porosity, demand: newShape(p.Demand), ammonia: newShape(p.Ammonia),
		ironS: newShape(p.IronSulfide), solid: newShape(p.Solids),
	}
	if p.Sulfide.Default == 0 {
		s.sulfideHigh = p.Sulfide.High
	} else {
		s.sulfide = newShape(p.Sulfide)
	}
	return s
}

// linear is a range as a normal on either side of its default, kept within its ends.
func linear(r bed.Range, z float64) float64 {
	if z < 0 {
		return max(r.Low, r.Default+z/stats.Z90*(r.Default-r.Low))
	}
	return min(r.High, r.Default+z/stats.Z90*(r.High-r.Default))
}

// inputs are the normal deviates behind a draw.
type inputs [InputCount]float64

const (
	byDemand = iota
	byPoreAmmonia
	byPoreSulfide
	byIronSulfide
	byPorosity
	byTransfer
	byMixing
	byRespiration
	byExchange
	byReaching
	byKit
	InputCount
)

// InputNames name the inputs for the keeper.
var InputNames = [InputCount]string{
	byDemand:      "how much oxygen the bed uses",
	byPoreAmmonia: "ammonia in the pores of the bed",
	byPoreSulfide: "dissolved sulphide in the pores of the bed",
	byIronSulfide: "iron sulphide in the bed",
	byPorosity:    "how loose the bed is",
	byTransfer:    "how fast the surface lets oxygen in",
	byMixing:      "how well the water mixes",
	byRespiration: "how much oxygen the water and its animals use",
	byExchange:    "how much ammonia clings to the grains",
	byReaching:    "how much a siphon leaves in the water",
	byKit:         "the water test itself",
}

// sulfideLasts is the half-time of dissolved sulphide stirred into water with oxygen, d
// (assumption: iron and bacteria take most of it within minutes to hours).
var sulfideLasts = bed.Range{Low: 0.2 * bed.Hour, Default: 1 * bed.Hour, High: 6 * bed.Hour}

// roll draws all that is not known about water and bed. One deviate serves every material: what is
// rich in one layer is rich in the next.
func (c *Chemistry) roll(rng *dice, still bool) {
	d := &c.Draw
	for i := range d.Inputs {
		d.Inputs[i] = rng.normal()
	}
	z := &d.Inputs
	warm := bed.DemandAt(1, c.Celsius)
	for m := range d.materials {
		s := &c.shapes[m]
		d.materials[m] = bed.Layer{
			Porosity:    linear(s.porosity, z[byPorosity]),
			Demand:      s.demand.at(z[byDemand]) * warm,
			Solids:      s.solid.at(-z[byPorosity]),
			Ammonia:     s.ammonia.at(z[byPoreAmmonia]),
			Sulfide:     s.sulfide.at(z[byPoreSulfide]) + max(0, z[byPoreSulfide])/stats.Z90*s.sulfideHigh,
			IronSulfide: s.ironS.at(z[byIronSulfide]),
		}
	}
	c.move(motion(c.facts.Flow, still))
	d.respiration = c.assumed.respiration.at(z[byRespiration])
	d.reduced = c.assumed.reduced.at(z[byDemand])
	d.exchangeable = c.assumed.exchangeable.at(z[byExchange])
	d.desorbed = linear(bed.Assumed().Desorbed, z[byExchange])
	d.SiphonReaching = linear(bed.Siphon.Reaching(), z[byReaching])
	d.sulfideLasts = c.assumed.sulfideLasts.at(z[byPoreSulfide])
	d.measuredOxygen, d.pH, d.totalAmmonia = z[byKit], phError*z[byKit], totalAmmoniaError*z[byKit]
}

// move gives the draw the exchange of water in that motion.
func (c *Chemistry) move(m bed.Motion) {
	d, of := &c.Draw, &c.exchange[m]
	d.transfer = of.transfer.at(d.Inputs[byTransfer])
	d.mixing = of.mixing.at(d.Inputs[byMixing])
	d.boundary = of.boundary.at(-d.Inputs[byMixing])
}

// exchangeShapes are a motion's ranges, assumedShapes those that depend on neither motion nor
// material.
type (
	exchangeShapes struct{ transfer, mixing, boundary shape }
	assumedShapes  struct{ respiration, reduced, exchangeable, sulfideLasts shape }
)

func newExchangeShapes(m bed.Motion) exchangeShapes {
	e := m.Exchange()
	return exchangeShapes{newShape(e.Transfer), newShape(e.MixingDark), newShape(e.Boundary)}
}

func newAssumedShapes() assumedShapes {
	a := bed.Assumed()
	return assumedShapes{newShape(a.Respiration), newShape(a.Reduced), newShape(a.Exchangeable), newShape(sulfideLasts)}
}
