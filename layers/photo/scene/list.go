package scene

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"panecore/palette"
)

// codes are the bands as the list of scenes writes them.
var codes = map[string]palette.Band{
	"ml": palette.MulmLight, "md": palette.MulmDark, "n": palette.Native, "r": palette.Rust, "b": palette.Black, "g": palette.Grey,
	"fg": palette.FilmGreen, "fd": palette.FilmDark, "mw": palette.MatWhite,
}

// looks are the ranges of colour and of thickness (mm) in which bands are laid; thicknesses
// and covers are assumptions, colours too where no kind of film or stain has its own.
var looks = map[palette.Band][]struct {
	from, to   string
	thin, fat  float64
	bare, full float64 // cover
}{
	palette.MulmLight: {{"#8a6540", "#b48153", 5, 16, 1, 1}},
	palette.MulmDark:  {{"#54402c", "#6b5039", 4.5, 14, 1, 1}},
	palette.Native:    {{"#000000", "#000000", 8, 22, 1, 1}},
	palette.Rust:      {{"#8a5230", "#b0703c", 3.2, 8, 0.62, 0.92}},
	palette.Black:     {{"#1f1d1a", "#35322e", 6, 16, 0.78, 0.96}},
	palette.Grey:      {{"#60605a", "#7e7a70", 6, 14, 0.68, 0.93}},
	palette.FilmGreen: {{"#47622f", "#6f8f3c", 3, 5, 0.8, 0.95}},
	palette.FilmDark:  {{"#463330", "#4e3a33", 3, 5, 0.85, 0.97}, {"#1f4a46", "#2c5750", 3, 5, 0.85, 0.97}},
	palette.MatWhite:  {{"#cdc6b9", "#e6e2d8", 3, 5, 1, 1}},
}

// natives are the substrates; grains in mm.
var natives = map[string]struct {
	kind, from, to string
	habits         []habit
	fine, coarse   float64
	spread, motley float64
}{
	"white sand":   {"sand", "#dbd2c4", "#e7dfd2", []habit{sandy}, 0.6, 1.1, 0.25, 0.25},
	"pale sand":    {"sand", "#cbb898", "#d8c9ab", []habit{sandy}, 0.6, 1.3, 0.3, 0.4},
	"buff sand":    {"sand", "#ad8c64", "#c4a47c", []habit{sandy}, 0.6, 1.4, 0.35, 0.55},
	"grey gravel":  {"gravel", "#6a7077", "#8c8c88", []habit{rounded, angular}, 2, 4, 0.3, 0.6},
	"ochre gravel": {"gravel", "#987146", "#b08a5a", []habit{rounded, angular}, 1.8, 4, 0.3, 0.6},
	"dark gravel":  {"gravel", "#403f3d", "#504e4b", []habit{angular, rounded}, 1.6, 3.2, 0.25, 0.3},
	"red clay":     {"clay", "#8e5238", "#a3654b", []habit{clayey}, 0.8, 1.8, 0.4, 0.3},
	"dark soil":    {"soil", "#47392b", "#5b4837", []habit{crumbly}, 1.2, 2.8, 0.5, 0.35},
	"granules":     {"granules", "#54402f", "#76523b", []habit{balls}, 2, 3.4, 0.14, 0.2},
}

// row is a scene of the list.
type row struct {
	native  string
	column  string // bands from the top, in codes
	options string // w: strip begins in the water; r: rolled; p: portrait; 3, 6, 8: EXIF orientation; l: large; k: the bed recedes; e: the bed runs on below the picture
}

// Scenes lists the test photos: every band and every kind of substrate in every
// difficulty, with the strip begun in the water and at the surface, rolled, and turned by EXIF.
func Scenes() []Scene {
	var out []Scene
	for _, group := range []struct {
		difficulty Difficulty
		rows       []row
	}{{Easy, easyRows}, {Middling, middlingRows}, {Hard, hardRows}} {
		for i, r := range group.rows {
			out = append(out, r.scene(group.difficulty, i, NoFault))
		}
	}
	for i, r := range faultRows {
		out = append(out, r.row.scene(Unreadable, i, r.fault))
	}
	return out
}

// limits are what a difficulty allows.
type limits struct {
	apart      float64 // least colour difference of neighbouring layers, CIEDE2000
	wave, edge [2]float64
	tint       [2]float64 // of a lamp's whole tint
	ev         [2]float64
	fall, haze [2]float64
	covered    [2]float64 // share of the strip under glare
	glares     [2]int
	strength   [2]float64
	blur       [2]float64
	shot, read [2]float64
	chroma     float64
	curve      [2]float64
	saturation [2]float64
	sharpen    [2]float64
	quality    [2]float64
	things     int
	cast       float64
	hand       float64
	algae      float64
	motion     float64
	sunk       float64 // mulm between the grains
}

