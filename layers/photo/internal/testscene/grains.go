package testscene

import "math"

// A habit is the shape of a substrate's grains.
type habit uint8

const (
	sandy   habit = iota // small, clear and rounded by water
	rounded              // river gravel
	angular              // crushed gravel
	clayey               // fine crumbs that cling together
	crumbly              // soil crumbs of many sizes
	balls                // baked granules
)

// habits describes grains by their habit. Lengths are in mean radii.
var habits = [...]struct {
	pitch   float32 // of the lattice that grains are strewn on
	ranks   int     // of grains, one behind the other
	long    float32 // longest axis over shortest, at most
	flat    float32 // how flat grains are pressed on the pane, 0 to 1
	relief  float32 // height over radius
	facets  int     // plane faces around a grain; 0: smooth
	hollow  float32 // how dark the gaps are, 0 to 1
	speckle float32 // fine texture on a grain
	odd     float32 // how common grains of other minerals are
}{
	sandy:   {1.45, 2, 1.6, 0.2, 0.8, 0, 0.55, 0.10, 1},
	rounded: {1.5, 2, 1.7, 0.12, 0.95, 0, 0.9, 0.16, 1},
	angular: {1.35, 2, 1.6, 0, 1.0, 6, 0.75, 0.14, 1},
	clayey:  {1.2, 2, 1.7, 0.95, 0.6, 6, 0.5, 0.18, 0},
	crumbly: {1.2, 2, 1.5, 0.1, 0.8, 5, 0.7, 0.22, 0.2},
	balls:   {1.62, 2, 1.12, 0.15, 1.0, 0, 0.85, 0.16, 0},
}

// A heap is the substrate's grains as they lie against the pane, seen pixel by pixel.
type heap struct {
	top    int // first row
	w, h   int
	id     []uint32 // of the visible grain; 0: none
	height []float32
	lit    []float32 // light on the visible surface, about 0 to 1
	radius float32   // mean, px
}

// pile strews grains over the rows from top to foot; keep says whether a grain lies in the bed.
func (st *stage) pile(top, foot int, keep func(x, y, r float32, id uint32) bool) *heap {
	n := st.scene.Native
	hp := &heap{top: top, w: st.w, h: max(0, foot-top), radius: float32(n.GrainMM) / 2 * st.ppm}
	size := hp.w * hp.h
	hp.id, hp.height, hp.lit = make([]uint32, size), make([]float32, size), make([]float32, size)
	for i := range hp.height {
		hp.height[i] = -hp.radius
	}
	form := habits[n.Habit]
	pitch := form.pitch * hp.radius
	for rank := range form.ranks {
		seed := uint32(st.noise(uint32(100 + rank)))
		columns, rows := int32(float32(hp.w)/pitch)+2, int32(float32(hp.h)/pitch)+2
		for j := int32(-1); j < rows; j++ {
			for i := int32(-1); i < columns; i++ {
				st.lay(hp, i, j, seed, pitch, -0.55*float32(rank), keep)
			}
		}
	}
	return hp
}

// lay puts the grain of a lattice point in place.
func (st *stage) lay(hp *heap, i, j int32, seed uint32, pitch, depth float32, keep func(x, y, r float32, id uint32) bool) {
	n := st.scene.Native
	form := habits[n.Habit]
	h := hash(i, j, seed)
	next := func() float32 { // one more random number of this grain
		h = hash(int32(h), 1, seed)
		return unit(h)
	}
	id := h | 1
	x := (float32(i) + 0.5*float32(j&1) + 0.5 + 0.75*(next()-0.5)) * pitch
	y := float32(hp.top) + (float32(j)+0.5+0.75*(next()-0.5))*pitch
	r := hp.radius * clamp(1+float32(n.Spread)*2.6*(next()+next()-1), 0.35, 2.2)
	if !keep(x, y, r, id) {
		return
	}
	// Grains lie on their flat side: the long axis is nearly level.
	turn := float64(next()-0.5) * 2
	long := 1 + (form.long-1)*next()
	sin, cos := math.Sincos(turn)
	g := grain{
		x: x, y: y, a: r * sqrt(long), b: r / sqrt(long), cos: float32(cos), sin: float32(sin),
		z: (depth + 0.5*(next()-0.5)) * hp.radius, rise: form.relief * r, press: (depth*0.6 + form.relief*(1-form.flat)*0.9) * hp.radius, id: id,
	}
	if form.flat == 0 {
		g.press = 1e9
	}
	if form.facets > 0 {
		hp.addFaceted(g, form.facets, next, st.key)
	} else {
		hp.addRound(g, st.key)
	}
}

type grain struct {
	x, y, a, b, cos, sin, z, rise, press float32
	id                                   uint32
}

// span are the pixels that a grain may cover.
func (hp *heap) span(g grain) (x0, x1, y0, y1 int) {
	ex := sqrt(g.a*g.a*g.cos*g.cos + g.b*g.b*g.sin*g.sin)
	ey := sqrt(g.a*g.a*g.sin*g.sin + g.b*g.b*g.cos*g.cos)
	x0, x1 = max(0, int(g.x-ex)), min(hp.w-1, int(g.x+ex)+1)
	y0, y1 = max(hp.top, int(g.y-ey)), min(hp.top+hp.h-1, int(g.y+ey)+1)
	return x0, x1, y0, y1
}

