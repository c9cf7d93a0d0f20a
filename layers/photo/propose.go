package photo

import (
	"fmt"
	"math"

	"panecore/layers/photo/picture"
	"panecore/layers/photo/seek"
)

// Proposal is a picture's marks: those a keeper gave, and those found in the picture by itself. A proposed mark is to be
// looked at: Read takes it for a keeper's own.
type Proposal struct {
	Picks                       Picks // what was neither given nor found is zero
	Ruler, Card, Surface, Strip Sighting
}

// Sighting is how a mark was come by.
type Sighting struct {
	Given      bool    // by the keeper
	Confidence float64 // that the mark is right, 0 to 1: 0 where none was found, 1 where it was given
	Note       string  // what was found and what that leaves open, in a sentence without its stop; empty for a given mark
}

// Doubtful reports whether a mark should be checked before numbers are believed.
func (s Sighting) Doubtful() bool { return s.Confidence < sureSighting }

// sureSighting is the confidence below which a found mark is told as doubtful (assumption).
const sureSighting = 0.7

// Propose looks in a picture for the marks that were not given: a strip of no width, a ruler of no length, no surface, no
// list of cards: an empty one says that there is none. Without a ruler there is no scale, and no strip or surface is looked for.
func Propose(p *picture.Picture, given Picks) *Proposal {
	b := &Proposal{Picks: given}
	var plate *seek.Ruler
	if given.Ruler.LengthMM > 0 && given.Neutral != nil {
		b.Ruler, b.Card = isGiven(), isGiven()
	} else {
		small := seek.Shrink(p)
		plate = b.ruler(small)
		b.card(small, plate)
	}
	b.bed(p, plate)
	return b
}

// isGiven is how a mark was come by that a keeper set.
func isGiven() Sighting { return Sighting{Given: true, Confidence: 1} }

// found is how a mark was come by in the picture; none is ever certain.
func found(confidence float64, note string) Sighting {
	return Sighting{Confidence: min(confidence, mostSure), Note: note}
}

// mostSure is the confidence of a found mark, at most (assumption).
const mostSure = 0.97

// ruler takes the ruler from the picture, and returns it with its plate; nil: it was given, or there is none.
func (b *Proposal) ruler(small *seek.Small) *seek.Ruler {
	if b.Picks.Ruler.LengthMM > 0 {
		b.Ruler = isGiven()
		return nil
	}
	r, seen := small.Ruler()
	if !seen {
		return nil
	}
	b.Picks.Ruler = Ruler{X1: r.From.X, Y1: r.From.Y, X2: r.To.X, Y2: r.To.Y, LengthMM: r.LengthMM}
	frame, err := newFrame(b.Picks.Ruler)
	if err != nil {
		b.Picks.Ruler = Ruler{}
		return nil
	}
	kind := "an upright ruler"
	if r.Level {
		kind = "a level ruler"
	}
	b.Ruler = found(r.Confidence, fmt.Sprintf("%s with %d lines, taken for %s: %.2f px per mm", kind, r.Lines, r.Unit, frame.pxPerMM))
	return &r
}

// usualAcross is how much of the glass a photo without a ruler is taken to show along its longer side, mm (assumption).
const usualAcross = 220.0

func (b *Proposal) card(small *seek.Small, plate *seek.Ruler) {
	if b.Picks.Neutral != nil {
		b.Card = isGiven()
		return
	}
	scale := float64(max(small.Width, small.Height)) * small.Scale / usualAcross
	if frame, err := newFrame(b.Picks.Ruler); err == nil {
		scale = frame.pxPerMM
	}
	c, seen := small.Card(scale, plate)
	if !seen {
		return
	}
	b.Picks.Neutral = []Card{{Box: Box{c.Corner.X, c.Corner.Y, c.W, c.H}}}
	b.Card = found(c.Confidence, fmt.Sprintf("a card of one grey or white, %.0f by %.0f mm of it", c.W/scale, c.H/scale))
}

// What a strip's or a surface's confidence is (assumptions, by how often such ones were right).
const (
	noFloor    = 0.6  // where no line was seen in which the bed ends
	unlikeHalf = 30.0 // CIELAB units by which a strip differs from the rest of the pane, that halve it
	offLine    = 3.0  // mm from the line through the other columns' surface
	halfSure   = 0.5  // of the rest, where the strip's own surface is farther from it or can't be compared
	mostParts  = 0.6  // share of the other columns that outvote the strip
	nearSure   = 0.85 // of the rest, where they did
	dullSure   = 0.7  // of the rest, where the bed is hardly sharper than the water, nor is it across the pane
)