var allowed = map[Difficulty]limits{
	Easy: {
		apart: 8.5, wave: [2]float64{1.5, 3}, edge: [2]float64{0.3, 0.9}, tint: [2]float64{0, 0.35}, ev: [2]float64{-0.3, 0.3}, fall: [2]float64{0, 0.07}, haze: [2]float64{0.004, 0.012},
		covered: [2]float64{0, 0.06}, glares: [2]int{0, 1}, strength: [2]float64{0.1, 0.35}, blur: [2]float64{0.45, 0.7}, shot: [2]float64{0.00005, 0.0002}, read: [2]float64{0.0005, 0.0015}, saturation: [2]float64{1, 1}, sharpen: [2]float64{0, 0.3},
		quality: [2]float64{88, 95}, things: 1, hand: 0.1, sunk: 0.08,
	},
	Middling: {
		apart: 6, wave: [2]float64{2, 4.5}, edge: [2]float64{0.5, 1.8}, tint: [2]float64{0.3, 0.75}, ev: [2]float64{-0.6, 0.35}, fall: [2]float64{0.04, 0.13}, haze: [2]float64{0.008, 0.03},
		covered: [2]float64{0.02, 0.15}, glares: [2]int{1, 2}, strength: [2]float64{0.15, 0.6}, blur: [2]float64{0.5, 1}, shot: [2]float64{0.0002, 0.0006}, read: [2]float64{0.001, 0.003}, chroma: 0.003, curve: [2]float64{0.1, 0.5}, saturation: [2]float64{1, 1.07}, sharpen: [2]float64{0.1, 0.5},
		quality: [2]float64{80, 92}, things: 2, cast: 0.015, hand: 0.18, sunk: 0.2,
	},
	Hard: {
		apart: 5, wave: [2]float64{3, 6}, edge: [2]float64{0.8, 3}, tint: [2]float64{0.6, 1}, ev: [2]float64{-1.1, 0.5}, fall: [2]float64{0.08, 0.2}, haze: [2]float64{0.02, 0.08},
		covered: [2]float64{0.06, 0.25}, glares: [2]int{1, 3}, strength: [2]float64{0.2, 1}, blur: [2]float64{0.7, 1.5}, shot: [2]float64{0.0005, 0.0014}, read: [2]float64{0.002, 0.006}, chroma: 0.007, curve: [2]float64{0.3, 0.9}, saturation: [2]float64{1, 1.1}, sharpen: [2]float64{0.2, 0.8},
		quality: [2]float64{70, 86}, things: 4, cast: 0.02, hand: 0.27, algae: 0.16, motion: 2, sunk: 0.3,
	},
}

// lamps are what is left of a lamp's colour when all of it is left.
var lamps = []struct {
	name string
	gain [3]float64
}{
	{"daylight", [3]float64{1, 1, 1}},
	{"warm white", [3]float64{1.14, 0.99, 0.76}},
	{"cold white", [3]float64{0.88, 1.0, 1.15}},
	{"grow light", [3]float64{1.12, 0.88, 1.13}},
	{"tea-stained water", [3]float64{1.12, 0.97, 0.80}},
	{"old tube", [3]float64{0.95, 1.05, 0.88}},
}

// picker draws a scene's parameters.
type picker struct{ *rand.Rand }

func (p picker) in(r [2]float64) float64 { return r[0] + (r[1]-r[0])*p.Float64() }

func (r row) scene(d Difficulty, index int, fault Fault) Scene {
	name := fmt.Sprintf("%s-%02d", d, index+1)
	seed := uint64(hash(int32(index), int32(d[0]), 2024)) << 20
	p := picker{rand.New(rand.NewPCG(seed, 0x11a5))}
	lim, known := allowed[d]
	if !known {
		lim = allowed[Middling]
	}
	s := Scene{Name: name, Difficulty: d, Seed: seed + uint64(index), Fault: fault, Orientation: 1}
	s.Native = p.native(r.native)
	s.WaveMM = p.in(lim.wave)
	s.Layers = p.layers(r.column, s.Native, lim)
	s.Mulm = Mulm{ClumpMM: 1.4 + 2*p.Float64(), Crumbs: 0.8 * p.Float64(), Sunk: lim.sunk * p.Float64()}
	s.Stain = 0.3 + 0.7*p.Float64()
	r.frame(&s, p)
	s.HandMM = lim.hand
	p.light(&s, lim)
	p.camera(&s, lim)
	p.things(&s, lim)
	p.place(&s, r)
	p.card(&s, lim)
	p.glare(&s, lim)
	s.spoil(p)
	return s
}

