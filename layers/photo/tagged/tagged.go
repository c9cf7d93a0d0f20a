// Package tagged finds the glass tag in a photo: tank, station, and the plane of the pane to a fraction of a pixel,
// however the picture is turned, tilted up to about 25°, blurred or partly lit. It takes no tag for another: its text has
// the check bytes of its code, and all of the tag is held against what that text would print.
package tagged

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/layers/tag"
)

// Found is a tag in a picture.
type Found struct {
	Tag        tag.Tag
	Plane      photo.Plane    // of the pane; millimetres from the middle of the upper left mark
	Cards      []photo.Card   // its white paper and its black ink, where they can be used
	Confidence float64        // that all of it is right, 0 to 1
	Corners    [4]photo.Point // the middles of its marks, from the upper left clockwise
}

// A shade of a picture has at most so many pixels along its longer side at first, where most tags are large enough
// (assumption).
const firstSide = 1600

// How far around a pixel black is told from white, pixels: near for hard shadows, far for large tags (assumptions).
const (
	nearReach = 20
	farReach  = 80
)

// Miss says why a picture has no tag that can be used: what was seen, and what is wanted.
type Miss struct {
	photo.Refusal
	Part bool // something of a tag is seen
}

// Find finds the picture's tag, or says why there is none.
func Find(p *picture.Picture) (*Found, *Miss) {
	var seen glimpse
	whole := newGrey(p)
	first := max(1, (max(p.Width, p.Height)+firstSide-1)/firstSide)
	usual := whole.smaller(first)
	try := func(g *grey, reaches ...int) (list []*Found) {
		s := g.shade()
		marks := make([]bool, len(s.v))
		for _, reach := range reaches {
			s.black(marks, reach)
			if list = seen.tags(whole, s, marks); len(list) > 0 {
				break
			}
		}
		return list
	}
	list := try(usual, nearReach, farReach)
	if len(list) == 0 {
		list = try(usual.smaller(2), nearReach, farReach) // noise comes off
	}
	for times := first / 2; times >= 1 && len(list) == 0; times /= 2 {
		list = try(whole.smaller(times), nearReach) // for small tags
	}
	if len(list) == 0 {
		return nil, seen.why()
	}
	return choose(list)
}

// choose takes the tag that is seen best. Tags of two stations are refused.
func choose(list []*Found) (*Found, *Miss) {
	best := slices.MaxFunc(list, func(a, b *Found) int { return cmp.Compare(a.Confidence, b.Confidence) })
	for _, f := range list {
		if f.Tag.Tank != best.Tag.Tank || f.Tag.Station != best.Tag.Station {
			return nil, &Miss{photo.Refusal{
				Reason: fmt.Sprintf("the photo shows two tags: %s and %s", placeOf(best.Tag), placeOf(f.Tag)),
				Help:   "photograph one station with its own tag, or cover the other",
			}, true}
		}
	}
	return best, nil
}

func placeOf(t tag.Tag) string { return fmt.Sprintf("station %s of tank %q", t.Station, t.Tank) }

// glimpse is what was seen of tags that can't be used.
type glimpse struct {
	eye     *eye // that is surely one
	times   int  // of the shade that it was seen in
	partial string
}

// why says so.
func (g *glimpse) why() *Miss {
	switch {
	case g.partial != "":
		return &Miss{photo.Refusal{
			Reason: g.partial,
			Help:   "photograph the whole tag, sharp, without glare, 120 pixels wide or more",
		}, true}
	case g.eye != nil:
		return &Miss{photo.Refusal{
			Reason: fmt.Sprintf("a part of a tag is seen near %.0f,%.0f, but not all of it", g.eye.x*float64(g.times), g.eye.y*float64(g.times)),
			Help:   "photograph the whole tag, with nothing over it",
		}, true}
	}
	return &Miss{photo.Refusal{Reason: "the photo shows no glass tag", Help: "photograph the tag with the bed, or mark the strip and a ruler"}, false}
}

// tags are those that can be used.
func (g *glimpse) tags(p *grey, s *shade, marks []bool) (list []*Found) {
	eyes := s.eyes(marks)
	for i := range eyes {
		if g.eye == nil && eyes[i].rays >= sureRays && s.likeness(eyes[i]) >= sureLikeness {
			g.eye, g.times = &eyes[i], s.times
		}
	}
	all := poses(s, marks, eyes)
	slices.SortFunc(all, func(a, b pose) int { return cmp.Compare(b.score, a.score) })
	for _, pose := range all[:min(len(all), mostPoses)] {
		middle := pose.At(0.5, 0.5)
		if slices.ContainsFunc(list, func(f *Found) bool { return f.holds(middle, float64(s.times)) }) {
			continue
		}
		if f := g.tag(p, s.times, pose); f != nil {
			list = append(list, f)
		}
	}
	return list
}

