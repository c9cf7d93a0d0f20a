package overlay

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"

	"panecore/layers/photo"
	"panecore/reports"
)

// The sheet's measures, pixels (assumptions: what reads well on a screen).
const (
	longestSide = 1600
	lineWidth   = 1.6
	leadLength  = 44 // from the strip to the names
	stubLength  = 10 // of a leader before it turns
	rulerTick   = 9  // to either side of a ruler's mark
	bracketGap  = 16 // from the strip to the bracket
	sheetEdge   = 8  // kept free of names
	hatchPitch  = 9
	hatchWidth  = 2
)

// sheet is the picture under the drawing, with room beside it where the names need it.
type sheet struct {
	Drawing
	pen
	img     *image.RGBA
	scale   float64           // sheet pixels to one of the picture
	left    float64           // where the picture begins
	corners [4]spot           // of the strip, from the upper left clockwise
	plates  []plate           // beside the strip, from the top down
	right   bool              // they stand to the right of it
	taken   []image.Rectangle // by the strip and by plates
}

func newSheet(d Drawing, p pen) *sheet {
	small := Shrink(d.Picture, longestSide)
	s := &sheet{Drawing: d, pen: p, scale: float64(small.Rect.Dx()) / float64(d.Picture.Width)}
	s.plates = s.layerPlates()
	names, bracket := leadLength+sheetEdge, bracketGap+sheetEdge
	for _, plate := range s.plates {
		names = max(names, leadLength+sheetEdge+plate.width)
	}
	bracket += 2*sheetEdge + s.oxicPlate().width
	room := s.rooms(small.Rect.Dx())
	s.right = room[1] >= names || room[0] < names
	need := [2]int{names, bracket}
	if s.right {
		need = [2]int{bracket, names}
	}
	left := max(0, need[0]-room[0])
	width := left + small.Rect.Dx() + max(0, need[1]-room[1])
	height := max(small.Rect.Dy(), len(s.plates)*platePitch+2*sheetEdge)
	s.left = float64(left)
	s.img = image.NewRGBA(image.Rect(0, 0, width, height))
	fill(s.img, s.img.Rect, inkMargin)
	draw.Draw(s.img, small.Rect.Add(image.Pt(left, 0)), small, image.Point{}, draw.Src)
	for i, corner := range d.Reading.Strip {
		s.corners[i] = s.at(corner)
	}
	s.taken = []image.Rectangle{around(s.corners[:], 0)}
	return s
}

// rooms is the picture's width to the left and to the right of the strip.
func (s *sheet) rooms(width int) [2]int {
	left, right := math.Inf(1), math.Inf(-1)
	for _, corner := range s.Reading.Strip {
		left, right = min(left, corner.X*s.scale), max(right, corner.X*s.scale)
	}
	return [2]int{int(left), width - int(math.Ceil(right))}
}

// at is where a point of the picture lies on the sheet.
func (s *sheet) at(p photo.Point) spot { return spot{p.X*s.scale + s.left, p.Y * s.scale} }

func (s *sheet) line(points []photo.Point) []spot {
	line := make([]spot, len(points))
	for i, p := range points {
		line[i] = s.at(p)
	}
	return line
}

// masked hatches what was left out of the reading.
func (s *sheet) masked() {
	for _, quad := range s.Reading.Masked {
		corners := s.line(quad[:])
		r := around(corners, 0).Intersect(s.img.Rect)
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				phase := (x + y) % hatchPitch
				if phase >= 2*hatchWidth || !inside(corners, spot{float64(x) + 0.5, float64(y) + 0.5}) {
					continue
				}
				ink := inkHatch
				if phase >= hatchWidth {
					ink = inkHalo
				}
				fill(s.img, image.Rect(x, y, x+1, y+1), ink)
			}
		}
	}
}

// inside reports whether a spot lies within a polygon without dents.
func inside(corners []spot, p spot) bool {
	left, right := false, false
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		turn := (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x)
		left, right = left || turn > 0, right || turn < 0
	}
	return !(left && right)
}

func (s *sheet) edges() {
	for _, edge := range s.Reading.Edges {
		stroke(s.img, s.line(edge), lineWidth, inkLine)
	}
}

func (s *sheet) strip() {
	for i, corner := range s.corners {
		s.dashed(corner, s.corners[(i+1)%len(s.corners)], inkLine)
	}
}

func (s *sheet) ruler() {
	r := s.Picks.Ruler
	from, to := s.at(photo.Point{X: r.X1, Y: r.Y1}), s.at(photo.Point{X: r.X2, Y: r.Y2})
	stroke(s.img, []spot{from, to}, lineWidth, inkRuler)
	for _, end := range []spot{from, to} {
		stroke(s.img, []spot{end.plus(-rulerTick, 0), end.plus(rulerTick, 0)}, 2, inkRuler)
	}
	p := s.plate("ruler, " + s.Units.Length(r.LengthMM))
	s.put(p, int(from.x)+rulerTick+4, int(from.y))
}

func (s *sheet) cards() {
	for i, card := range s.Picks.Neutral {
		b := card.Box
		corners := s.line([]photo.Point{{X: b.X, Y: b.Y}, {X: b.X + b.W, Y: b.Y}, {X: b.X + b.W, Y: b.Y + b.H}, {X: b.X, Y: b.Y + b.H}})
		for i, corner := range corners {
			s.dashed(corner, corners[(i+1)%len(corners)], inkRuler)
		}
		name := "grey card"
		if len(s.Picks.Neutral) > 1 {
			name += fmt.Sprint(" ", i+1)
		}
		s.put(s.plate(name), int(corners[3].x), int(corners[3].y)+6+plateHeight/2)
	}
}