// bed takes the strip and the surface from the picture.
func (b *Proposal) bed(p *picture.Picture, plate *seek.Ruler) {
	if b.Picks.SurfaceY != nil {
		b.Surface = isGiven()
	}
	if b.Picks.Strip.W > 0 {
		b.Strip = isGiven()
	}
	if b.Surface.Given && b.Strip.Given {
		return
	}
	light, err := newCorrection(p, b.Picks.Neutral)
	if err != nil {
		light, _ = newCorrection(p, nil)
	}
	n, err := newPane(p, b.Picks, light)
	if err != nil {
		return
	}
	n.cover(b.Picks, plate)
	surface := n.surface()
	if b.Surface.Given {
		row, _ := n.cell(Point{float64(p.Width) / 2, *b.Picks.SurfaceY})
		surface = horizon{line: line{row: row}, share: 1, sure: 1}
	}
	if surface.share > 0 && !b.Strip.Given {
		b.strip(n, surface.line)
		if b.Picks.Strip = b.Picks.Strip.inside(float64(p.Width), float64(p.Height)); !(b.Picks.Strip.W > 0 && b.Picks.Strip.H > 0) {
			b.Picks.Strip, b.Strip = Box{}, Sighting{} // by its plane all of it lies beside the picture
		}
	}
	if !b.Surface.Given && b.Picks.Strip.W > 0 {
		if y, how := n.surfaceIn(b.Picks.Strip, surface); how.Confidence > 0 {
			b.Picks.SurfaceY, b.Surface = &y, how
		}
	}
}

// cover shuts what stands before the bed or is mirrored there.
func (n *pane) cover(k Picks, plate *seek.Ruler) {
	switch {
	case k.Plane != nil:
		paper := k.Plane.paper(k.Ruler.LengthMM)
		n.hide(stripAside, paper[:]...)
	case plate != nil:
		var corners []Point
		for _, at := range plate.Plate {
			corners = append(corners, Point(at))
		}
		n.hide(stripAside, corners...)
	default:
		n.hide(stripAside, Point{k.Ruler.X1, k.Ruler.Y1}, Point{k.Ruler.X2, k.Ruler.Y2})
	}
	for _, c := range k.Neutral {
		x, y := .2*c.Box.W, .2*c.Box.H // a card is larger than the part that is used
		n.hide(stripAside, Point{c.Box.X - x, c.Box.Y - y}, Point{c.Box.X + c.Box.W + x, c.Box.Y + c.Box.H + y})
	}
	n.findMirrors()
}

func (b *Proposal) strip(n *pane, surface line) {
	foot, seen := n.floor(surface)
	sure := 1.0
	note := ", down to the line in which the bed ends"
	if !seen {
		foot, sure, note = line{row: float64(n.rows) - 1}, noFloor, ", down to the picture's end: no line was seen in which the bed ends"
	}
	left, right, unlike, room := n.strip(surface, foot)
	if !room {
		return
	}
	b.Picks.Strip = n.box(left, right, surface, foot)
	b.Strip = found(sure*math.Exp2(-unlike/unlikeHalf),
		fmt.Sprintf("%.0f mm of the pane, chosen because the bed looks there as it does beside%s", float64(right-left)*n.pitch, note))
}

// findSurface is the row of the bed surface in a strip, pixels: the strip's top where none is seen.
func findSurface(p *picture.Picture, light *correction, k Picks) (y float64, how Sighting) {
	n, err := newPane(p, k, light)
	if err != nil {
		return k.Strip.Y, Sighting{Note: "the pane is seen too much from the side to look for it, and the strip's top was taken for it"}
	}
	n.cover(k, nil)
	if y, how = n.surfaceIn(k.Strip, n.surface()); how.Confidence == 0 {
		return k.Strip.Y, Sighting{Note: "none was seen, and the strip's top was taken for it"}
	}
	return y, how
}

// surfaceIn is the row of the bed surface in a strip, pixels, by the strip itself and the line through what is seen across
// the pane; a confidence of 0 means that neither shows one.
func (n *pane) surfaceIn(s Box, across horizon) (y float64, how Sighting) {
	_, left := n.cell(Point{s.X, s.Y})
	_, right := n.cell(Point{s.X + s.W, s.Y})
	from, to := max(0, int(left)), min(n.cols, int(right))
	if from >= to {
		return 0, Sighting{}
	}
	at, here := n.surfaceAt(from, to)
	usual := across.at((left + right) / 2)
	const seen = "it was found where the picture turns sharp, coarse and redder"
	switch off := math.Abs(at.row-usual) * n.pitch; {
	case !here && across.share == 0:
		return 0, Sighting{}
	case across.share == 0:
		how = found(halfSure, seen+", in the strip alone")
	case !here || off > offLine && (across.share >= mostParts || !at.sharp) || n.headOfWindow(from, to, at.row):
		at.shore, how = n.surfaceNear(from, to, usual), found(across.sure*nearSure, "it was taken from what is seen beside the strip: in the strip it is not clear")
	case off > offLine:
		how = found(across.sure*halfSure, fmt.Sprintf("%s, but %.0f mm off the line that the rest of the pane shows", seen, off))
	default:
		how = found(across.sure, seen)
	}
	if n.topless {
		how = found(how.Confidence*halfSure, how.Note+"; the camera looks down on the bed, but its top is not told from its front: it may be the top's far end")
	}
	onLine := math.Abs(at.row-usual)*n.pitch <= offLine
	if !at.sharp && (!across.sharp || !onLine || n.headOfWindow(from, to, at.row)) {
		how = found(how.Confidence*dullSure, how.Note+"; the bed is hardly sharper than the water there, so its colour alone was taken")
	}
	if y = n.place(at.row, (left+right)/2).Y; !(y >= 0 && y < s.Y+s.H) {
		return 0, Sighting{} // by a tag's plane it lies beside the picture
	}
	return y, how
}
