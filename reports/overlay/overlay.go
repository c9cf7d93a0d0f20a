// Package overlay draws what was read from a photo onto that photo, for a keeper to check: the
// strip, the traced edges, each layer's name and depths, the colour oxic depth, the masked
// parts, the ruler's points and the grey cards. It computes nothing that it shows.
package overlay

import (
	"image"
	"image/draw"
	"image/png"
	"io"
	"math"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/reports"
)

// Drawing is the content of an overlay.
type Drawing struct {
	Picture *picture.Picture
	Picks   photo.Picks
	Reading *photo.Reading
	Core    reports.Core // what the layers mean
	Units   layers.Units // of lengths
}

// Write writes an overlay as a PNG, see [Image]. Its errors are those of w.
func Write(w io.Writer, d Drawing) error { return png.Encode(w, Image(d)) }

// Image draws an overlay. Its longer side is at most 1600 pixels unless the names need more
// room. The same drawing gives the same pixels.
func Image(d Drawing) image.Image {
	v := newCanvas(d)
	v.masked()
	for k, edge := range d.Reading.Edges {
		v.edge(v.line(edge), v.moved(k))
	}
	v.dashed(v.corners[:], inkLine)
	v.marks()
	v.names()
	v.bracket()
	v.notes()
	return v.img
}

// Bare is a photo with a note, for one on which nothing can be drawn.
func Bare(p *picture.Picture, note string) image.Image {
	v := &canvas{letters: newLetters(), img: Shrink(p, longestSide)}
	v.put(v.plate(note), canvasEdge, canvasEdge+plateHeight/2)
	return v.img
}

// Sizes on the canvas, pixels (assumptions: readable on a screen).
const (
	longestSide = 1600
	lineWidth   = 1.6
	movedWidth  = 2.4 // of an edge that the keeper moved
	leadLength  = 44  // from the strip to the names
	stubLength  = 10  // of a leader before it turns
	rulerTick   = 9   // on either side of a ruler's point
	bracketGap  = 16  // from the strip to the bracket
	canvasEdge  = 8   // margin without names
	hatchPitch  = 9
	hatchWidth  = 2
)

// canvas is the picture that is drawn on, widened where the names need room.
type canvas struct {
	Drawing
	letters
	img     *image.RGBA
	scale   float64           // canvas pixels per picture pixel
	left    float64           // the picture's left side
	corners [4]spot           // of the strip, from the upper left clockwise
	plates  []plate           // beside the strip, from the top down
	right   bool              // the plates stand to the right of it
	taken   []image.Rectangle // by plates and the strip
}

func newCanvas(d Drawing) *canvas {
	small := Shrink(d.Picture, longestSide)
	v := &canvas{Drawing: d, letters: newLetters(), scale: float64(small.Rect.Dx()) / float64(d.Picture.Width)}
	v.plates = v.layerPlates()
	left, right := v.margins(small.Rect.Dx())
	height := max(small.Rect.Dy(), len(v.plates)*platePitch+2*canvasEdge)
	v.left = float64(left)
	v.img = image.NewRGBA(image.Rect(0, 0, left+small.Rect.Dx()+right, height))
	fill(v.img, v.img.Rect, inkMargin)
	draw.Draw(v.img, small.Rect.Add(image.Pt(left, 0)), small, image.Point{}, draw.Src)
	for i, corner := range d.Reading.Strip {
		v.corners[i] = v.at(corner)
	}
	return v
}

// margins chooses the side of the strip for the names: the right if it has room or neither
// has. The bracket gets the other. It returns how many pixels must be added to each side.
func (v *canvas) margins(width int) (left, right int) {
	names, bracket := 0, bracketGap*2+canvasEdge+v.oxicPlate().width
	for _, plate := range v.plates {
		names = max(names, leadLength+canvasEdge+plate.width)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, corner := range v.Reading.Strip {
		low, high = min(low, corner.X*v.scale), max(high, corner.X*v.scale)
	}
	roomLeft, roomRight := int(low), width-int(math.Ceil(high))
	v.right = roomRight >= names || roomLeft < names
	if v.right {
		return max(0, bracket-roomLeft), max(0, names-roomRight)
	}
	return max(0, names-roomLeft), max(0, bracket-roomRight)
}

// at is the place of a picture's point on the canvas.
func (v *canvas) at(p photo.Point) spot { return spot{p.X*v.scale + v.left, p.Y * v.scale} }

func (v *canvas) line(points []photo.Point) []spot {
	line := make([]spot, len(points))
	for i, p := range points {
		line[i] = v.at(p)
	}
	return line
}

// cornersOf are a box's corners, from the upper left clockwise.
func (v *canvas) cornersOf(b photo.Box) []spot {
	return v.line([]photo.Point{{X: b.X, Y: b.Y}, {X: b.X + b.W, Y: b.Y}, {X: b.X + b.W, Y: b.Y + b.H}, {X: b.X, Y: b.Y + b.H}})
}
