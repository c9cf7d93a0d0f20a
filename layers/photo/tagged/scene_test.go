package tagged_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/layers/tag"
)

// scene is a drawn photo with a tag on a pane of coarse grains.
type scene struct {
	w, h    int
	tag     tag.Tag
	pxPerMM float64
	at      photo.Point // the tag's middle
	roll    float64     // degrees
	yaw     float64
	pitch   float64
	blur    float64    // deviation, pixels
	shadow  float64    // share of the light left to the right of a slanting edge through the tag; 1: none
	slope   float64    // by how much the light falls across the picture, as a share
	noise   float64    // deviation, of white
	quality int        // JPEG
	cover   [4]float64 // a box over the tag, in shares of its size: from x, y to x, y
	light   [3]float64 // tint
	seed    uint64
}

// plane is the truth: millimetres from the tag's upper left mark to pixels, for a camera 320 mm away.
func (c scene) plane() photo.Plane {
	const distance = 320.0
	rad := math.Pi / 180
	sr, cr := math.Sincos(c.roll * rad)
	sy, cy := math.Sincos(c.yaw * rad)
	sp, cp := math.Sincos(c.pitch * rad)
	half := c.tag.SizeMM / 2
	k := c.pxPerMM * distance
	// Columns of the turn: x and y of the pane, yaw about y, pitch about x, roll about the axis of view.
	x := [3]float64{cy, sy * sp, -sy * cp}
	y := [3]float64{0, cp, sp}
	var h photo.Plane
	turn := func(v [3]float64) (a, b, z float64) { return cr*v[0] - sr*v[1], sr*v[0] + cr*v[1], v[2] / distance }
	ax, ay, az := turn(x)
	bx, by, bz := turn(y)
	h[0], h[1] = k*ax/distance+c.at.X*az, k*bx/distance+c.at.X*bz
	h[3], h[4] = k*ay/distance+c.at.Y*az, k*by/distance+c.at.Y*bz
	h[2], h[5] = c.at.X, c.at.Y
	h[6], h[7] = az, bz
	return h.Shift(-half, -half)
}

// reflects is what the tag's paper reflects at a place, in shares of its size; false: beside the paper.
func (c scene) reflects(code *tag.Code, x, y float64) (share float64, on bool) {
	const white, grey, black = 0.85, 0.3, 0.05
	within := func(b tag.Box) bool { return x >= b.X && x < b.X+b.W && y >= b.Y && y < b.Y+b.H }
	switch module, origin := tag.Module(code.Side), tag.Origin(code.Side); {
	case x < -0.15 || x > 1.3 || y < -0.28 || y > 1.47:
		return 0, false
	case x >= c.cover[0] && x < c.cover[2] && y >= c.cover[1] && y < c.cover[3]:
		return 0, false
	case within(tag.Black):
		return black, true
	case within(tag.Grey):
		return grey, true
	case code.Black(int(math.Floor((x-origin)/module)), int(math.Floor((y-origin)/module))):
		return black, true
	default:
		for _, m := range tag.Corners() {
			if dx, dy := x-m[0], y-m[1]; math.Abs(dx) < tag.Arm && math.Abs(dy) < tag.Arm && tag.MarkBlack(dx, dy) {
				return black, true
			}
		}
		return white, true
	}
}

// draw renders the scene as a decoded JPEG.
func (c scene) draw(t testing.TB) *picture.Picture {
	t.Helper()
	p, err := picture.Decode(c.file(t))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func (c scene) file(t testing.TB) []byte {
	t.Helper()
	img := c.canvas(t)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: c.quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// canvas renders the scene before it is packed.
func (c scene) canvas(t testing.TB) *image.RGBA {
	t.Helper()
	code, err := tag.NewCode(c.tag)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(c.seed, 1))
	grains := make([]float64, 64*64)
	for i := range grains {
		grains[i] = 0.08 + 0.35*r.Float64()*r.Float64()
	}
	truth := c.plane()
	light := make([]float64, c.w*c.h)
	const fine = 2
	for py := range c.h {
		for px := range c.w {
			var sum float64
			for i := range fine * fine {
				at := photo.Point{X: float64(px) + (float64(i%fine)+0.5)/fine, Y: float64(py) + (float64(i/fine)+0.5)/fine}
				mx, my := truth.Of(at)
				v, on := c.reflects(code, mx/c.tag.SizeMM, my/c.tag.SizeMM)
				if !on {
					v = grains[(int(math.Floor(my/1.7))&63)*64+int(math.Floor(mx/1.7))&63]
				}
				lit := 1 - c.slope*at.X/float64(c.w)
				if at.X-c.at.X+0.4*(at.Y-c.at.Y) > 0 {
					lit *= c.shadow
				}
				sum += v * lit
			}
			light[py*c.w+px] = sum / (fine * fine)
		}
	}
	blurred(light, c.w, c.h, c.blur)
	img := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	for i, v := range light {
		for ch := range 3 {
			x := min(1, max(0, v*c.light[ch]+c.noise*r.NormFloat64()*math.Sqrt(max(0.02, v))))
			if x <= 0.0031308 {
				x *= 12.92
			} else {
				x = 1.055*math.Pow(x, 1/2.4) - 0.055
			}
			img.Pix[4*i+ch] = uint8(255*x + 0.5)
		}
		img.Pix[4*i+3] = 255
	}
	return img
}

// blurred averages with normal weights.
func blurred(v []float64, w, h int, deviation float64) {
	reach := int(3*deviation + 0.5)
	if reach == 0 {
		return
	}
	weights := make([]float64, 2*reach+1)
	var sum float64
	for i := range weights {
		d := float64(i-reach) / deviation
		weights[i] = math.Exp(-d * d / 2)
		sum += weights[i]
	}
	for _, axis := range [][4]int{{h, w, w, 1}, {w, 1, h, w}} { // lines, from line to line; length, along a line
		lines, step, length, along := axis[0], axis[1], axis[2], axis[3]
		line := make([]float64, length)
		for i := range lines {
			for k := range length {
				line[k] = v[i*step+k*along]
			}
			for k := range length {
				var s float64
				for n, weight := range weights {
					s += weight * line[min(length-1, max(0, k+n-reach))]
				}
				v[i*step+k*along] = s / sum
			}
		}
	}
}

// anyScene is a tag tilted up to 20°, rolled up to 45°, blurred and unevenly lit.
func anyScene(r *rand.Rand, seed uint64) scene {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	c := scene{
		w: 480, h: 400, tag: tag.Tag{Tank: "kettle", Station: []string{"front", "left", "back"}[r.IntN(3)], SizeMM: 40},
		pxPerMM: between(3, 5), roll: between(-45, 45), yaw: between(-20, 20), pitch: between(-20, 20), shadow: 1,
		slope: between(0, 0.6), noise: between(0.002, 0.02), quality: 70 + r.IntN(26), light: [3]float64{between(0.6, 1), 0.9, between(0.5, 1)}, seed: seed,
	}
	c.at = photo.Point{X: between(200, 280), Y: between(180, 220)}
	c.blur = between(0.3, 0.34*c.pxPerMM)
	if r.IntN(2) == 0 {
		c.shadow = between(0.15, 0.8)
	}
	return c
}
