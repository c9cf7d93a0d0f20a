package testscene

import "math"

// glare adds reflections near the strip and away from the card.
func (p dice) glare(s *Scene, lim limits) {
	n := lim.glares[0] + p.IntN(lim.glares[1]-lim.glares[0]+1)
	for range n {
		g := Glare{Kind: glareKind(p.IntN(int(kinds))), Strength: p.in(lim.strength)}
		for c := range g.Tint {
			g.Tint[c] = 1 + 0.1*(2*p.Float64()-1)
		}
		switch g.Kind {
		case lampRow:
			g.WMM, g.HMM, g.TurnDeg = 22+20*p.Float64(), 5+3*p.Float64(), 20*(2*p.Float64()-1)
		case ring:
			g.WMM = 7 + 8*p.Float64()
			g.HMM, g.TurnDeg = g.WMM*(0.6+0.4*p.Float64()), 180*p.Float64()
		case streak:
			g.WMM, g.HMM, g.TurnDeg = 3+8*p.Float64(), 70+70*p.Float64(), 45*(2*p.Float64()-1)
			g.Strength *= 0.55
		case window:
			g.WMM, g.HMM, g.TurnDeg = 14+14*p.Float64(), 18+16*p.Float64(), 12*(2*p.Float64()-1)
			g.Strength *= 0.4
		case curtain:
			g.WMM, g.HMM, g.TurnDeg = 24+26*p.Float64(), 50+40*p.Float64(), 20*(2*p.Float64()-1)
			g.Strength *= 0.15
		default:
			g.WMM = 5 + 8*p.Float64()
			g.HMM, g.TurnDeg = g.WMM*(0.4+0.6*p.Float64()), 180*p.Float64()
		}
		p.aim(s, &g)
		s.Glare = append(s.Glare, g)
	}
	s.cover(p.in(lim.covered))
}

// cover resizes the reflections until they cover about a share of the strip.
func (s *Scene) cover(want float64) {
	const steps, factor = 24, 1.08
	for range steps {
		got, by := s.glareShare(), 1.0
		switch {
		case got > want:
			by = 1 / factor
		case got < 0.85*want:
			by = factor
		}
		for i := range s.Glare {
			s.Glare[i].WMM *= by
			s.Glare[i].HMM *= by
		}
	}
}

// aim puts a reflection on or beside the strip, at the place of ten throws that is farthest from
// the card.
func (p dice) aim(s *Scene, g *Glare) {
	best := math.Inf(-1)
	for range 10 {
		x := s.Strip.LeftMM + s.Strip.WidthMM*(1.2*p.Float64()-0.1)
		y := s.WaterMM + s.Strip.DepthMM*(1.1*p.Float64()-0.1)
		// Distance of the card's middle from the reflection's long axis.
		sin, cos := math.Sincos(g.TurnDeg * math.Pi / 180)
		dx, dy := s.Card.LeftMM+s.Card.WidthMM/2-x, s.Card.TopMM+s.Card.HeightMM/2-y
		u, v := math.Abs(dx*cos+dy*sin)/(g.WMM+s.Card.WidthMM/2), math.Abs(dy*cos-dx*sin)/(g.HMM+s.Card.HeightMM/2)
		if far := max(u, v); far > best {
			best, g.XMM, g.YMM = far, x, y
		}
	}
}
