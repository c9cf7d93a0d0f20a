package photo

import (
	"fmt"
	"math"
)

// Box is a part of the upright picture by its upper left corner, width and height, pixels.
type Box struct{ X, Y, W, H float64 }

// Ruler is two points of the upright picture, in pixels, and their distance along the depth
// axis, in millimetres.
type Ruler struct{ X1, Y1, X2, Y2, LengthMM float64 }

// A photo of a pane has a scale between these, pixels per millimetre (assumptions).
const leastScale, greatestScale = 1.0, 60.0

// A roll above steepRoll gives a warning. Above greatestRoll the two points can't lie along
// the depth axis. Degrees (assumptions).
const steepRoll, greatestRoll = 5.0, 20.0

// frame is the scale of a picture and the direction of depth in it.
type frame struct {
	pxPerMM float64
	downX   float64 // unit vector down the depth axis
	downY   float64
}

func newFrame(r Ruler) (frame, error) {
	dx, dy := r.X2-r.X1, r.Y2-r.Y1
	if dy < 0 {
		dx, dy = -dx, -dy
	}
	length := math.Hypot(dx, dy)
	scale := length / r.LengthMM
	if !(scale >= leastScale && scale <= greatestScale) {
		return frame{}, &Refusal{
			Reason: fmt.Sprintf("the ruler's points are %.0f px and %.4g mm apart, which is %.3g px per mm, want %g to %g", length, r.LengthMM, scale, leastScale, greatestScale),
			Help:   "mark two points of the ruler that are far apart and give the length between them",
		}
	}
	f := frame{scale, dx / length, dy / length}
	if roll := f.rollDegrees(); math.Abs(roll) > greatestRoll {
		return frame{}, &Refusal{
			Reason: fmt.Sprintf("the line between the ruler's points leans by %.0f degrees from the upright, want at most %g", roll, greatestRoll),
			Help:   "mark two points one below the other along the depth, on a ruler that stands upright on the glass",
		}
	}
	return f, nil
}

// rollDegrees is the lean of the depth axis from the picture's upright, positive where its
// bottom leans to the left.
func (f frame) rollDegrees() float64 { return -math.Atan2(f.downX, f.downY) * 180 / math.Pi }
