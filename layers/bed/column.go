package bed

// Column is the water above a bed, in the dark, so that nothing in it makes oxygen, and moved so
// little that oxygen falls from the surface to the bottom.
type Column struct {
	Saturation  float64 // oxygen in balance with the air, mg/L (OxygenSaturation)
	Transfer    float64 // gas transfer velocity kL at the surface, m/d
	Mixing      float64 // vertical eddy diffusivity Kz, m²/d
	Depth       float64 // water over the bed, m: its volume over its surface
	Respiration float64 // oxygen that the water takes up, animals included, g O2/m³/d
	AreaRatio   float64 // area of the bed over that of the water surface; 1 in a box
	Bed         Bed
}

// ColumnProfile is the oxygen from the water surface down into the bed.
type ColumnProfile struct {
	Surface float64 // in the water just below its surface, mg/L
	Bottom  float64 // in the water just above the boundary layer, mg/L
	Oxic    float64 // depth of water that holds oxygen, m; the whole depth unless the bottom has none
	Bed     Profile

	column Column
}

// Steady is the steady oxygen of water and bed in the dark: the surface film, the
// water, the boundary layer and the bed are resistances in series, solved in one pass.
// With a the area ratio, F the bed's uptake and R the respiration,
//
//	Cb = Csat − (a F + R H)/kL − a F H/Kz − R H²/(2 Kz)
//
// and the bed is fed from Csat − R (H/kL + H²/(2Kz)) through a/kL + a H/Kz + δ/D.
// If that leaves the bottom without oxygen, the water is a layer like the bed's, and
// oxygen ends in it.
//
// Limits: kL and Kz are guesses to a factor of 3 and carry most of the error; lids,
// floating plants and a film on the surface lower kL.
//
// Source: derived here; the resistances are those of two-film theory and of eddy
// diffusion.
func (c Column) Steady() ColumnProfile { return c.below(c.Saturation, 1/c.Transfer) }

// Under is the steady oxygen below a surface with a known oxygen, mg/L: measured there,
// or the least of a Day.
func (c Column) Under(surface float64) ColumnProfile { return c.below(surface, 0) }

// below solves the column under a supply of oxygen, mg/L, that reaches the water
// through a resistance film, d/m.
func (c Column) below(oxygen, film float64) ColumnProfile {
	p := ColumnProfile{column: c, Oxic: c.Depth}
	water := c.Depth / c.Mixing // d/m
	lost := c.Respiration * c.Depth * (film + water/2)
	boundary := c.Bed.Boundary / c.Bed.Diffusivity
	resistance := c.AreaRatio*(film+water) + boundary
	if left := oxygen - lost; left > c.Bed.Reduced*resistance {
		p.Bed = c.Bed.fed(left, resistance)
		p.Bottom = p.Bed.Surface + p.Bed.Uptake*boundary
		p.Surface = max(0, oxygen-film*(c.AreaRatio*p.Bed.Uptake+c.Respiration*c.Depth))
		return p
	}
	return c.spent(p, oxygen, film)
}

// spent is below for reduced substances from the bed that meet the last oxygen above
// it: in the boundary layer or in the water.
func (c Column) spent(p ColumnProfile, oxygen, film float64) ColumnProfile {
	p.Bed.bed = c.Bed
	reduced := c.AreaRatio * c.Bed.Reduced // per area of water surface
	left := oxygen - reduced*film
	if left <= 0 {
		p.Oxic = 0
		return p
	}
	square, linear := c.Respiration/(2*c.Mixing), c.Respiration*film+reduced/c.Mixing
	x := reach(left, square, linear)
	if x > c.Depth {
		p.Bed.Uptake = c.Bed.Reduced
		p.Bottom = max(0, left-c.Depth*(square*c.Depth+linear))
	}
	p.Oxic = min(x, c.Depth)
	p.Surface = max(0, left-film*c.Respiration*p.Oxic)
	return p
}

// At is the oxygen, mg/L, at a depth below the water surface in m, 0 to the depth of
// the column.
func (p ColumnProfile) At(depth float64) float64 {
	if depth >= p.Oxic {
		return p.Bottom
	}
	// All that passes through the water surface is taken up below it.
	c := p.column
	flux := c.Respiration*p.Oxic + c.AreaRatio*c.Bed.Reduced
	if p.Oxic == c.Depth {
		flux = c.Respiration*c.Depth + c.AreaRatio*p.Bed.Uptake
	}
	return max(0, p.Surface-depth*(flux-c.Respiration*depth/2)/c.Mixing)
}
