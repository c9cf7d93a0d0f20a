package seek

import (
	"math"
	"slices"
)

// Point is a place in the upright picture, pixels.
type Point struct{ X, Y float64 }

// Ruler is a ruler as found: two points one above the other and their distance. On an upright ruler they lie on two of its
// lines.
type Ruler struct {
	From, To   Point
	Level      bool // it lies level, and the points stand at right angles to it
	LengthMM   float64
	Unit       string // what its lines stand for
	Lines      int    // counted
	Confidence float64
	Plate      [4]Point // the ruler's corners, as far as it is seen
}

// leastStrength is the sum of correlations along a ruler, at least (assumption).
const leastStrength = 1.5

// Ruler is the ruler in the picture, by lines of one distance from each other: an upright one, or else a level one. False:
// none is seen.
func (s *Small) Ruler() (r Ruler, found bool) {
	if r, found = s.upright(); found && r.Confidence >= leastUpright {
		return r, true
	}
	if level, seen := s.turned().upright(); seen && level.Confidence > r.Confidence {
		return s.level(level), true
	}
	return r, found
}

// leastUpright is the confidence below which a level ruler is looked for too (assumption).
const leastUpright = 0.4

// level makes a ruler that was found in the turned picture one of this picture.
func (s *Small) level(r Ruler) Ruler {
	swap := func(p Point) Point { return Point{p.Y, p.X} }
	from, to := swap(r.From), swap(r.To)
	middle := Point{(from.X + to.X) / 2, (from.Y + to.Y) / 2}
	down := Point{(from.Y - to.Y) / 2, (to.X - from.X) / 2}
	part := 1.0 // of the ruler's length that fits into the picture
	for _, limit := range []float64{middle.Y / math.Abs(down.Y), (float64(s.Height)*s.Scale - middle.Y) / math.Abs(down.Y)} {
		part = min(part, .99*limit)
	}
	r.Level, r.LengthMM = true, r.LengthMM*part
	r.From = Point{middle.X - part*down.X, middle.Y - part*down.Y}
	r.To = Point{middle.X + part*down.X, middle.Y + part*down.Y}
	r.Plate = [4]Point{swap(r.Plate[0]), swap(r.Plate[3]), swap(r.Plate[2]), swap(r.Plate[1])}
	return r
}

// upright is the ruler that stands upright in the picture; false: none is seen.
func (s *Small) upright() (best Ruler, found bool) {
	for _, times := range []int{1, windowWide} {
		high, from, to := times*windowFine, leastLag, times*windowFine/4
		if times > 1 {
			from = windowFine / 4
		}
		if s.Height < high || s.Width < bandWide {
			continue
		}
		list := s.windows(high, from, to)
		c := bestComb(list, high)
		if c.strength < leastStrength {
			continue
		}
		a, half := s.runs(list, high, c)
		t, ok := s.follow(a, half, c)
		if !ok {
			continue
		}
		if r := s.ruler(t); r.Confidence > best.Confidence {
			best, found = r, true
		}
	}
	return best, found
}

func (s *Small) ruler(t *ticks) Ruler {
	s.straighten(t)
	left, right := s.lengths(t, 1)
	unit, sure := tellUnit(left, right, float64(max(s.Width, s.Height))/t.period)
	if sure == 0 {
		return Ruler{}
	}
	first, last := math.Ceil(t.count[t.from])+1, math.Floor(t.count[t.to])-1
	r := Ruler{Unit: unit.name, LengthMM: (last - first) * unit.mm, Lines: int(last-first) + 1, Confidence: sure}
	r.From, r.To = s.point(t.place(t.at(first), 0)), s.point(t.place(t.at(last), 0))
	from, to := s.plate(t, unit.mm)
	head, foot := t.at(t.count[t.from]), t.at(t.count[t.to])
	for i, at := range [4][2]float64{{head, from}, {head, to}, {foot, to}, {foot, from}} {
		r.Plate[i] = s.point(t.place(at[0], at[1]))
	}
	return r
}

// point is a place of the small picture in the picture itself.
func (s *Small) point(x, y float64) Point { return Point{(x + .5) * s.Scale, (y + .5) * s.Scale} }

// What a ruler's plate is (assumptions).
const (
	plateMost = 36.0 // mm from the lines' middle to its side, at most
	plateStep = 0.3  // of ln luminance at its side
	plateSide = 1.0  // mm over which that stays
)

// plate is how far a ruler reaches across on both sides of its axis, pixels.
func (s *Small) plate(t *ticks, mm float64) (left, right float64) {
	perMM := t.period / mm
	level := func(across float64) float64 {
		var list []float64
		for k := math.Ceil(t.count[t.from]); k < t.count[t.to]-1; k++ {
			list = append(list, s.along(t, t.at(k+.5), across))
		}
		slices.Sort(list)
		return list[len(list)/2]
	}
	usual := level(0)
	side := func(way float64) float64 {
		out := 0.0
		for across := 0.0; across < plateMost*perMM; across++ {
			if math.Abs(level(way*across)-usual) < plateStep {
				out = across
			} else if across-out > plateSide*perMM {
				break
			}
		}
		return way * out
	}
	return side(-1), side(1)
}
