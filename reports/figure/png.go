package figure

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"slices"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// WritePNG writes the figure as a PNG file on white, so many pixels a millimetre, which the
// file tells, so that it prints in its size. Its errors are those of w.
func (f *Figure) WritePNG(w io.Writer, pxPerMM float64) error {
	size := image.Rect(0, 0, int(math.Ceil(f.Width*pxPerMM)), int(math.Ceil(f.Height*pxPerMM)))
	p := &pngPen{img: image.NewRGBA(size), scale: pxPerMM, faces: map[faceKey]font.Face{}}
	draw.Draw(p.img, size, image.White, image.Point{}, draw.Src)
	f.play(p)
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	var file bytes.Buffer
	if err := encoder.Encode(&file, p.img); err != nil {
		return err
	}
	_, err := w.Write(slices.Concat(file.Next(pngHead), density(pxPerMM), file.Bytes()))
	return err
}

// pngHead is what a PNG file begins with, bytes: its signature and the chunk IHDR (PNG
// specification, 5.2 and 11.2.2).
const pngHead = 8 + 25

// density is the chunk of a PNG file that tells the pixels a metre across and down (PNG
// specification, 11.3.5.3).
func density(pxPerMM float64) []byte {
	const metre = 1
	perMetre := uint32(math.Round(1000 * pxPerMM))
	chunk := binary.BigEndian.AppendUint32(nil, 4+4+1)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, metre)
	return binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
}

// pngPen paints marks into pixels.
type pngPen struct {
	img   *image.RGBA
	scale float64 // pixels a millimetre
	ras   vector.Rasterizer
	faces map[faceKey]font.Face
}

type faceKey struct {
	bold   bool
	pixels float64
}

// outlines are closed shapes in pixels that are painted as one. All turn the same way, so
// that where they overlap they don't cancel each other out.
type outlines [][]point

func (p *pngPen) paint(shapes outlines, ink Ink) {
	low, high := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, shape := range shapes {
		for _, at := range shape {
			low = point{min(low.x, at.x), min(low.y, at.y)}
			high = point{max(high.x, at.x), max(high.y, at.y)}
		}
	}
	if low.x > high.x {
		return
	}
	box := image.Rect(int(math.Floor(low.x)), int(math.Floor(low.y)), int(math.Ceil(high.x))+1, int(math.Ceil(high.y))+1)
	p.ras.Reset(box.Dx(), box.Dy())
	for _, shape := range shapes {
		for i, at := range shape {
			x, y := float32(at.x-float64(box.Min.X)), float32(at.y-float64(box.Min.Y))
			if i == 0 {
				p.ras.MoveTo(x, y)
			} else {
				p.ras.LineTo(x, y)
			}
		}
		p.ras.ClosePath()
	}
	p.ras.Draw(p.img, box, image.NewUniform(pigment(ink)), image.Point{})
}

func pigment(ink Ink) color.NRGBA {
	return color.NRGBA{ink.color.R, ink.color.G, ink.color.B, uint8(math.Round(255 * ink.alpha))}
}

func (p *pngPen) at(a point) point { return point{a.x * p.scale, a.y * p.scale} }

func (p *pngPen) area(outline []point, ink Ink) {
	shape := make([]point, len(outline))
	for i, a := range outline {
		shape[i] = p.at(a)
	}
	p.paint(outlines{shape}, ink)
}

func (p *pngPen) rect(x, y, w, h float64, ink Ink) {
	p.area([]point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, ink)
}

func (p *pngPen) lines(parts [][]point, s stroke) {
	var shapes outlines
	for _, points := range parts {
		for _, dash := range dashes(points, s) {
			for i := range dash[1:] {
				a, b := p.at(dash[i]), p.at(dash[i+1])
				shapes = append(shapes, bar(a, b, s.width*p.scale/2))
				if i > 0 {
					shapes = append(shapes, disc(a, s.width*p.scale/2)) // a round joint
				}
			}
		}
	}
	p.paint(shapes, s.ink)
}

func (p *pngPen) dots(centres []point, radius float64, ink Ink) {
	shapes := make(outlines, len(centres))
	for i, c := range centres {
		shapes[i] = disc(p.at(c), radius*p.scale)
	}
	p.paint(shapes, ink)
}

// bar is a line from a to b as wide as twice half.
func bar(a, b point, half float64) []point {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return nil
	}
	nx, ny := -(b.y-a.y)/length*half, (b.x-a.x)/length*half
	return []point{{a.x - nx, a.y - ny}, {b.x - nx, b.y - ny}, {b.x + nx, b.y + ny}, {a.x + nx, a.y + ny}}
}

// disc is a circle as a polygon that no eye tells from one.
func disc(c point, radius float64) []point {
	n := 8 + int(2*radius)
	shape := make([]point, n)
	for i := range shape {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		shape[i] = point{c.x + radius*cos, c.y + radius*sin}
	}
	return shape
}

// dashes cuts a line into the parts that are drawn.
func dashes(points []point, s stroke) [][]point {
	if s.dash == 0 {
		return [][]point{points}
	}
	var list [][]point
	left, on := s.dash, true
	part := []point{points[0]}
	for i := range points[1:] {
		a, b := points[i], points[i+1]
		length := math.Hypot(b.x-a.x, b.y-a.y)
		for done := 0.0; done < length; {
			step := min(left, length-done)
			done, left = done+step, left-step
			here := point{a.x + (b.x-a.x)*done/length, a.y + (b.y-a.y)*done/length}
			part = append(part, here)
			if left > 0 {
				continue
			}
			if on {
				list = append(list, part)
			}
			if on = !on; on {
				left = s.dash
			} else {
				left = s.gap
			}
			part = []point{here}
		}
	}
	if on && len(part) > 1 {
		list = append(list, part)
	}
	return list
}

func (p *pngPen) text(at point, text string, t lettering) {
	face := p.face(faceKey{t.bold, t.size * p.scale})
	here := p.at(at)
	x := fixed.Int26_6(math.Round(64 * here.x))
	switch width := font.MeasureString(face, text); t.anchor {
	case centred:
		x -= width / 2
	case upToHere:
		x -= width
	}
	d := font.Drawer{
		Dst: p.img, Src: image.NewUniform(pigment(t.ink)), Face: face,
		Dot: fixed.Point26_6{X: x, Y: fixed.Int26_6(math.Round(64 * here.y))},
	}
	d.DrawString(text)
}

func (p *pngPen) face(key faceKey) font.Face {
	if face := p.faces[key]; face != nil {
		return face
	}
	file := goregular.TTF
	if key.bold {
		file = gobold.TTF
	}
	p.faces[key] = newFace(file, key.pixels)
	return p.faces[key]
}

func (p *pngPen) open(string) {}
func (p *pngPen) shut()       {}
