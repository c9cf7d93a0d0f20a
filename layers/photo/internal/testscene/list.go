package testscene

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// listed is a scene of the list.
type listed struct {
	native  string
	bands   string // from the top, in codes
	options string // w: strip begins in the water; r: rolled; p: portrait; 3, 6, 8: EXIF orientation; l: large; k: the bed recedes; e: the bed continues below the picture
}

// Scenes lists the test photos: every band and kind of substrate in every difficulty, with the
// strip beginning in the water or at the surface, some rolled, some turned by EXIF.
func Scenes() []Scene {
	var out []Scene
	for _, group := range []struct {
		difficulty Difficulty
		rows       []listed
	}{{Easy, easyRows}, {Middling, middlingRows}, {Hard, hardRows}} {
		for i, r := range group.rows {
			out = append(out, r.scene(group.difficulty, i, NoFlaw))
		}
	}
	for i, r := range flawedRows {
		out = append(out, r.listed.scene(Unreadable, i, r.flaw))
	}
	return out
}

// dice choose a scene's parameters at random.
type dice struct{ *rand.Rand }

func (p dice) in(r [2]float64) float64 { return r[0] + (r[1]-r[0])*p.Float64() }

func (r listed) scene(d Difficulty, index int, flaw Flaw) Scene {
	name := fmt.Sprintf("%s-%02d", d, index+1)
	seed := uint64(hash(int32(index), int32(d[0]), 2024)) << 20
	p := dice{rand.New(rand.NewPCG(seed, 0x11a5))}
	lim, known := allowed[d]
	if !known {
		lim = allowed[Middling]
	}
	s := Scene{Name: name, Difficulty: d, Seed: seed + uint64(index), Flaw: flaw, Orientation: 1}
	s.Native = p.native(r.native)
	s.WaveMM = p.in(lim.wave)
	s.Layers = p.layers(r.bands, s.Native, lim)
	s.Mulm = Mulm{ClumpMM: 1.4 + 2*p.Float64(), Crumbs: 0.8 * p.Float64(), Sunk: lim.sunk * p.Float64()}
	s.Stain = 0.3 + 0.7*p.Float64()
	r.frame(&s, p)
	s.PickErrMM = lim.pickError
	p.light(&s, lim)
	p.camera(&s, lim)
	p.things(&s, lim)
	p.place(&s, r)
	p.card(&s, lim)
	p.glare(&s, lim)
	s.spoil(p)
	return s
}

// sizes are the pictures' sizes, px.
var sizes = [][2]int{{1600, 1200}, {1600, 1200}, {2000, 1500}}

// frame sets the picture's size, scale, roll and orientation so that bed, water and frame fit.
func (r listed) frame(s *Scene, p dice) {
	size := sizes[p.IntN(len(sizes))]
	has := func(option string) bool { return strings.Contains(r.options, option) }
	if has("l") {
		size = [2]int{2400, 1800}
	}
	if has("p") {
		size = [2]int{1200, 1600}
	}
	s.Width, s.Height = size[0], size[1]
	for _, o := range []int{3, 6, 8} {
		if has(fmt.Sprint(o)) {
			s.Orientation = o
		}
	}
	if has("r") {
		s.RollDeg = (1.2 + 3.7*p.Float64()) * float64(1-2*p.IntN(2))
	}
	s.Things.FrameMM = 3 + 5*p.Float64()
	s.WaterMM = 14 + 22*p.Float64()
	if has("p") {
		s.WaterMM += 25
	}
	below := 2 + 6*p.Float64()
	if has("e") {
		s.Things.FrameMM, below = 0, -3
	}
	view := max(s.WaterMM+s.bedMM()+1.2+s.Things.FrameMM+below, 92)
	s.PxPerMM = math.Round(float64(s.Height)/view*1000) / 1000
	if s.PxPerMM < 8 {
		panic(s.Name + ": the bed does not fit")
	}
	s.WaterMM = float64(s.Height)/s.PxPerMM - s.bedMM() - 1.2 - s.Things.FrameMM - below
	if has("k") {
		s.RecedesMM = 3 + 5*p.Float64()
	}
}

func (p dice) light(s *Scene, lim limits) {
	lamp := lamps[p.IntN(len(lamps))]
	left := p.in(lim.tint)
	l := &s.Light
	for c := range l.Tint {
		l.Tint[c] = 1 + (lamp[c]-1)*left
		l.BedTint[c] = 1 + lim.cast*0.6*(2*p.Float64()-1)
		l.HazeTint[c] = 1 + 0.15*(2*p.Float64()-1)
	}
	l.Down, l.Side, l.Vignette = p.in(lim.fall), p.in(lim.fall)*0.8, p.in(lim.fall)
	l.LampX, l.Haze, l.KeyX = 0.2+0.6*p.Float64(), p.in(lim.haze), 2*p.Float64()-1
}

func (p dice) camera(s *Scene, lim limits) {
	// A camera's metering keeps the bed from burning out.
	ceiling := math.Log2(0.62 / float64(linear(s.Native.Color).luma()))
	c := &s.Camera
	c.EV = min(p.in(lim.ev), ceiling)
	c.BlurPx, c.Shot, c.Read, c.Chroma = p.in(lim.blur), p.in(lim.shot), p.in(lim.read), lim.chroma*p.Float64()
	c.Curve, c.Saturation, c.Sharpen = p.in(lim.curve), p.in(lim.saturation), p.in(lim.sharpen)
	c.Quality = int(math.Round(p.in(lim.quality)))
	if lim.motion > 0 && p.IntN(3) == 0 {
		c.MotionPx, c.MotionDeg = lim.motion*(0.5+0.5*p.Float64()), 180*p.Float64()
	}
}