func (p picker) native(name string) Native {
	n := natives[name]
	h := n.habits[p.IntN(len(n.habits))]
	return Native{
		Name: name, Kind: n.kind, Color: between(hex(n.from), hex(n.to), p.Float64()), Habit: h,
		GrainMM: p.in([2]float64{n.fine, n.coarse}), Spread: n.spread, Motley: n.motley * (0.6 + 0.6*p.Float64()),
	}
}

func (p picker) layers(column string, n Native, lim limits) []Layout {
	var out []Layout
	bands := strings.Fields(column)
	for i, code := range bands {
		var beside []palette.Color // what the layer must be told apart from
		if i > 0 {
			beside = append(beside, out[i-1].Color)
		}
		if i+1 < len(bands) && codes[bands[i+1]] == palette.Native {
			beside = append(beside, n.Color)
		}
		l := p.layer(codes[code], n, lim)
		for range 12 {
			if l.Band == palette.Native || l.apart(beside) >= lim.apart {
				break
			}
			if other := p.layer(l.Band, n, lim); other.apart(beside) > l.apart(beside) {
				l = other
			}
		}
		out = append(out, l)
	}
	return out
}

// layer draws one layer.
func (p picker) layer(band palette.Band, n Native, lim limits) Layout {
	look := looks[band][p.IntN(len(looks[band]))]
	l := Layout{
		Band: band, MM: p.in([2]float64{look.thin, look.fat}), Edge: p.in(lim.edge),
		Color: between(hex(look.from), hex(look.to), p.Float64()), Cover: p.in([2]float64{look.bare, look.full}),
	}
	switch {
	case band == palette.Native:
		l.Color = n.Color
	case !band.IsMulm() && band != palette.MatWhite:
		l.Cover = max(l.Cover, least(l.Color, n.Color))
		l.Color = through(l.Color, n.Color, p.Float64())
	}
	// A change can't be wider than what changes.
	l.Edge = min(l.Edge, 0.45*l.MM)
	return l
}

// apart is how far a layer's colour is from the nearest of others, CIEDE2000.
func (l Layout) apart(others []palette.Color) float64 {
	least := math.Inf(1)
	for _, c := range others {
		least = min(least, palette.Difference(l.Color.Lab(), c.Lab()))
	}
	return least
}

// least is the cover below which pale grains would outshine a dark coat.
func least(coat, native palette.Color) float64 {
	c, n := linear(coat), linear(native)
	var need float32
	for k := range c {
		need = max(need, 1-0.6*c[k]/n[k])
	}
	return float64(need)
}

// through lets up to a tenth of the grains' colour tell, but no more than a fifth of the light.
func through(coat, native palette.Color, share float64) palette.Color {
	c, n := linear(coat), linear(native)
	return asStored(c.toward(n, float32(share)*min(0.1, 0.2*c.luma()/n.luma())))
}

// sizes of pictures, px.
var sizes = [][2]int{{1600, 1200}, {1600, 1200}, {2000, 1500}}

// frame sets the picture's size, scale, roll and orientation so that bed, water and frame fit.
func (r row) frame(s *Scene, p picker) {
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

func (p picker) light(s *Scene, lim limits) {
	lamp := lamps[p.IntN(len(lamps))]
	left := p.in(lim.tint)
	l := &s.Light
	l.Lamp = lamp.name
	for c := range l.Tint {
		l.Tint[c] = 1 + (lamp.gain[c]-1)*left
		l.BedTint[c] = 1 + lim.cast*0.6*(2*p.Float64()-1)
		l.HazeTint[c] = 1 + 0.15*(2*p.Float64()-1)
	}
	l.Down, l.Side, l.Vignette = p.in(lim.fall), p.in(lim.fall)*0.8, p.in(lim.fall)
	l.LampX, l.Haze, l.KeyX = 0.2+0.6*p.Float64(), p.in(lim.haze), 2*p.Float64()-1
}

func (p picker) camera(s *Scene, lim limits) {
	// A camera's own metering keeps the bed itself off the ceiling.
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

// backdrops and frames of tanks.
var (
	backdrops = []string{"#6f8a86", "#8f9a92", "#22302f", "#465f6e", "#a7aa9a", "#31412f", "#7f8f9f", "#b9b39c"}
	frames    = []string{"#17181a", "#2a2b2d", "#5f6062", "#8d7b5a", "#27343a"}
)

func (p picker) things(s *Scene, lim limits) {
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
func (p picker) place(s *Scene, r row) {
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

func (p picker) card(s *Scene, lim limits) {
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

// glare sets reflections near the strip and off the card.
func (p picker) glare(s *Scene, lim limits) {
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

// cover widens or narrows the reflections until they cover about a share of the strip.
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

// aim puts a reflection on or beside the strip, as far off the card as ten throws allow.
func (p picker) aim(s *Scene, g *Glare) {
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

// spoil makes an unreadable scene so.
func (s *Scene) spoil(p picker) {
	switch s.Fault {
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
