package testscene

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
)

// expose is the picture as the camera develops it, upright, eight bits per channel.
func (s *Scene) expose(c *canvas) *image.RGBA {
	c.blur(float32(s.Camera.BlurPx))
	s.smear(c)
	s.develop(c)
	return s.sharpen(c)
}

// smear blurs by a hand that moved while the shutter was open.
func (s *Scene) smear(c *canvas) {
	if s.Camera.MotionPx < 0.5 {
		return
	}
	const moments = 5
	sin, cos := math.Sincos(s.Camera.MotionDeg * math.Pi / 180)
	from := &canvas{c.w, c.h, append([]rgb(nil), c.px...)}
	for y := range c.h {
		for x := range c.w {
			var sum rgb
			for i := range moments {
				t := s.Camera.MotionPx * (float64(i)/(moments-1) - 0.5)
				sum = sum.plus(from.sample(float32(float64(x)+0.5+t*cos), float32(float64(y)+0.5+t*sin)))
			}
			c.px[y*c.w+x] = sum.times(1.0 / moments)
		}
	}
}

// develop exposes, adds noise and turns linear light into stored values of 0 to 1 by transfer
// function, tone curve and saturation. The light's noise grows with its root, the sensor's is
// even; colour noise is blotchy, as after a camera's smoothing.
func (s *Scene) develop(c *canvas) {
	gain := float32(math.Exp2(s.Camera.EV))
	shot, read := float32(s.Camera.Shot), float32(s.Camera.Read*s.Camera.Read)
	chroma, saturation := float32(s.Camera.Chroma), float32(s.Camera.Saturation)
	rng := rand.New(rand.NewPCG(s.Seed, 0xca3e7a))
	table, curve := newNormals(rng), s.toneCurve()
	blotch := noise(rng.Uint32())
	for y := range c.h {
		for x := range c.w {
			k := y*c.w + x
			p := c.px[k].times(gain)
			sigma := sqrt(shot*max(p.luma(), 0) + read)
			bits := rng.Uint64()
			common := 0.8 * table.draw(bits)
			for i := range p {
				bits >>= 16
				p[i] += sigma * (common + 0.6*table.draw(bits))
			}
			if chroma > 0 {
				b := chroma * blotch.at(float32(x)/3.5, float32(y)/3.5)
				p[0] += b
				p[2] -= b
			}
			for i := range p {
				p[i] = curve[int(sqrt(clamp(p[i], 0, 1))*float32(len(curve)-1)+0.5)]
			}
			grey := p.grey()
			for i := range p {
				p[i] = grey + (p[i]-grey)*saturation
			}
			c.px[k] = p
		}
	}
}

// normals is a table of standard normal deviates.
type normals [1 << 12]float32

func newNormals(rng *rand.Rand) *normals {
	var t normals
	for i := range t {
		t[i] = float32(rng.NormFloat64())
	}
	return &t
}

func (t *normals) draw(bits uint64) float32 { return t[bits%uint64(len(t))] }

// toneCurve is the stored value for the root of a linear one.
func (s *Scene) toneCurve() []float32 {
	curve := make([]float32, 4096)
	for i := range curve {
		root := float64(i) / float64(len(curve)-1)
		v := encode(root * root)
		curved := v * v * (3 - 2*v)
		curve[i] = float32(v + s.Camera.Curve*0.6*(curved-v))
	}
	return curve
}

// sharpen is unsharp masking of the grey values by a 3 by 3 mean, then rounding.
func (s *Scene) sharpen(c *canvas) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	amount := float32(s.Camera.Sharpen)
	grey := make([]float32, len(c.px))
	for k, p := range c.px {
		grey[k] = p.grey()
	}
	for y := range c.h {
		above, below := max(y-1, 0)*c.w, min(y+1, c.h-1)*c.w
		for x := range c.w {
			k := y*c.w + x
			var add float32
			if amount > 0 {
				l, r := max(x-1, 0), min(x+1, c.w-1)
				mean := (grey[above+l] + grey[above+x] + grey[above+r] + grey[y*c.w+l] + grey[k] + grey[y*c.w+r] +
					grey[below+l] + grey[below+x] + grey[below+r]) * (1.0 / 9)
				add = amount * (grey[k] - mean)
			}
			p := c.px[k]
			for i := range p {
				img.Pix[4*k+i] = uint8(255*clamp(p[i]+add, 0, 1) + 0.5)
			}
			img.Pix[4*k+3] = 255
		}
	}
	return img
}

// file writes the JPEG in the stored orientation.
func (s *Scene) file(img *image.RGBA) []byte {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, laid(img, s.Orientation), &jpeg.Options{Quality: s.Camera.Quality}); err != nil {
		panic(err) // a buffer takes everything, and the size is right by construction
	}
	return withOrientation(out.Bytes(), s.Orientation)
}
