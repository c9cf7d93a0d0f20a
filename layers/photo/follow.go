package photo

import (
	"fmt"
	"math"

	"panecore/layers/photo/picture"
	"panecore/layers/photo/register"
)

// Followed are the marks of an earlier picture of a pane where they lie in a new one. Those that did not follow are zero, and
// so is the bed surface, which settles and grows.
type Followed struct {
	Picks              Picks
	Ruler, Card, Strip Sighting
	Note               string // how the new picture lies to the earlier one, or why that is not seen, in a sentence without its stop
}

// Follow finds out how a picture lies to an earlier one of the same pane, by what is taped to the pane and what else
// stands still, and takes the earlier marks along, as far as they are sure to be right. A ruler or card that itself was moved
// on the pane does not follow.
func Follow(last *picture.Picture, picks Picks, now *picture.Picture) *Followed {
	fit, found := register.Find(last, now)
	if !found {
		return &Followed{Note: "too little of the last photo is seen again in this one"}
	}
	by := follower{fit}
	shift := by.at(Point{float64(last.Width) / 2, float64(last.Height) / 2})
	f := &Followed{Note: fmt.Sprintf("moved with the pane by %.0f px across and %.0f px down, turned by %.1f degrees, at %.0f %% of its size",
		math.Round(shift.X-float64(last.Width)/2)+0, math.Round(shift.Y-float64(last.Height)/2)+0, math.Round(fit.Turn()*1800/math.Pi)/10+0, 100*fit.Scale())}
	if ruler, ok := by.ruler(picks.Ruler, now); ok {
		f.Picks.Ruler, f.Ruler = ruler, f.sighted(by.confidence(Point{picks.Ruler.X1, picks.Ruler.Y1}, Point{picks.Ruler.X2, picks.Ruler.Y2}))
	}
	for _, card := range picks.Neutral {
		if box, ok := by.card(card.Box, now); ok && by.hasCard(card.Box, picks.Ruler) {
			f.Picks.Neutral, f.Card = append(f.Picks.Neutral, Card{Box: box, Reflectance: card.Reflectance}), f.sighted(by.confidence(corners(card.Box)...))
		}
	}
	if strip := by.strip(picks.Strip, now); strip.W > 0 {
		f.Picks.Strip, f.Strip = strip, f.sighted(by.confidence(corners(picks.Strip)...))
	}
	f.dropDoubtful()
	return f
}

func (f *Followed) sighted(confidence float64) Sighting {
	return Sighting{Confidence: confidence, Note: "as on the last photo, " + f.Note}
}

// dropDoubtful leaves out the marks that may be off.
func (f *Followed) dropDoubtful() {
	if f.Ruler.Doubtful() {
		f.Picks.Ruler, f.Ruler = Ruler{}, Sighting{}
	}
	if f.Card.Doubtful() {
		f.Picks.Neutral, f.Card = nil, Sighting{}
	}
	if f.Strip.Doubtful() {
		f.Picks.Strip, f.Strip = Box{}, Sighting{}
	}
}

func corners(b Box) []Point {
	return []Point{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X, b.Y + b.H}, {b.X + b.W, b.Y + b.H}}
}

// follower takes marks along by how the pictures lie.
type follower struct{ *register.Lie }

func (f follower) at(p Point) Point { return Point(f.At(register.Point(p))) }

func (f follower) confidence(places ...Point) float64 {
	var list []register.Point
	for _, at := range places {
		list = append(list, register.Point(at))
	}
	return f.Confidence(list...)
}

// ruler moves a ruler's points; false: it was moved on the pane or has left the picture.
func (f follower) ruler(r Ruler, now *picture.Picture) (Ruler, bool) {
	a, b := f.at(Point{r.X1, r.Y1}), f.at(Point{r.X2, r.Y2})
	return Ruler{a.X, a.Y, b.X, b.Y, r.LengthMM}, holds(now, a) && holds(now, b) && f.hasRuler(r)
}

