package photo

import (
	"fmt"
	"math"

	"panecore/layers/tag"
)

// waterAbove is how much water is read above the click on the surface, within the picture, mm
// (assumption).
const waterAbove = 5.0

// inside is the part of a box within a picture: the upper edge of a tilted pane's strip may lie above it.
func (b Box) inside(w, h float64) Box {
	x, y := max(0, b.X), max(0, b.Y)
	return Box{x, y, min(w, b.X+b.W) - x, min(h, b.Y+b.H) - y}
}

// click is the row of the picture where the bed surface is looked for.
func (k Picks) click() float64 {
	if k.SurfaceY != nil {
		return *k.SurfaceY
	}
	return k.Strip.Y
}

// grid lays cells over the strip.
func (k Picks) grid() (*grid, error) {
	if k.Plane != nil {
		return k.tilted(*k.Plane)
	}
	f, err := newFrame(k.Ruler)
	if err != nil {
		return nil, err
	}
	top := min(k.Strip.Y, max(0, k.click()-waterAbove*f.pxPerMM))
	return f.straight(k.Strip.X+k.Strip.W/2, top, k.Strip.W, k.Strip.Y+k.Strip.H-top), nil
}

// greatestTagRoll is how far a pane with a tag may lean in the picture, degrees: beyond, rows of the picture say too
// little about depths (assumption).
const greatestTagRoll = 60.0

// tilted lays cells along the depth axis of the pane that meets the middle of the strip's upper edge, from there down
// to the row of its lower edge; they are as wide together as the upper edge.
func (k Picks) tilted(h Plane) (*grid, error) {
	s := k.Strip
	x, y := h.Of(Point{s.X + s.W/2, s.Y})
	top := min(y, max(h.depth(x, 0), h.depth(x, k.click())-waterAbove))
	foot := h.depth(x, s.Y+s.H)
	for _, end := range []float64{top, foot} {
		across, down := h.Scale(x, end)
		if !(min(across, down) >= leastScale && max(across, down) <= greatestScale) {
			return nil, &Refusal{
				Reason: fmt.Sprintf("by the tag the strip has %.3g px per mm, want %g to %g", min(across, down), leastScale, greatestScale),
				Help:   "photograph the tag and the bed together, not from the side",
			}
		}
	}
	middle := (top + foot) / 2
	across, down := h.Scale(x, middle)
	above, below := h.At(x, middle-1), h.At(x, middle+1)
	f := frame{down, (below.X - above.X) / (2 * down), (below.Y - above.Y) / (2 * down)}
	if roll := f.rollDegrees(); !(math.Abs(roll) <= greatestTagRoll) {
		return nil, &Refusal{
			Reason: fmt.Sprintf("by the tag the pane leans by %.0f degrees in the picture, want at most %g", roll, greatestTagRoll),
			Help:   "turn the picture upright, and check that the tag is taped upright",
		}
	}
	pitch := math.Max(finestCell, pixelsCell/min(across, down))
	wide, _ := h.Scale(x, y)
	wide = s.W / wide
	click := h.depth(x, k.click())
	if !(top <= click && click < foot) || !h.before(x-wide/2, x+wide/2, top, foot) {
		return nil, &Refusal{Reason: "no camera sees the pane as the tag says", Help: "photograph the tag again, flat on the pane"}
	}
	plane := h.Shift(x-wide/2, top)
	return &grid{
		frame: f, pitch: pitch, tilt: &plane,
		rows: max(1, int((foot-top)/pitch)), cols: max(1, int(wide/pitch)),
	}, nil
}

// The whole of a tilted pane is looked at as far as mostPane mm from its tag, and where it has half the scale that the
// picture's middle has or more: beyond lies the room (assumptions).
const (
	mostPane  = 400.0
	leastHalf = 0.5
	paneCell  = 0.35 // mm at least: what the bed is found by is coarser
)

