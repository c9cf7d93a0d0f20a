package scene

// floc is how loose matter is lit: crumbs, clumps and fine fluff.
type floc struct {
	ppm               float32
	clump, warp, cell noise
}

func newFloc(st *stage) *floc {
	return &floc{ppm: st.ppm, clump: st.noise(310), warp: st.noise(311), cell: st.noise(312)}
}

// at is the light on a place, about 1 on average.
func (f *floc) at(x, y float32) float32 {
	u, v := x/f.ppm, y/f.ppm
	wx, wy := f.warp.at(u/1.1, v/1.1), f.warp.at(u/1.1+40, v/1.1)
	u, v = u+0.45*wx, v+0.45*wy
	clump := f.clump.sum(u/4.5, v/2.6, 3)
	near, second := f.crumb(u/0.85, v/0.7)
	edge := step(0, 0.35, second-near)
	return (1 + 0.35*clump) * mix(0.72, 1.1, edge) * (1.1 - 0.35*near) * (1 + 0.12*wx)
}

// crumb is the distance to the nearest and second nearest of points strewn on the lattice.
func (f *floc) crumb(x, y float32) (near, second float32) {
	i, j := floor(x), floor(y)
	near, second = 9, 9
	for b := j - 1; b <= j+1; b++ {
		for a := i - 1; a <= i+1; a++ {
			h := hash(a, b, uint32(f.cell))
			dx := float32(a) + float32(h&0xffff)*(1.0/65536) - x
			dy := float32(b) + float32(h>>16)*(1.0/65536) - y
			d := dx*dx + dy*dy
			if d < near {
				near, second = d, near
			} else if d < second {
				second = d
			}
		}
	}
	return sqrt(near), sqrt(second)
}
