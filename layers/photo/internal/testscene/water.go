package testscene

import "math"

// shrink is how much smaller the far part of the tank is painted, to blur it faster.
const shrink = 4

// paintWater fills the stage with the water above the bed and its plants.
func (st *stage) paintWater() {
	far := newCanvas(st.w/shrink+2, st.h/shrink+2)
	back := linear(st.scene.Things.Backdrop)
	cloud := st.noise(400)
	for y := range far.h {
		for x := range far.w {
			fx, fy := float32(x)/float32(far.w), float32(y)/float32(far.h)
			light := 1.15 - 0.5*fy + 0.22*cloud.sum(fx*3, fy*2.2, 3)
			far.px[y*far.w+x] = back.times(light)
		}
	}
	far.ground(st)
	for range st.scene.Things.Plants + 3 {
		st.plant(far, st.between(0, float64(far.w)), st.surface/shrink+st.between(-3, 2), 1.0/shrink, 0.6)
	}
	far.blur(st.ppm * 1.1 / shrink)
	for y := range min(st.h, int(st.surface+float32(st.scene.WaveMM+4)*st.ppm)) {
		for x := range st.w {
			st.px[y*st.w+x] = far.sample((float32(x)+0.5)/shrink, (float32(y)+0.5)/shrink)
		}
	}
	for range st.scene.Things.Plants {
		st.plant(st.canvas, st.between(0, float64(st.w)), st.surface+st.between(0, 2)*st.ppm, 1, 1)
	}
	st.receding()
}

// ground darkens the lower part of the far side, where the bed meets the back.
func (c *canvas) ground(st *stage) {
	line := st.surface/shrink - st.ppm*float32(st.scene.RecedesMM)/shrink
	for y := range c.h {
		shade := mix(1, 0.55, step(line-st.ppm*14/shrink, line, float32(y)))
		for x := range c.w {
			p := &c.px[y*c.w+x]
			*p = p.times(shade)
		}
	}
}

// greens of water plants, linear.
var greens = [...]rgb{
	{0.06, 0.17, 0.02}, {0.10, 0.22, 0.04}, {0.04, 0.10, 0.02}, {0.16, 0.24, 0.06}, {0.13, 0.09, 0.03}, {0.2, 0.05, 0.05},
}

// plant grows one plant up from a point.
func (st *stage) plant(c *canvas, x, y, scale, lit float32) {
	green := greens[st.rng.IntN(len(greens))].times(lit * st.between(0.7, 1.2))
	tall := min(float32(st.scene.WaterMM), 90) * st.between(0.4, 1.3) * st.ppm * scale
	mm := st.ppm * scale
	switch st.rng.IntN(3) {
	case 0: // a tuft of ribbons
		for range 3 + st.rng.IntN(5) {
			lean, h := st.between(-0.5, 0.5)*tall, tall*st.between(0.5, 1)
			wide := st.between(0.7, 1.6) * mm
			c.curve([3][2]float32{{x + st.between(-2, 2)*mm, y}, {x + 0.15*lean, y - 0.7*h}, {x + lean, y - h}},
				func(t float32) float32 { return wide * sqrt(max(1-t*t, 0.01)) },
				brush{green.times(st.between(0.7, 1.25)), 0.62, 1})
		}
	case 1: // a stem with pairs of leaves
		lean := st.between(-0.15, 0.15) * tall
		top := [3][2]float32{{x, y}, {x + lean, y - 0.5*tall}, {x + lean, y - tall}}
		c.curve(top, func(float32) float32 { return 0.45 * mm }, brush{green.times(0.8), 0.6, 1})
		gap, leaf := st.between(3, 6)*mm, st.between(4, 9)*mm
		for h := gap; h < tall; h += gap {
			t := h / tall
			sx := x + lean*(2*t-t*t)
			size := leaf * (1 - 0.6*t*t)
			for _, side := range [2]float32{-1, 1} {
				c.leaf(sx, y-h, side*size, -0.35*size*st.between(0.3, 1.4), 0.2, green.times(st.between(0.8, 1.2)))
			}
		}
	default: // a rosette of stalked leaves
		for range 4 + st.rng.IntN(5) {
			lean, h := st.between(-0.6, 0.6)*tall*0.6, tall*st.between(0.25, 0.6)
			mx, my := x+0.5*lean, y-0.55*h
			c.stroke(x, y, 0.4*mm, mx, my, 0.35*mm, brush{green.times(0.7), 0.7, 1})
			c.leaf(mx, my, lean*0.8, -h*0.75, 0.24, green.times(st.between(0.75, 1.2)))
		}
	}
}

// leaf paints a pointed leaf with a paler midrib.
func (c *canvas) leaf(x, y, dx, dy, wide float32, green rgb) {
	length := float32(math.Hypot(float64(dx), float64(dy)))
	p := [3][2]float32{{x, y}, {x + 0.5*dx, y + 0.5*dy - 0.06*length}, {x + dx, y + dy}}
	c.curve(p, func(t float32) float32 { return wide * length * sqrt(max(0, 4*t*(1-t))) * (1.1 - 0.5*t) }, brush{green, 0.75, 1})
	c.curve(p, func(t float32) float32 { return max(0.3, 0.014*length) }, brush{green.times(1.35), 1, 0.6})
}

// receding paints the bed surface behind the pane, lit from above.
func (st *stage) receding() {
	s := st.scene
	if s.RecedesMM <= 0 || len(s.Layers) == 0 {
		return
	}
	deep := float32(s.RecedesMM) * st.ppm
	colour := linear(s.Layers[0].Color)
	n := st.noise(410)
	for x := range st.w {
		fx := float32(x) / st.ppm
		line := st.surface - deep*(0.8+0.35*n.sum(fx/22, 0.5, 2))
		for y := max(0, int(line-2)); y < min(st.h, int(st.surface+float32(s.WaveMM)*st.ppm)); y++ {
			// Seen at a low angle, lumps look stretched sideways.
			t := (float32(y) - line) / deep
			lump := n.sum(fx/(2+3*t), (float32(y)-line)/st.ppm*1.6+30, 3)
			light := mix(1.0, 1.4, clamp(t, 0, 1)) * (1 + 0.3*lump)
			st.over(x, y, colour.times(light), clamp(float32(y)-line, 0, 1))
		}
	}
}