func (s *sheet) dashed(a, b spot, ink color.NRGBA) {
	for _, dash := range dashes(a, b) {
		stroke(s.img, dash, lineWidth, ink)
	}
}

// bracket marks the colour oxic depth beside the strip: a line down from the surface,
// thick over its range.
func (s *sheet) bracket() {
	e := s.Core.OxicDepth
	if e == nil {
		return
	}
	out := -float64(bracketGap)
	if !s.right {
		out = -out
	}
	place := func(mm, out float64) spot { return s.beside(mm).plus(out, 0) }
	cover(s.img, []spot{place(e.Low, out), place(e.High, out)}, 5, inkHalo)
	cover(s.img, []spot{place(e.Low, out), place(e.High, out)}, 3.5, inkOxic)
	stroke(s.img, []spot{place(0, out), place(e.Value, out)}, lineWidth, inkOxic)
	for _, mm := range []float64{0, e.Value} {
		stroke(s.img, []spot{place(mm, out/4), place(mm, 1.6*out)}, 2, inkOxic)
	}
	p, end := s.oxicPlate(), place(e.Value, 2*out)
	if s.right {
		end.x -= float64(p.width)
	}
	s.put(p, int(end.x), int(end.y))
}

func (s *sheet) oxicPlate() plate {
	e := s.Core.OxicDepth
	if e == nil {
		return plate{}
	}
	text := "colour oxic depth "
	if e.AtLeast {
		text += "at least "
	}
	u := s.Units
	return s.plate(fmt.Sprintf("%s%s %s (%s to %s)", text, u.Number(e.Value), u, u.Number(e.Low), u.Number(e.High)))
}

// beside is the place at a depth on the side of the strip that the names leave free.
func (s *sheet) beside(mm float64) spot {
	top, foot := s.corners[0], s.corners[3]
	if !s.right {
		top, foot = s.corners[1], s.corners[2]
	}
	length := math.Hypot(foot.x-top.x, foot.y-top.y)
	dx, dy := (foot.x-top.x)/length, (foot.y-top.y)/length
	surface := 0.0
	for _, p := range s.Reading.Edges[0] {
		at := s.at(p)
		surface += ((at.x-s.corners[0].x)*dx + (at.y-s.corners[0].y)*dy) / float64(len(s.Reading.Edges[0]))
	}
	down := surface + mm*s.Reading.PxPerMM*s.scale
	return top.plus(down*dx, down*dy)
}

// layerPlates name the bed surface and the layers, from the top down.
func (s *sheet) layerPlates() []plate {
	list := []plate{s.plate("bed surface")}
	for _, l := range s.Core.Layers {
		p := s.plate(s.layerText(l))
		p.swatch = &l.Hex
		p.width += swatchSize + swatchGap
		list = append(list, p)
	}
	return list
}

func (s *sheet) layerText(l reports.Layer) string {
	u := s.Units
	text := fmt.Sprintf("%s to %s %s  %s", u.Number(l.TopMM), u.Number(l.TopMM+l.Thickness.Value), u, l.Band)
	if l.Doubtful() {
		second := l.Alternatives[0]
		text += fmt.Sprintf(" %.0f %%, or %s %.0f %%", 100*l.Probability, second.Band, 100*second.Probability)
	}
	return text
}

// leader is a line from a layer to its name.
type leader struct {
	plate           plate
	from, turn, end spot
}

// leaders lead from the strip's side to the names, in the order of depth, so that none
// crosses another however thin the layers are.
func (s *sheet) leaders() []leader {
	ends := s.edgeEnds()
	wanted := make([]float64, len(s.plates))
	wanted[0] = ends[0].y
	for i := range s.Core.Layers {
		wanted[i+1] = (ends[i].y + ends[i+1].y) / 2
	}
	places := apart(wanted, platePitch, sheetEdge+plateHeight/2, float64(s.img.Rect.Dy()-sheetEdge-plateHeight/2))
	out, side := 1.0, max(s.corners[1].x, s.corners[2].x)
	if !s.right {
		out, side = -1, min(s.corners[0].x, s.corners[3].x)
	}
	list := make([]leader, len(s.plates))
	for i, p := range s.plates {
		list[i] = leader{p, spot{ends[i].x, wanted[i]}, spot{side + out*stubLength, wanted[i]}, spot{side + out*leadLength, places[i]}}
	}
	return list
}

// names writes the names beside the strip.
func (s *sheet) names() {
	for _, l := range s.leaders() {
		stroke(s.img, []spot{l.from, l.turn, l.end}, lineWidth, inkLine)
		left := int(l.end.x)
		if !s.right {
			left -= l.plate.width
		}
		s.set(l.plate, image.Pt(left, int(l.end.y)-plateHeight/2))
	}
}

// edgeEnds are the ends of the edges on the side of the names.
func (s *sheet) edgeEnds() []spot {
	ends := make([]spot, len(s.Reading.Edges))
	for i, edge := range s.Reading.Edges {
		end := edge[0]
		if s.right {
			end = edge[len(edge)-1]
		}
		ends[i] = s.at(end)
	}
	return ends
}