// holds reports that a place of a shade lies on the tag.
func (f *Found) holds(at photo.Point, times float64) bool {
	x, y := f.Plane.Of(photo.Point{X: at.X * times, Y: at.Y * times})
	return x > 0 && y > 0 && x < f.Tag.SizeMM && y < f.Tag.SizeMM
}

// mostPoses is how many are tried (assumption: four tags and what passes for others).
const mostPoses = 12

// tag reads the tag that lies as a pose says.
func (g *glimpse) tag(p *grey, times int, at pose) *Found {
	c, h := patchOf(p, at, times)
	known := newPattern(at.side, nil)
	if f, ok := fit(c, h, newIdeal(known).samples(known.spots(), usualBlur)); ok {
		h = f.h
	}
	list := texts(c, h, at.side)
	if len(list) == 0 {
		g.partial = cmp.Or(g.partial, fmt.Sprintf("a code is seen near %.0f,%.0f, but it can't be read: a part of it is covered, or it is blurred or too small", c.x+float64(c.times*c.w)/2, c.y+float64(c.times*c.h)/2))
	}
	for _, text := range list {
		t, err := tag.Parse(text)
		if err != nil {
			g.partial = cmp.Or(g.partial, "the photo shows a code that is no glass tag")
			continue
		}
		f, fault := confirm(c, h, t, at.side)
		if f != nil {
			return f
		}
		g.partial = cmp.Or(g.partial, fmt.Sprintf("the tag of %s is seen, but %s", placeOf(t), fault))
	}
	return nil
}

// Blurs that are tried, in modules.
const usualBlur = 0.4

var blurs = [...]float64{0.2, 0.4, 0.7}

// fineModule is how many pixels of a patch a module has, at most twice: finer is not needed (assumption).
const fineModule = 5

