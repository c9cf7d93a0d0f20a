package pen

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

	scale "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// WritePNG writes the figure as a PNG file on white at a resolution in pixels per millimetre,
// which the file states so that it prints at its own size. Its errors are those of w.
func (f *Figure) WritePNG(w io.Writer, pxPerMM float64) error {
	size := image.Rect(0, 0, int(math.Ceil(f.Width*pxPerMM)), int(math.Ceil(f.Height*pxPerMM)))
	p := &pngPen{img: image.NewRGBA(size), scale: pxPerMM, faces: map[faceKey]font.Face{}}
	draw.Draw(p.img, size, image.White, image.Point{}, draw.Src)
	f.Play(p)
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	var file bytes.Buffer
	if err := encoder.Encode(&file, p.img); err != nil {
		return err
	}
	_, err := w.Write(slices.Concat(file.Next(pngHead), density(pxPerMM), file.Bytes()))
	return err
}

// pngHead is the length of a PNG file's signature and its IHDR chunk, bytes (PNG
// specification, 5.2 and 11.2.2).
const pngHead = 8 + 25

// density is the pHYs chunk, which states the pixels per metre across and down (PNG
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
	scale float64 // pixels per millimetre
	ras   vector.Rasterizer
	faces map[faceKey]font.Face
}

type faceKey struct {
	bold   bool
	pixels float64
}

// outlines are closed shapes in pixels that are painted as one. All turn the same way, so that
// overlaps don't cancel out.
type outlines [][]Point

func (p *pngPen) paint(shapes outlines, ink Ink) {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, shape := range shapes {
		for _, at := range shape {
			low = Point{min(low.X, at.X), min(low.Y, at.Y)}
			high = Point{max(high.X, at.X), max(high.Y, at.Y)}
		}
	}
	if low.X > high.X {
		return
	}
	box := image.Rect(int(math.Floor(low.X)), int(math.Floor(low.Y)), int(math.Ceil(high.X))+1, int(math.Ceil(high.Y))+1)
	p.fill(shapes, box, image.NewUniform(pigment(ink)))
}

// fill fills shapes within a box of pixels with what a picture shows there.
func (p *pngPen) fill(shapes outlines, box image.Rectangle, with image.Image) {
	p.ras.Reset(box.Dx(), box.Dy())
	for _, shape := range shapes {
		for i, at := range shape {
			x, y := float32(at.X-float64(box.Min.X)), float32(at.Y-float64(box.Min.Y))
			if i == 0 {
				p.ras.MoveTo(x, y)
			} else {
				p.ras.LineTo(x, y)
			}
		}
		p.ras.ClosePath()
	}
	p.ras.Draw(p.img, box, with, box.Min)
}

func pigment(ink Ink) color.NRGBA {
	return color.NRGBA{ink.Color.R, ink.Color.G, ink.Color.B, uint8(math.Round(255 * ink.Alpha))}
}

func (p *pngPen) at(a Point) Point { return Point{a.X * p.scale, a.Y * p.scale} }

func (p *pngPen) Area(outline []Point, ink Ink) {
	shape := make([]Point, len(outline))
	for i, a := range outline {
		shape[i] = p.at(a)
	}
	p.paint(outlines{shape}, ink)
}

func (p *pngPen) Rect(x, y, w, h float64, ink Ink) {
	p.Area([]Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, ink)
}

func (p *pngPen) Lines(parts [][]Point, s Stroke) {
	var shapes outlines
	for _, points := range parts {
		for _, dash := range dashes(points, s) {
			for i := range dash[1:] {
				a, b := p.at(dash[i]), p.at(dash[i+1])
				shapes = append(shapes, bar(a, b, s.Width*p.scale/2))
				if i > 0 {
					shapes = append(shapes, disc(a, s.Width*p.scale/2)) // a round joint
				}
			}
		}
	}
	p.paint(shapes, s.Ink)
}

func (p *pngPen) Dots(centres []Point, radius float64, ink Ink) {
	shapes := make(outlines, len(centres))
	for i, c := range centres {
		shapes[i] = disc(p.at(c), radius*p.scale)
	}
	p.paint(shapes, ink)
}

// Raster draws what has pixels of its own; an address can't be drawn.
func (p *pngPen) Raster(x, y, w, h float64, r Raster) {
	if r.Image == nil {
		return
	}
	from, to := p.at(Point{x, y}), p.at(Point{x + w, y + h})
	box := image.Rect(int(math.Floor(from.X)), int(math.Floor(from.Y)), int(math.Ceil(to.X)), int(math.Ceil(to.Y)))
	shown := image.NewRGBA(box)
	scale.CatmullRom.Scale(shown, box, r.Image, cropped(r.Image.Bounds(), w, h), scale.Src, nil)
	p.fill(outlines{{from, {to.X, from.Y}, to, {from.X, to.Y}}}, box, shown) // its sides need not lie between pixels
}

// bar is the outline of a line from a to b, twice half wide.
func bar(a, b Point, half float64) []Point {
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	if length == 0 {
		return nil
	}
	nx, ny := -(b.Y-a.Y)/length*half, (b.X-a.X)/length*half
	return []Point{{a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}, {a.X + nx, a.Y + ny}}
}

// disc is a circle with corners too fine to see; its radius is in pixels.
func disc(c Point, radius float64) []Point { return Circle(c, radius, 8+int(2*radius)) }

// dashes cuts a line into its dashes.
func dashes(points []Point, s Stroke) [][]Point {
	if s.Dash == 0 {
		return [][]Point{points}
	}
	var list [][]Point
	left, on := s.Dash, true
	part := []Point{points[0]}
	for i := range points[1:] {
		a, b := points[i], points[i+1]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		for done := 0.0; done < length; {
			step := min(left, length-done)
			done, left = done+step, left-step
			here := Point{a.X + (b.X-a.X)*done/length, a.Y + (b.Y-a.Y)*done/length}
			part = append(part, here)
			if left > 0 {
				continue
			}
			if on {
				list = append(list, part)
			}
			if on = !on; on {
				left = s.Dash
			} else {
				left = s.Gap
			}
			part = []Point{here}
		}
	}
	if on && len(part) > 1 {
		list = append(list, part)
	}
	return list
}

func (p *pngPen) Text(at Point, text string, t Lettering) {
	face := p.face(faceKey{t.Bold, t.Size * p.scale})
	here := p.at(at)
	x := fixed.Int26_6(math.Round(64 * here.X))
	switch width := font.MeasureString(face, text); t.Anchor {
	case Centred:
		x -= width / 2
	case UpToHere:
		x -= width
	}
	d := font.Drawer{
		Dst: p.img, Src: image.NewUniform(pigment(t.Ink)), Face: face,
		Dot: fixed.Point26_6{X: x, Y: fixed.Int26_6(math.Round(64 * here.Y))},
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
	p.faces[key] = NewFace(file, key.pixels, font.HintingNone)
	return p.faces[key]
}

func (p *pngPen) Open(string) {}
func (p *pngPen) Shut()       {}
