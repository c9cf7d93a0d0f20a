package overlay

import (
	"image"
	"image/draw"
	"math"

	"panecore/layers/photo"
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
	letters
	img     *image.RGBA
	scale   float64           // sheet pixels to one of the picture
	left    float64           // where the picture begins
	corners [4]spot           // of the strip, from the upper left clockwise
	plates  []plate           // beside the strip, from the top down
	right   bool              // they stand to the right of it
	taken   []image.Rectangle // by plates and by the strip
}

func newSheet(d Drawing, l letters) *sheet {
	small := Shrink(d.Picture, longestSide)
	s := &sheet{Drawing: d, letters: l, scale: float64(small.Rect.Dx()) / float64(d.Picture.Width)}
	s.plates = s.layerPlates()
	left, right := s.margins(small.Rect.Dx())
	height := max(small.Rect.Dy(), len(s.plates)*platePitch+2*sheetEdge)
	s.left = float64(left)
	s.img = image.NewRGBA(image.Rect(0, 0, left+small.Rect.Dx()+right, height))
	fill(s.img, s.img.Rect, inkMargin)
	draw.Draw(s.img, small.Rect.Add(image.Pt(left, 0)), small, image.Point{}, draw.Src)
	for i, corner := range d.Reading.Strip {
		s.corners[i] = s.at(corner)
	}
	return s
}

// margins chooses the side of the strip for the names, the right one if it has room or
// neither has, and says how much must be added to the picture's width on each side. The
// bracket gets the other side.
func (s *sheet) margins(width int) (left, right int) {
	names, bracket := 0, bracketGap*2+sheetEdge+s.oxicPlate().width
	for _, plate := range s.plates {
		names = max(names, leadLength+sheetEdge+plate.width)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, corner := range s.Reading.Strip {
		low, high = min(low, corner.X*s.scale), max(high, corner.X*s.scale)
	}
	roomLeft, roomRight := int(low), width-int(math.Ceil(high))
	s.right = roomRight >= names || roomLeft < names
	if s.right {
		return max(0, bracket-roomLeft), max(0, names-roomRight)
	}
	return max(0, names-roomLeft), max(0, bracket-roomRight)
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

// cornersOf are a box's corners, from the upper left clockwise.
func (s *sheet) cornersOf(b photo.Box) []spot {
	return s.line([]photo.Point{{X: b.X, Y: b.Y}, {X: b.X + b.W, Y: b.Y}, {X: b.X + b.W, Y: b.Y + b.H}, {X: b.X, Y: b.Y + b.H}})
}
