package photo

import (
	"fmt"
	"math"
)

// Box is a part of the upright picture, in pixels: its upper left corner, width and height.
type Box struct{ X, Y, W, H float64 }

// Ruler is two points of the upright picture, in pixels, and how far they are apart along
// the depth axis, in millimetres.
type Ruler struct{ X1, Y1, X2, Y2, LengthMM float64 }

// A scale outside these is no photo of a pane, pixels per millimetre (assumption).
const leastScale, greatestScale = 1.0, 60.0

// Rolled further than steepRoll a photo is told of, further than greatestRoll the two
// points can't be meant along the depth axis, degrees (assumptions).
const steepRoll, greatestRoll = 5.0, 20.0

// frame says where depth runs in a picture.
type frame struct {
	pxPerMM float64
	downX   float64 // unit vector down the depth axis, pixels
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

// rollDegrees is how far the depth axis leans from the picture's upright, positive
// where the bottom goes to the left.
func (f frame) rollDegrees() float64 { return -math.Atan2(f.downX, f.downY) * 180 / math.Pi }
