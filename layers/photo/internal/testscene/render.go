package testscene

import (
	"math"
	"math/rand/v2"
)

// Render paints the scene, photographs it and says what is true of it.
func (s Scene) Render() Photo {
	st := newStage(&s)
	truth := Truth{
		Width: s.Width, Height: s.Height, PxPerMM: s.PxPerMM,
		CardY: s.Card.Y, Native: s.Native.Color,
		Refuse: s.Flaw != NoFlaw,
	}
	if s.Flaw == BlankWall {
		st.paintWall()
	} else {
		st.paintWater()
		st.paintBed().truth(&truth)
		st.paintThings()
		st.tintBed()
	}
	st.paintRuler()
	st.paintCard()
	s.pick(st, &truth)
	picture := st.turned()
	s.illuminate(picture)
	s.addGlare(picture)
	return Photo{JPEG: s.file(s.expose(picture)), Truth: truth}
}

// tintBed gives the bed and the water a light of their own.
func (st *stage) tintBed() {
	t := st.scene.Light.BedTint
	tint := rgb{float32(t[0]), float32(t[1]), float32(t[2])}
	for k, p := range st.px {
		st.px[k] = p.by(tint)
	}
}

// paintWall paints a blank wall.
func (st *stage) paintWall() {
	colour := linear(st.scene.Things.Backdrop)
	coat, rough := st.noise(700), st.noise(701)
	for y := range st.h {
		for x := range st.w {
			u, v := float32(x)/st.ppm, float32(y)/st.ppm
			st.px[y*st.w+x] = colour.times(1 + 0.03*coat.sum(u/40, v/40, 2) + 0.05*rough.sum(u*1.2, v*1.2, 2))
		}
	}
}

// pick marks strip, surface, ruler and card as a keeper would.
func (s *Scene) pick(st *stage, t *Truth) {
	rng := rand.New(rand.NewPCG(s.Seed, 0x41c4))
	off := func() float64 { return rng.NormFloat64() * s.PickErrMM * s.PxPerMM }
	_, t.TrueSurfaceY = st.toPicture(st.stripX(), st.seen)
	// The strip begins in the water, or where the keeper sees the surface.
	top := math.Round(st.seen - s.Strip.AboveMM*s.PxPerMM)
	foot := st.stripFoot()
	w, h := math.Round(s.Strip.WidthMM*s.PxPerMM), foot-top
	mx, my := st.toPicture(st.stripX(), (top+foot)/2)
	left, upper := max(0, math.Round(mx-w/2)), max(0, math.Round(my-h/2))
	t.Strip = [4]float64{left, upper, min(w, float64(s.Width)-left), min(h, float64(s.Height)-upper)}
	t.SurfaceY = math.Round(t.TrueSurfaceY + s.SurfErr*s.PxPerMM)
	x := float64(st.x(s.Ruler.LeftMM + s.Ruler.WidthMM/2))
	x1, y1 := st.toPicture(x, float64(st.y(s.Ruler.TopMM+s.Ruler.FromMM)))
	x2, y2 := st.toPicture(x, float64(st.y(s.Ruler.TopMM+s.Ruler.FromMM+s.Ruler.PickMM)))
	t.Ruler = [4]float64{x1 + off(), y1 + off(), x2 + off(), y2 + off()}
	t.RulerMM = s.Ruler.PickMM
	cx, cy := st.toPicture(float64(st.x(s.Card.LeftMM+s.Card.WidthMM/2)), float64(st.y(s.Card.TopMM+s.Card.HeightMM*0.56)))
	cw, ch := s.Card.WidthMM*0.62*s.PxPerMM, s.Card.HeightMM*0.5*s.PxPerMM
	t.Neutral = [4]float64{math.Round(cx - cw/2), math.Round(cy - ch/2), math.Round(cw), math.Round(ch)}
	t.NativeTyped = mistyped(s.Native.Color, rng)
}
