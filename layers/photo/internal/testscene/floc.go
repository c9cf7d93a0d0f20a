package testscene

// A floc is the texture of loose matter: clumps, crumbs and fluff. It differs from tank to
// tank.
type floc struct {
	size                    float32 // of a clump, px
	crumbs                  float32 // share of its look that is crumbs, not fluff
	clump, billow, warp, of noise
}

func newFloc(st *stage) *floc {
	m := st.scene.Mulm
	return &floc{
		size: float32(m.ClumpMM) * st.ppm, crumbs: float32(m.Crumbs),
		clump: st.noise(310), billow: st.noise(311), warp: st.noise(312), of: st.noise(313),
	}
}

// at is the light at a place, about 1 on average.
func (f *floc) at(x, y float32) float32 {
	u, v := x/f.size, y/f.size
	wx, wy := f.warp.sum(u*2.2, v*2.2, 2), f.warp.sum(u*2.2+50, v*2.2, 2)
	u, v = u+0.22*wx, 1.15*v+0.22*wy
	lump := f.cauliflower(u, v)
	light := 0.5 + 0.65*lump
	if f.crumbs > 0 {
		light = mix(light, f.crumb(2.1*u, 2.1*v)*(0.7+0.5*lump), f.crumbs)
	}
	light += 0.55 * f.rough(u, v)
	return max(light, 0.12) * (1 + 0.25*f.clump.sum(u*0.23, v*0.4, 2))
}

// rough is fluff that is nearly as strong when fine as when coarse, -1 to 1.
func (f *floc) rough(u, v float32) float32 {
	var total float32
	amp := float32(0.36)
	for k := range noise(5) {
		total += amp * (f.clump+k*613).at(u, v)
		amp *= 0.82
		u, v = 1.5*u+1.2*v+4.7, 1.5*v-1.2*u+1.9
	}
	return total
}

// cauliflower is lumps upon lumps with dark creases between them, 0 to about 1.
func (f *floc) cauliflower(u, v float32) float32 {
	var total float32
	amp := float32(0.5)
	for k := range noise(4) {
		total += amp * min(abs(1.7*(f.billow+k*977).at(u, v)), 1)
		amp *= 0.62
		u, v = 1.62*u-1.2*v+3.1, 1.2*u+1.62*v+8.3
	}
	return total
}

// crumb is the light on a heap of crumbs, each with its own tone and a dark rim.
func (f *floc) crumb(u, v float32) float32 {
	i, j := floor(u), floor(v)
	near, second, own := float32(9), float32(9), uint32(0)
	for b := j - 1; b <= j+1; b++ {
		for a := i - 1; a <= i+1; a++ {
			h := hash(a, b, uint32(f.of))
			dx := float32(a) + float32(h&0xffff)*(1.0/65536) - u
			dy := float32(b) + float32(h>>16)*(1.0/65536) - v
			// Crumbs differ in size: the small ones give way.
			if d := dx*dx + dy*dy + 0.35*unit(h*0x9e3779b1); d < near {
				near, second, own = d, near, h
			} else if d < second {
				second = d
			}
		}
	}
	tone := 0.75 + 0.6*unit(hash(int32(own), 21, 0))
	switch odd := own & 31; odd {
	case 0:
		tone = 0.3 // bark, droppings
	case 1:
		tone = 1.9 // shell, root
	}
	return tone * (0.55 + 0.6*step(0, 0.4, second-near)) * (1.15 - 0.4*near)
}