// patchOf is the part of the picture where a tag lies, and how it lies there.
func patchOf(p *grey, at pose, times int) (*patch, photo.Plane) {
	const beside = 0.12 // of the size
	low, high := photo.Point{X: math.Inf(1), Y: math.Inf(1)}, photo.Point{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, c := range [][2]float64{{-beside, -beside}, {1 + beside, -beside}, {1 + beside, 1 + beside}, {-beside, 1 + beside}} {
		q := at.At(c[0], c[1])
		low.X, low.Y, high.X, high.Y = min(low.X, q.X), min(low.Y, q.Y), max(high.X, q.X), max(high.Y, q.Y)
	}
	across, down := at.Scale(0.5, 0.5)
	finer := max(1, int((across+down)/2*tag.Module(at.side)*float64(times)/fineModule))
	f := float64(times)
	c := p.patch(f*low.X, f*low.Y, f*high.X, f*high.Y, finer)
	return c, moveTo(at.Plane, f/float64(finer), -c.x/float64(finer), -c.y/float64(finer))
}

// moveTo is a plane whose points are times as far from the corner, and then moved.
func moveTo(h photo.Plane, times, dx, dy float64) photo.Plane {
	for i := range 3 {
		w := 1.0
		if i < 2 {
			w = h[6+i]
		}
		h[i], h[3+i] = times*h[i]+dx*w, times*h[3+i]+dy*w
	}
	return h
}

// A tag is taken for what its text says if so much of it looks so (assumptions, tried on drawn and path-traced tags).
const (
	leastSame = 0.88 // of its modules
	mostRest  = 0.50 // typical difference of light, a share of the step from black to white
	leastMark = 0.45 // likeness of a corner mark
	mostTilt  = 0.45 // by which one side of it is seen longer than the other, as a share
)

// confirm lays all of the tag that a text says over the picture. If it doesn't fit, it says why.
func confirm(c *patch, h photo.Plane, t tag.Tag, side int) (*Found, string) {
	code, err := tag.NewCode(t)
	if err != nil || code.Side != side {
		return nil, "its code is not one that this program prints"
	}
	p := newPattern(side, code)
	var best fitted
	sharp, spots := newIdeal(p), p.spots()
	for _, blur := range blurs {
		if f, ok := fit(c, h, sharp.samples(spots, blur)); ok && (best.rest == 0 || f.rest < best.rest) {
			best, h = f, f.h
		}
	}
	light, inside := modules(c, best.h, p)
	switch {
	case best.rest == 0 || !inside:
		return nil, "a part of it is cut off"
	case best.rest > mostRest:
		return nil, "too little of it is sharp and lit"
	}
	alike := same(blackModules(light, side, sharpenings[1]), code)
	if alike < leastSame {
		return nil, "too little of its code is seen"
	}
	for i, corner := range tag.Corners() {
		if likeness := markLikeness(c, best.h, corner); likeness < leastMark {
			return nil, fmt.Sprintf("its %s mark is not", [...]string{"upper left", "upper right", "lower right", "lower left"}[i])
		}
	}
	return newFound(c, best, t, alike)
}

// markLikeness is the correlation of a corner mark with what it must look like, −1 to 1; 0: it is not in the patch.
func markLikeness(c *patch, h photo.Plane, corner [2]float64) float64 {
	const n = 6 // places along each side
	var sum, squares, cross, inks, count float64
	for i := range n * n {
		dx, dy := (float64(i%n)+0.5)/n*2-1, (float64(i/n)+0.5)/n*2-1
		at := h.At(corner[0]+dx*tag.Arm, corner[1]+dy*tag.Arm)
		v, inside := c.at(at.X, at.Y)
		if !inside {
			return 0
		}
		ink := 1.0
		if tag.MarkBlack(dx, dy) {
			ink = -1
		}
		sum, squares, cross, inks, count = sum+v, squares+v*v, cross+v*ink, inks+ink, count+1
	}
	variance := squares/count - sum*sum/(count*count)
	return (cross/count - sum/count*inks/count) / math.Sqrt(max(variance, 1e-12))
}

// newFound turns shares of the size and pixels of a patch into millimetres and pixels of the picture.
func newFound(c *patch, best fitted, t tag.Tag, alike float64) (*Found, string) {
	f := float64(c.times)
	h := moveTo(best.h, f, c.x, c.y)
	found := &Found{Tag: t, Confidence: alike * (1 - best.rest/mostRest)}
	for i, corner := range tag.Corners() {
		found.Corners[i] = h.At(corner[0], corner[1])
	}
	side := func(i int) float64 {
		a, b := found.Corners[i], found.Corners[(i+1)%4]
		return math.Hypot(a.X-b.X, a.Y-b.Y)
	}
	for i := range 2 {
		if a, b := side(i), side(i+2); max(a, b) > (1+mostTilt)*min(a, b) {
			return nil, "it is tilted too far"
		}
	}
	found.Cards = cardsOf(h)
	for i := range h {
		if i%3 != 2 && i < 6 || i >= 6 {
			h[i] /= t.SizeMM
		}
	}
	found.Plane = h
	return found, ""
}

// What paper and ink reflect (assumptions: plain white paper 0.80 to 0.90, the black of a laser or ink-jet printer on it
// 0.03 to 0.07, both under clear tape).
const (
	paperReflectance = 0.85
	inkReflectance   = 0.05
)

// cardsOf are the tag's patches of paper and ink as grey cards.
func cardsOf(h photo.Plane) []photo.Card {
	return []photo.Card{
		{Box: boxIn(h, tag.White), Reflectance: paperReflectance},
		{Box: boxIn(h, tag.Black), Reflectance: inkReflectance},
	}
}

// boxIn is the largest upright square within the inner part of a patch of a tag.
func boxIn(h photo.Plane, b tag.Box) photo.Box {
	const inner = 0.8 // of its sides
	middle := h.At(b.X+b.W/2, b.Y+b.H/2)
	half := math.Inf(1) // of the square: as far as its corners reach each side of the patch
	x0, y0 := b.X+b.W*(1-inner)/2, b.Y+b.H*(1-inner)/2
	x1, y1 := x0+b.W*inner, y0+b.H*inner
	corners := [4]photo.Point{h.At(x0, y0), h.At(x1, y0), h.At(x1, y1), h.At(x0, y1)}
	for i, p := range corners {
		q := corners[(i+1)%4]
		nx, ny := q.Y-p.Y, p.X-q.X
		distance := math.Abs(nx*(middle.X-p.X) + ny*(middle.Y-p.Y))
		half = min(half, distance/(math.Abs(nx)+math.Abs(ny)))
	}
	return photo.Box{X: middle.X - half, Y: middle.Y - half, W: 2 * half, H: 2 * half}
}

// Ruler is the tag's left side, from mark to mark, for what knows no plane.
func (f *Found) Ruler() photo.Ruler {
	top, foot := f.Corners[0], f.Corners[3]
	return photo.Ruler{X1: top.X, Y1: top.Y, X2: foot.X, Y2: foot.Y, LengthMM: f.Tag.SizeMM}
}
