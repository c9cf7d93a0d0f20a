package testscene

import (
	"math"
	"math/rand/v2"
)

// A stage is the pane, upright and unrolled. It is large enough to cover the rolled picture, and
// has the picture's scale and middle.
type stage struct {
	*canvas
	scene   *Scene
	ppm     float32 // px/mm
	offX    float32 // from the stage's left edge to the unrolled picture's, px
	offY    float32
	surface float32 // row of the bed surface as laid, px
	seen    float64 // row of the mean bed surface in the strip's columns as painted, px
	floor   float32 // row of the glass below the bed, px
	key     [3]float32
	rng     *rand.Rand
}

func newStage(s *Scene) *stage {
	sin, cos := math.Sincos(math.Abs(s.RollDeg) * math.Pi / 180)
	w := int(math.Ceil(float64(s.Width)*cos+float64(s.Height)*sin)) + 2
	h := int(math.Ceil(float64(s.Height)*cos+float64(s.Width)*sin)) + 2
	if s.RollDeg == 0 {
		w, h = s.Width, s.Height
	}
	st := &stage{
		canvas: newCanvas(w, h), scene: s, ppm: float32(s.PxPerMM),
		offX: float32(w-s.Width) / 2, offY: float32(h-s.Height) / 2,
		rng: rand.New(rand.NewPCG(s.Seed, 0x5ce9e)),
	}
	st.surface = st.offY + float32(s.WaterMM)*st.ppm
	st.floor = st.surface + float32(s.bedMM())*st.ppm
	st.seen = float64(st.surface)
	x, y, z := float32(s.Light.KeyX)*0.6, float32(-0.72), float32(0.7)
	n := 1 / sqrt(x*x+y*y+z*z)
	st.key = [3]float32{x * n, y * n, z * n}
	return st
}

// bedMM is the bed's whole thickness.
func (s *Scene) bedMM() float64 {
	var sum float64
	for _, l := range s.Layers {
		sum += l.MM
	}
	return sum
}

// x and y turn a place in the unrolled picture, mm, into one on the stage, px.
func (st *stage) x(mm float64) float32 { return st.offX + float32(mm)*st.ppm }
func (st *stage) y(mm float64) float32 { return st.offY + float32(mm)*st.ppm }

// between is a random number in a range.
func (st *stage) between(low, high float64) float32 {
	return float32(low + (high-low)*st.rng.Float64())
}

// noise is the noise for a purpose, the same whatever else is painted.
func (st *stage) noise(purpose uint32) noise {
	return noise(hash(int32(purpose), int32(st.scene.Seed>>32), uint32(st.scene.Seed)))
}

// turned is the picture: the stage seen by a rolled camera.
func (st *stage) turned() *canvas {
	s := st.scene
	if s.RollDeg == 0 {
		return st.canvas
	}
	out := newCanvas(s.Width, s.Height)
	for y := range s.Height {
		for x := range s.Width {
			sx, sy := st.fromPicture(float64(x)+0.5, float64(y)+0.5)
			out.px[y*s.Width+x] = st.sample(float32(sx), float32(sy))
		}
	}
	return out
}

// fromPicture turns a place in the picture into one on the stage, px.
func (st *stage) fromPicture(x, y float64) (float64, float64) {
	sin, cos := math.Sincos(st.scene.RollDeg * math.Pi / 180)
	dx, dy := x-float64(st.scene.Width)/2, y-float64(st.scene.Height)/2
	return dx*cos + dy*sin + float64(st.w)/2, dy*cos - dx*sin + float64(st.h)/2
}

// toPicture turns a place on the stage into one in the picture, px.
func (st *stage) toPicture(x, y float64) (float64, float64) {
	sin, cos := math.Sincos(st.scene.RollDeg * math.Pi / 180)
	dx, dy := x-float64(st.w)/2, y-float64(st.h)/2
	return dx*cos - dy*sin + float64(st.scene.Width)/2, dy*cos + dx*sin + float64(st.scene.Height)/2
}
