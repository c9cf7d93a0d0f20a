package bed

import "math"

// Layer is one layer of a bed, or a part of one.
type Layer struct {
	Thickness   float64 // m
	Porosity    float64 // water by volume, 0 to 1
	Demand      float64 // oxygen that the layer takes up where there is any, g O2/m³/d, at the bed's temperature (DemandAt)
	Solids      float64 // dry matter, kg/m³
	Ammonia     float64 // total ammonia in the pore water, mg N/L
	Sulfide     float64 // total dissolved sulphide in the pore water, mg S/L
	IronSulfide float64 // FeS (acid-volatile sulphide), µmol S/g of dry matter
}

// DemandAt is the oxygen demand at a temperature in °C of what demands demand20 at 20 °C:
//
//	R = R20 · 1.065^(t − 20)
//
// Source: Rounds & Doyle 1997, USGS WRIR 97-4103; 1.04 to 1.13 in Zison et al. 1978
// (range from memory).
func DemandAt(demand20, celsius float64) float64 {
	const growth = 1.065 // a degree
	return demand20 * math.Pow(growth, celsius-20)
}

// SquaredTortuosity is how many times slower a molecule spreads in the pores of a bed
// than in open water:
//
//	θ² = 1 − ln φ², Ds = D/θ²
//
// Source: Boudreau 1996, Geochim. Cosmochim. Acta 60:3139.
func SquaredTortuosity(porosity float64) float64 { return 1 - 2*math.Log(porosity) }

// conductivity is φ·Ds, m²/d, from the diffusivity in open water.
func (l *Layer) conductivity(diffusivity float64) float64 {
	return l.Porosity * diffusivity / SquaredTortuosity(l.Porosity)
}

// Bed is a bed under water whose oxygen is known.
type Bed struct {
	Layers      []Layer // top to bottom
	Diffusivity float64 // of oxygen in water, m²/d (OxygenDiffusivity)
	Boundary    float64 // thickness of the still film of water on the bed, the diffusive boundary layer, m
	Reduced     float64 // oxygen taken by reduced substances that rise from below, g O2/m²/d; 0 if the layers end on the glass floor
}

// Profile is the oxygen in a bed.
type Profile struct {
	Penetration float64 // depth that oxygen reaches, m; the whole depth of the layers if ToFloor
	ToFloor     bool    // there is oxygen down to the end of the layers
	Uptake      float64 // oxygen that goes into the bed, g O2/m²/d
	Surface     float64 // at the bed surface, under the boundary layer, mg/L
	Floor       float64 // at the end of the layers, mg/L

	bed Bed
}

// fed is the steady oxygen in the bed under a supply of oxygen, mg/L, that reaches the bed
// surface through a resistance, d/m: exact for layers that each take up oxygen at a steady
// rate until it is gone, in one pass down the layers. With g = φDs, S the resistance from
// the water to a layer's top, T what the reduced substances take on the way and J their
// flux, oxygen ends in the layer at the depth x below its top where
//
//	R/(2g) x² + (R S + J/g) x = Cw − T
//
// so that L = z + x and the uptake is ΣR h + R x + J. If J alone takes all oxygen
// before it reaches the bed, L is 0 and the uptake is what the boundary layer lets through.
//
// Limits: real uptake slows as oxygen runs out. With a half-saturation of 0.1 to 0.5 mg/L, a
// bed takes up 3 to 10 % less (one in ten 6 to 19 % less), a trace of oxygen, 0.03 mg/L, reaches
// 11 to 46 % deeper (one in ten 22 to 109 %), and the bottom holds up to 0.2 mg/L more
// (TestProfile_besideMonod). The ranges of demand, which span a factor of nine and more, come
// from fits of this same model and hold all that. Snails, worms, roots, bubbles, pumps and coarse
// gravel carry oxygen deeper; nothing in the bed is taken to make any.
//
// Source: zero-order uptake as in Bouldin 1968, J. Ecol. 56:77 (citation from memory);
// several layers derived from it.
func (b Bed) fed(oxygen, resistance float64) Profile {
	p := descend(&b, oxygen, resistance)
	p.bed = b
	return p
}

// descend is fed without a copy of the bed, for callers that only need the numbers.
func descend(b *Bed, oxygen, resistance float64) (p Profile) {
	if oxygen <= 0 {
		return p
	}
	left := oxygen - b.Reduced*resistance
	if left <= 0 {
		p.Uptake = oxygen / resistance
		return p
	}
	above := resistance
	for i := range b.Layers {
		l := &b.Layers[i]
		g := l.conductivity(b.Diffusivity)
		square, linear := l.Demand/(2*g), l.Demand*above+b.Reduced/g
		if x := reach(left, square, linear); x <= l.Thickness {
			p.Penetration += x
			p.Uptake += l.Demand*x + b.Reduced
			p.Surface = max(0, oxygen-p.Uptake*resistance)
			return p
		}
		left = max(0, left-l.Thickness*(square*l.Thickness+linear))
		above += l.Thickness / g
		p.Penetration += l.Thickness
		p.Uptake += l.Demand * l.Thickness
	}
	p.Uptake += b.Reduced
	p.Surface = max(0, oxygen-p.Uptake*resistance)
	p.ToFloor, p.Floor = true, left
	return p
}

// reach is the depth x at which square·x² + linear·x has used up what is left, +Inf if
// nothing is used. This form of the root stays exact if square is small.
func reach(left, square, linear float64) float64 {
	if left == 0 {
		return 0
	}
	return 2 * left / (linear + math.Sqrt(linear*linear+4*square*left))
}

// At is the oxygen, mg/L, at a depth below the bed surface in m, 0 or more; below the
// layers it is that at their end.
func (p Profile) At(depth float64) float64 {
	if depth >= p.Penetration {
		return p.Floor
	}
	oxygen, flux := p.Surface, p.Uptake
	for i := range p.bed.Layers {
		l := &p.bed.Layers[i]
		x := min(depth, l.Thickness)
		oxygen -= x * (flux - l.Demand*x/2) / l.conductivity(p.bed.Diffusivity)
		flux -= l.Demand * x
		if depth -= x; depth <= 0 {
			break
		}
	}
	return max(0, oxygen)
}
