package testscene

import "math"

// glareKind is what the pane reflects.
type glareKind uint8

const (
	lampRow glareKind = iota // a row of bright diodes
	ring                     // a round lamp
	streak                   // a tube, drawn out
	window                   // a window with its bars and what stands outside
	flare                    // one soft burst of light
	curtain                  // a pale curtain or shirt in its folds
	kinds                    // their number
)

// shape is the strength of a reflection at a place, 0 to about 1; u and v run from -1 to 1 over
// its width and height.
func (g *Glare) shape(u, v float32, n noise) float32 {
	switch g.Kind {
	case lampRow:
		// Seven diodes, each a small burst with its halo.
		cell := u * 3.5
		d := cell - float32(math.Round(float64(cell)))
		core := 1 / (1 + 60*(d*d+12*v*v))
		return (core + 0.25*fade(v*v)) * fade(u*u*u*u)
	case ring:
		r := sqrt(u*u + v*v)
		e := (r - 0.62) / 0.17
		return fade(e*e*0.5) + 0.12*fade(r*r)
	case streak:
		u += 0.3 * n.at(v*1.3, 0.5) // glass is never quite flat
		return (0.45*fade(14*u*u) + 0.55*fade(2.5*u*u)) * step(1, 0.2, abs(v)) * (0.85 + 0.3*n.at(v*3, 9.5))
	case window:
		u += 0.16 * v // seen askew
		u, v = u+0.02*n.at(2*u, 2*v), v+0.02*n.at(2*u+9, 2*v)
		inside := step(1, 0.86, abs(u)) * step(1, 0.88, abs(v))
		if inside == 0 {
			return 0
		}
		bar := step(0.03, 0.11, abs(u)) * step(0.03, 0.12, abs(v+0.15))
		garden := mix(0.35, 1, step(0.35, -0.1, v+0.35*n.sum(3*u, 1.5*v, 3)))
		return inside * bar * garden * 0.9
	case curtain:
		r2 := u*u + v*v
		if r2 > 1.44 {
			return 0
		}
		return step(1.2, 0.3, sqrt(r2)) * (0.7 + 0.4*n.at(5*u+0.6*v, 0.4*v))
	default:
		r2 := u*u + v*v
		return 0.8/(1+9*r2)*step(1.3, 0.7, sqrt(r2)) + 0.3*fade(12*r2)
	}
}

// fade falls from 1 at 0 in a bell curve.
func fade(x float32) float32 { return 1 / ((1 + x) * (1 + x)) }

// at is the light that a reflection adds at a place in the picture, mm.
func (g *Glare) at(x, y, sin, cos float32, n noise) float32 {
	dx, dy := x-float32(g.XMM), y-float32(g.YMM)
	u, v := (dx*cos+dy*sin)*2/float32(g.WMM), (dy*cos-dx*sin)*2/float32(g.HMM)
	if u*u > 9 || v*v > 9 { // faded out within three half widths
		return 0
	}
	return max(g.shape(u, v, n)-0.004, 0) * float32(g.Strength)
}

// bent is the unevenness of the pane in a reflection.
func (s *Scene) bent(i int) noise { return noise(hash(int32(i), 77, uint32(s.Seed))) }

func (g *Glare) turn() (sin, cos float32) {
	s, c := math.Sincos(g.TurnDeg * math.Pi / 180)
	return float32(s), float32(c)
}

// addGlare adds the reflections to a lit picture.
func (s *Scene) addGlare(c *canvas) {
	ppm := float32(s.PxPerMM)
	for i := range s.Glare {
		g := &s.Glare[i]
		sin, cos := g.turn()
		n := s.bent(i)
		tint := rgb{float32(g.Tint[0]), float32(g.Tint[1]), float32(g.Tint[2])}
		w, h := 1.5*float32(g.WMM)*ppm, 1.5*float32(g.HMM)*ppm
		reachX, reachY := w*abs(cos)+h*abs(sin), w*abs(sin)+h*abs(cos)
		mx, my := float32(g.XMM)*ppm, float32(g.YMM)*ppm
		for y := max(0, int(my-reachY)); y < min(c.h, int(my+reachY)); y++ {
			for x := max(0, int(mx-reachX)); x < min(c.w, int(mx+reachX)); x++ {
				if f := g.at((float32(x)+0.5)/ppm, (float32(y)+0.5)/ppm, sin, cos, n); f > 0 {
					k := y*c.w + x
					c.px[k] = c.px[k].plus(tint.times(f))
				}
			}
		}
	}
}

// glareShare is the approximate share of the strip under glare.
func (s *Scene) glareShare() float64 {
	const across, down = 30, 50
	var n int
	for j := range down {
		for i := range across {
			x := s.Strip.LeftMM + s.Strip.WidthMM*(float64(i)+0.5)/across
			y := s.WaterMM - s.Strip.AboveMM + (s.Strip.AboveMM+s.Strip.DepthMM)*(float64(j)+0.5)/down
			var added float32
			for k := range s.Glare {
				sin, cos := s.Glare[k].turn()
				added += s.Glare[k].at(float32(x), float32(y), sin, cos, s.bent(k))
			}
			if added > glared {
				n++
			}
		}
	}
	return float64(n) / (across * down)
}

// glared is the added light above which a pixel counts as under glare, linear.
const glared = 0.04

// illuminate lights the picture with tint, fall-off, dark corners and haze.
func (s *Scene) illuminate(c *canvas) {
	l := s.Light
	tint := rgb{float32(l.Tint[0]), float32(l.Tint[1]), float32(l.Tint[2])}
	haze := rgb{float32(l.HazeTint[0]), float32(l.HazeTint[1]), float32(l.HazeTint[2])}.times(float32(l.Haze))
	columns := make([]float32, c.w)
	for x := range columns {
		off := (float32(x)/float32(c.w) - float32(l.LampX)) / max(float32(l.LampX), 1-float32(l.LampX))
		columns[x] = 1 - float32(l.Side)*off*off
	}
	diagonal2 := float32(c.w*c.w+c.h*c.h) / 4
	for y := range c.h {
		down := float32(y) / float32(c.h)
		row := 1 - float32(l.Down)*down*(0.6+0.4*down)
		dy := float32(y) - float32(c.h)/2
		for x := range c.w {
			dx := float32(x) - float32(c.w)/2
			far := (dx*dx + dy*dy) / diagonal2
			light := row * columns[x] * (1 - float32(l.Vignette)*far*far)
			k := y*c.w + x
			c.px[k] = c.px[k].by(tint).times(light).plus(haze)
		}
	}
}