// card moves a card's box, which holds a smaller upright one if it is turned; false: it has left the picture.
func (f follower) card(c Box, now *picture.Picture) (Box, bool) {
	middle, by, lean := f.at(Point{c.X + c.W/2, c.Y + c.H/2}), f.Scale(), math.Abs(math.Sin(f.Turn()))
	w, h := by*c.W-lean*c.H, by*c.H-lean*c.W
	box := Box{middle.X - w/2, middle.Y - h/2, w, h}
	return box, w > 0 && h > 0 && within(now, "card", box) == nil
}

// leastLeft is the share of a strip's height or width that must still be in the picture (assumption).
const leastLeft = 0.6

// strip moves a strip, which hangs from the middle of its upper end; none: too little of it is left in the picture.
func (f follower) strip(s Box, now *picture.Picture) Box {
	top := f.at(Point{s.X + s.W/2, s.Y})
	w, h := f.Scale()*s.W, f.Scale()*s.H
	w += 2 * min(0, top.X-w/2, float64(now.Width)-top.X-w/2) // on both sides, so that the middle stays
	upper, lower := max(0, top.Y), min(float64(now.Height), top.Y+h)
	if w < leastLeft*f.Scale()*s.W || lower-upper < leastLeft*h {
		return Box{}
	}
	return Box{top.X - w/2, upper, w, lower - upper}
}

func holds(p *picture.Picture, at Point) bool {
	return at.X >= 0 && at.Y >= 0 && at.X <= float64(p.Width) && at.Y <= float64(p.Height)
}

// How what is around a mark tells that the mark is still there (assumptions).
const (
	aroundRuler = 0.12 // of the ruler's length, on each side
	aroundCard  = 0.25 // of the card's width and height, on each side
	lessEven    = 1.6  // by how much less even a card may be than it was
	leastUneven = 0.02 // of the root of the light: noise
	cardLighter = 0.45 // ln of by how much more or less light than it was, against the ruler's
)

// hasRuler reports whether the ruler still lies on the pane as what is around it.
func (f follower) hasRuler(r Ruler) bool {
	reach := aroundRuler * math.Hypot(r.X2-r.X1, r.Y2-r.Y1)
	return f.Shows(func(at register.Point) bool {
		return awayFrom(Point{r.X1, r.Y1}, Point{r.X2, r.Y2}, Point(at)) <= reach
	})
}

// hasCard reports whether a card still lies there: its corners do, or the place is as even as it was, and as light beside
// the ruler.
func (f follower) hasCard(c Box, r Ruler) bool {
	aside, above := aroundCard*c.W, aroundCard*c.H
	if f.Shows(func(at register.Point) bool {
		return at.X >= c.X-aside && at.X <= c.X+c.W+aside && at.Y >= c.Y-above && at.Y <= c.Y+c.H+above
	}) {
		return true
	}
	was, is := f.Tones(meshed(c))
	wasRuler, isRuler := f.Tones(meshed(Box{min(r.X1, r.X2), min(r.Y1, r.Y2), math.Abs(r.X2 - r.X1), math.Abs(r.Y2 - r.Y1)}))
	floor := func(tone float64) float64 { return max(leastUneven, tone) }
	lighter := 2 * math.Abs(math.Log(floor(is.Mean)*floor(wasRuler.Mean)/floor(isRuler.Mean)/floor(was.Mean))) // twice: they are roots
	return f.hasRuler(r) && is.Uneven <= max(leastUneven, lessEven*was.Uneven) && lighter <= cardLighter
}

// meshSide is how many places along a side show a box's tone (assumption).
const meshSide = 12

// meshed are places all over a box.
func meshed(b Box) (list []register.Point) {
	for i := range meshSide {
		for j := range meshSide {
			list = append(list, register.Point{X: b.X + b.W*(float64(j)+0.5)/meshSide, Y: b.Y + b.H*(float64(i)+0.5)/meshSide})
		}
	}
	return list
}

// awayFrom is how far a place lies from the line between two others.
func awayFrom(a, b, at Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	along := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		along = min(1, max(0, ((at.X-a.X)*dx+(at.Y-a.Y)*dy)/length))
	}
	return math.Hypot(at.X-a.X-along*dx, at.Y-a.Y-along*dy)
}
