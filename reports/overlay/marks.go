package overlay

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"panecore/layers/photo"
)

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

// marks draws what the keeper marked besides the strip: the ruler's points and the cards.
func (s *sheet) marks() {
	from, to := s.rulerEnds()
	stroke(s.img, []spot{from, to}, lineWidth, inkRuler)
	for _, end := range []spot{from, to} {
		stroke(s.img, []spot{end.plus(-rulerTick, 0), end.plus(rulerTick, 0)}, 2, inkRuler)
	}
	for _, card := range s.Picks.Neutral {
		corners := s.cornersOf(card.Box)
		for i, corner := range corners {
			s.dashed(corner, corners[(i+1)%len(corners)], inkRuler)
		}
	}
}

// notes name the marks, clear of the strip and of what is named already.
func (s *sheet) notes() {
	s.taken = append(s.taken, around(s.corners[:], 0))
	from, _ := s.rulerEnds()
	s.put(s.plate("ruler, "+s.Units.Length(s.Picks.Ruler.LengthMM)), int(from.x)+rulerTick+4, int(from.y))
	for i, card := range s.Picks.Neutral {
		name := "grey card"
		if len(s.Picks.Neutral) > 1 {
			name += fmt.Sprint(" ", i+1)
		}
		foot := s.cornersOf(card.Box)[3]
		s.put(s.plate(name), int(foot.x), int(foot.y)+6+plateHeight/2)
	}
}

func (s *sheet) rulerEnds() (from, to spot) {
	r := s.Picks.Ruler
	return s.at(photo.Point{X: r.X1, Y: r.Y1}), s.at(photo.Point{X: r.X2, Y: r.Y2})
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