func (hp *heap) addRound(g grain, key [3]float32) {
	x0, x1, y0, y1 := hp.span(g)
	ia, ib := 1/g.a, 1/g.b
	// Key light in the grain's own axes.
	kx, ky := key[0]*g.cos+key[1]*g.sin, key[1]*g.cos-key[0]*g.sin
	// The outline is dented a little on one side, like a bean,
	bend := (unit(g.id) - 0.5) * 0.7
	// and squarer than a circle, like worn stones.
	square := 0.1 + 0.6*unit(g.id*0x9e3779b1)
	for y := y0; y <= y1; y++ {
		row := (y - hp.top) * hp.w
		for x := x0; x <= x1; x++ {
			dx, dy := float32(x)+0.5-g.x, float32(y)+0.5-g.y
			p, q := (dx*g.cos+dy*g.sin)*ia, (dy*g.cos-dx*g.sin)*ib
			q += bend * (p*p - 0.4)
			d2 := p*p + q*q
			d2 = mix(d2, d2*d2, square)
			if d2 >= 1 {
				continue
			}
			up := sqrt(1 - d2)
			height := min(g.z+g.rise*up, g.press)
			if k := row + x; height > hp.height[k] {
				hp.height[k], hp.id[k] = height, g.id
				if height == g.press { // flat on the pane
					up, p, q = mix(up, 1, 0.6), p*0.5, q*0.5
				}
				hp.lit[k] = p*kx + q*ky + up*key[2]
			}
		}
	}
}

func (hp *heap) addFaceted(g grain, facets int, next func() float32, key [3]float32) {
	var face [8]struct{ gx, gy, top, lit float32 }
	start := next()
	for i := range facets {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + float64(start) + 0.7*float64(next())) / float64(facets))
		steep := 1.1 + 1.6*next()
		reach := 0.62 + 0.3*next() // where the face meets the rim, in radii
		f := &face[i]
		f.gx, f.gy, f.top = steep*float32(cos), steep*float32(sin), steep*reach
		f.lit = facing(f.gx, f.gy, key)
	}
	crown := &face[facets]
	crown.gx, crown.gy, crown.top = 0.5*(next()-0.5), 0.5*(next()-0.5), 0.75+0.2*next()
	crown.lit = facing(crown.gx, crown.gy, key)
	x0, x1, y0, y1 := hp.span(g)
	ia, ib := 1/g.a, 1/g.b
	for y := y0; y <= y1; y++ {
		row := (y - hp.top) * hp.w
		for x := x0; x <= x1; x++ {
			dx, dy := (float32(x)+0.5-g.x)*ia, (float32(y)+0.5-g.y)*ib
			low, lit := float32(9), float32(0)
			for i := range facets + 1 {
				f := &face[i]
				if h := f.top - f.gx*dx - f.gy*dy; h < low {
					low, lit = h, f.lit
				}
			}
			if low <= 0 {
				continue
			}
			height := g.z + g.rise*low
			if height > g.press {
				height, lit = g.press, mix(lit, key[2], 0.7)
			}
			if k := row + x; height > hp.height[k] {
				hp.height[k], hp.id[k], hp.lit[k] = height, g.id, lit
			}
		}
	}
}

// facing is the light on a plane with slopes gx and gy.
func facing(gx, gy float32, key [3]float32) float32 {
	return (gx*key[0] + gy*key[1] + key[2]) / sqrt(gx*gx+gy*gy+1)
}

// openness is how freely light reaches a pixel, 0 to 1, by its height over its surroundings.
func (hp *heap) openness() []float32 {
	mean := make([]float32, len(hp.height))
	copy(mean, hp.height)
	radius := max(1, int(hp.radius*0.8))
	buffer := make([]float32, max(hp.w, hp.h))
	for y := range hp.h {
		slide(mean[y*hp.w:], 1, hp.w, radius, buffer)
	}
	for x := range hp.w {
		slide(mean[x:], hp.w, hp.h, radius, buffer)
	}
	scale := 1 / hp.radius
	above := max(1, int(0.7*hp.radius)) * hp.w
	for i := range mean {
		open := step(-1.1, 0.35, (hp.height[i]-mean[i])*scale)
		if i >= above { // the shadow of what lies above
			open *= 1 - 0.4*step(0.25, 1.1, (hp.height[i-above]-hp.height[i])*scale)
		}
		mean[i] = open
	}
	return mean
}

// slide replaces numbers by their running mean.
func slide(v []float32, stride, n, radius int, buffer []float32) {
	for i := range n {
		buffer[i] = v[i*stride]
	}
	at := func(i int) float32 { return buffer[max(0, min(n-1, i))] }
	var sum float32
	for i := -radius; i <= radius; i++ {
		sum += at(i)
	}
	for i := range n {
		v[i*stride] = sum / float32(2*radius+1)
		sum += at(i+radius+1) - at(i-radius)
	}
}