// wholeGrid lays cells over all that a picture of a width and a height shows of the pane.
func (k Picks) wholeGrid(w, h float64) (*grid, error) {
	if k.Plane == nil {
		f, err := newFrame(k.Ruler)
		if err != nil {
			return nil, err
		}
		return f.straight(w/2, 0, w, h-1), nil
	}
	plane := *k.Plane
	x, y := plane.Of(Point{w / 2, h / 2})
	if !plane.upright(x, y) {
		return nil, &Refusal{Reason: "by the tag the pane lies on its side in the picture", Help: "turn the picture upright, and check that the tag is taped upright"}
	}
	across, down := plane.Scale(x, y)
	left, right, top, foot := x, x, y, y
	for _, at := range []Point{{0, 0}, {w, 0}, {w, h}, {0, h}, {w / 2, 0}, {w / 2, h}, {0, h / 2}, {w, h / 2}} {
		px, py := plane.Of(at)
		if a, d := plane.Scale(px, py); !(min(a, d) >= leastHalf*min(across, down)) || plane[6]*px+plane[7]*py+1 <= 0 {
			return nil, &Refusal{Reason: "the pane is seen too much from the side", Help: "photograph it less tilted, or mark the strip"}
		}
		left, right, top, foot = min(left, px), max(right, px), min(top, py), max(foot, py)
	}
	left, right, top, foot = max(left, -mostPane), min(right, mostPane), max(top, -mostPane), min(foot, mostPane)
	if scale := min(across, down); !(scale >= leastScale && max(across, down) <= greatestScale && right > left && foot > top) {
		return nil, &Refusal{Reason: fmt.Sprintf("by the tag the pane has %.3g px per mm, want %g to %g", scale, leastScale, greatestScale), Help: "photograph the tag and the bed together, not from the side"}
	}
	pitch := math.Max(paneCell, pixelsCell/min(across, down))
	shifted := plane.Shift(left, top)
	f := frame{pxPerMM: down, downY: 1}
	return &grid{frame: f, pitch: pitch, tilt: &shifted, rows: max(1, int((foot-top)/pitch)), cols: max(1, int((right-left)/pitch))}, nil
}

// upright reports that the depth axis leans by greatestTagRoll at most at a place, mm, and that the pane is not mirrored.
func (h Plane) upright(x, y float64) bool {
	p, right, below := h.At(x, y), h.At(x+1, y), h.At(x, y+1)
	dx, dy := below.X-p.X, below.Y-p.Y
	return math.Abs(math.Atan2(dx, dy))*180/math.Pi <= greatestTagRoll && (right.X-p.X)*dy-(right.Y-p.Y)*dx > 0
}

// paper are the corners of the paper of a tag of a size, mm, from whose mark the plane counts.
func (h Plane) paper(size float64) [4]Point {
	b := tag.Paper(size)
	return [4]Point{h.At(b.X, b.Y), h.At(b.X+b.W, b.Y), h.At(b.X+b.W, b.Y+b.H), h.At(b.X, b.Y+b.H)}
}

// before reports that all of a part of the pane lies before the camera.
func (h Plane) before(left, right, top, foot float64) bool {
	for _, x := range []float64{left, right} {
		for _, y := range []float64{top, foot} {
			if !(h[6]*x+h[7]*y+1 > 0) {
				return false
			}
		}
	}
	return true
}

// depth is how far down the depth axis at x, mm, a row of the picture is met, mm.
func (h Plane) depth(x, row float64) float64 {
	return (row*(h[6]*x+1) - h[3]*x - h[5]) / (h[4] - row*h[7])
}

// rowAt is the row of cells that a row of the picture meets in the middle of the strip.
func (g *grid) rowAt(y float64) float64 {
	if g.tilt != nil {
		return g.tilt.depth(float64(g.cols)/2*g.pitch, y) / g.pitch
	}
	return (y - g.centreY) / g.pxPerMM / g.pitch
}
