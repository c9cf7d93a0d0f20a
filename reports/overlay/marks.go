package overlay

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"panecore/layers/photo"
)

// masked hatches the parts left out of the reading.
func (v *canvas) masked() {
	for _, quad := range v.Reading.Masked {
		corners := v.line(quad[:])
		r := around(corners, 0).Intersect(v.img.Rect)
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
				fill(v.img, image.Rect(x, y, x+1, y+1), ink)
			}
		}
	}
}

// inside reports whether a spot lies within a convex polygon.
func inside(corners []spot, p spot) bool {
	left, right := false, false
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		turn := (b.x-a.x)*(p.y-a.y) - (b.y-a.y)*(p.x-a.x)
		left, right = left || turn > 0, right || turn < 0
	}
	return !(left && right)
}

// edge draws an edge as traced, or in dashes and in the ink of the keeper's marks where the keeper moved it.
func (v *canvas) edge(line []spot, moved bool) {
	if !moved {
		stroke(v.img, line, lineWidth, inkLine)
		return
	}
	for _, dash := range dashed(line) {
		stroke(v.img, dash, movedWidth, inkRuler)
	}
}

// moved reports whether an edge lies where the keeper set it.
func (v *canvas) moved(k int) bool { return k < len(v.Reading.Moved) && v.Reading.Moved[k] }

// marks draws the keeper's other marks: the ruler's points and the grey cards.
func (v *canvas) marks() {
	from, to := v.rulerEnds()
	stroke(v.img, []spot{from, to}, lineWidth, inkRuler)
	for _, end := range []spot{from, to} {
		stroke(v.img, []spot{end.plus(-rulerTick, 0), end.plus(rulerTick, 0)}, 2, inkRuler)
	}
	for _, card := range v.Picks.Neutral {
		v.dashed(v.cornersOf(card.Box), inkRuler)
	}
}

// notes names the marks, clear of the strip and of other names.
func (v *canvas) notes() {
	v.taken = append(v.taken, around(v.corners[:], 0))
	from, _ := v.rulerEnds()
	v.put(v.plate("ruler, "+v.Units.Length(v.Picks.Ruler.LengthMM)), int(from.x)+rulerTick+4, int(from.y))
	for i, card := range v.Picks.Neutral {
		name := "grey card"
		if len(v.Picks.Neutral) > 1 {
			name += fmt.Sprint(" ", i+1)
		}
		foot := v.cornersOf(card.Box)[3]
		v.put(v.plate(name), int(foot.x), int(foot.y)+6+plateHeight/2)
	}
}

func (v *canvas) rulerEnds() (from, to spot) {
	r := v.Picks.Ruler
	return v.at(photo.Point{X: r.X1, Y: r.Y1}), v.at(photo.Point{X: r.X2, Y: r.Y2})
}

// dashed draws an outline, which closes by itself, in dashes.
func (v *canvas) dashed(corners []spot, ink color.NRGBA) {
	for i, corner := range corners {
		for _, dash := range dashed([]spot{corner, corners[(i+1)%len(corners)]}) {
			stroke(v.img, dash, lineWidth, ink)
		}
	}
}

// bracket marks the colour oxic depth beside the strip by a line down from the surface, thick
// over the depth's range.
func (v *canvas) bracket() {
	e := v.Core.OxicDepth
	if e == nil {
		return
	}
	out := -float64(bracketGap)
	if !v.right {
		out = -out
	}
	place := func(mm, out float64) spot { return v.beside(mm).plus(out, 0) }
	cover(v.img, []spot{place(e.Low, out), place(e.High, out)}, 5, inkHalo)
	cover(v.img, []spot{place(e.Low, out), place(e.High, out)}, 3.5, inkOxic)
	stroke(v.img, []spot{place(0, out), place(e.Value, out)}, lineWidth, inkOxic)
	for _, mm := range []float64{0, e.Value} {
		stroke(v.img, []spot{place(mm, out/4), place(mm, 1.6*out)}, 2, inkOxic)
	}
	p, end := v.oxicPlate(), place(e.Value, 2*out)
	if v.right {
		end.x -= float64(p.width)
	}
	v.put(p, int(end.x), int(end.y))
}

func (v *canvas) oxicPlate() plate {
	e := v.Core.OxicDepth
	if e == nil {
		return plate{}
	}
	text := "colour oxic depth "
	if e.AtLeast {
		text += "at least "
	}
	u := v.Units
	return v.plate(fmt.Sprintf("%s%s %s (%s to %s)", text, u.Number(e.Value), u, u.Number(e.Low), u.Number(e.High)))
}

// beside is the place of a depth on the side of the strip without names.
func (v *canvas) beside(mm float64) spot {
	top, foot := v.corners[0], v.corners[3]
	if !v.right {
		top, foot = v.corners[1], v.corners[2]
	}
	length := math.Hypot(foot.x-top.x, foot.y-top.y)
	dx, dy := (foot.x-top.x)/length, (foot.y-top.y)/length
	surface := 0.0
	for _, p := range v.Reading.Edges[0] {
		at := v.at(p)
		surface += ((at.x-v.corners[0].x)*dx + (at.y-v.corners[0].y)*dy) / float64(len(v.Reading.Edges[0]))
	}
	down := surface + mm*v.Reading.PxPerMM*v.scale
	return top.plus(down*dx, down*dy)
}