var (
	backdrops = []string{"#6f8a86", "#8f9a92", "#22302f", "#465f6e", "#a7aa9a", "#31412f", "#7f8f9f", "#b9b39c"}
	frames    = []string{"#17181a", "#2a2b2d", "#5f6062", "#8d7b5a", "#27343a"}
)

func (p dice) things(s *Scene, lim limits) {
	few := func(n int) int { return p.IntN(n + 1) }
	s.Things = Things{
		Plants: 2 + few(4), Stems: few(lim.things / 2), Roots: few(lim.things * 2), Pebbles: few(lim.things), Snails: few(lim.things),
		Bubbles: few(lim.things * 2), Leaves: few(lim.things), FrameMM: s.Things.FrameMM,
		Backdrop: hex(backdrops[p.IntN(len(backdrops))]), Frame: hex(frames[p.IntN(len(frames))]),
	}
	if lim.algae > 0 && p.IntN(2) == 0 {
		s.Things.Algae = lim.algae * (0.4 + 0.6*p.Float64())
	}
}

// place sets strip, ruler and card side by side.
func (p dice) place(s *Scene, r listed) {
	wide, high := float64(s.Width)/s.PxPerMM, float64(s.Height)/s.PxPerMM
	lean := high * math.Sin(math.Abs(s.RollDeg)*math.Pi/180) / 2
	s.Ruler.Style, s.Ruler.InCM = rulerStyle(p.IntN(len(rulers))), p.IntN(2) == 0
	s.Ruler.WidthMM = 17 + 9*p.Float64()
	s.Ruler.TopMM = 6 + 4*p.Float64() + lean*0.4
	s.Ruler.LengthMM = math.Floor(high - s.Ruler.TopMM - 5 - 5*p.Float64() - lean*0.4)
	s.Ruler.PickMM = min(math.Floor(s.Ruler.LengthMM/10)*10, 10*float64(7+p.IntN(6)))
	s.Ruler.FromMM = 10 * float64(p.IntN(1+int(s.Ruler.LengthMM-s.Ruler.PickMM)/10))
	from, to := 3+lean, wide-3-lean
	cardWide := 16 + 8*p.Float64()
	s.Card.WidthMM, s.Card.HeightMM = cardWide, 13+7*p.Float64()
	s.Ruler.TicksRight = p.IntN(2) == 0
	if s.Ruler.TicksRight {
		s.Ruler.LeftMM = from
		s.Card.LeftMM = to - cardWide
		from, to = from+s.Ruler.WidthMM, to-cardWide
	} else {
		s.Ruler.LeftMM = to - s.Ruler.WidthMM
		s.Card.LeftMM = from
		from, to = from+cardWide, to-s.Ruler.WidthMM
	}
	from, to = from+3, to-3
	s.Strip.WidthMM = min(24+34*p.Float64(), to-from)
	s.Strip.LeftMM = from + (to-from-s.Strip.WidthMM)*p.Float64()
	s.Strip.DepthMM = s.bedMM() - 0.8 - 2*p.Float64()
	if strings.Contains(r.options, "w") {
		s.Strip.AboveMM = 4 + 8*p.Float64()
		s.SurfErr = 2 * (2*p.Float64() - 1)
	}
}

func (p dice) card(s *Scene, lim limits) {
	greys := []float64{0.18, 0.18, 0.25, 0.36, 0.5}
	s.Card.Y = greys[p.IntN(len(greys))]
	for c := range s.Card.Cast {
		s.Card.Cast[c] = 1
	}
	if lim.cast > 0 {
		off := lim.cast * (0.5 + 0.5*p.Float64()) * float64(1-2*p.IntN(2))
		s.Card.Cast[0], s.Card.Cast[2] = 1+off, 1-off
	}
	s.Card.TiltDeg = 5 * (2*p.Float64() - 1)
	s.Card.TapeAcross = p.IntN(2) == 0
	low := float64(s.Height)/s.PxPerMM - s.Card.HeightMM - 10
	s.Card.TopMM = 5 + (low-5)*p.Float64()
}

// spoil gives an unreadable scene its flaw.
func (s *Scene) spoil(p dice) {
	switch s.Flaw {
	case Defocus:
		s.Camera.BlurPx = 3.2 * s.PxPerMM
	case OneGlare:
		s.Glare = []Glare{{
			Kind: flare, XMM: s.Strip.LeftMM + s.Strip.WidthMM/2, YMM: s.WaterMM + s.Strip.DepthMM/2,
			WMM: s.Strip.WidthMM * 3.6, HMM: s.Strip.DepthMM * 3, Strength: 3, Tint: [3]float64{1, 1, 0.97},
		}}
	case TooDark:
		s.Camera.EV = -6.5
	case TooBright:
		s.Camera.EV = 4.2
	case Overgrown:
		s.Things.Algae = 1.5
	case WaterOnly:
		s.Strip.AboveMM, s.Strip.DepthMM = s.WaterMM-2, -3
	}
}
