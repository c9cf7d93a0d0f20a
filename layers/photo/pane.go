package photo

import (
	"math"
	"slices"

	"panecore/layers/photo/picture"
)

// pane is the whole picture on a grid, in which the bed is looked for before a strip is known.
type pane struct {
	*grid
	light   *correction
	covers  []cover // what stands before the bed
	mirrors []cover // windows that the pane mirrors

	likely, highest camera // to the grid's first cell, where a plane is known
	topless         bool   // the camera looks down on the bed, but its top is not seen
}

// cover is a part of the grid's columns and rows.
type cover struct{ left, right, top, bottom int }

func (s cover) meets(o cover) bool {
	return s.left < o.right && o.left < s.right && s.top < o.bottom && o.top < s.bottom
}

// newPane reads the picture to the scale that picks give.
func newPane(p *picture.Picture, k Picks, light *correction) (*pane, error) {
	g, err := k.wholeGrid(float64(p.Width), float64(p.Height))
	if err != nil {
		return nil, err
	}
	g.read(p)
	n := &pane{grid: g, light: light}
	if g.tilt != nil {
		n.likely, n.highest = g.tilt.cameras(float64(p.Width), float64(p.Height))
	}
	return n, nil
}

// cell is the row and column of a point of the picture.
func (g *grid) cell(at Point) (row, column float64) {
	if g.tilt != nil {
		x, y := g.tilt.Of(at)
		return y / g.pitch, x / g.pitch
	}
	dx, dy, cell := at.X-g.centreX, at.Y-g.centreY, g.pitch*g.pxPerMM
	return (dx*g.downX + dy*g.downY) / cell, (dx*g.downY-dy*g.downX)/cell + float64(g.cols)/2
}

// scaleAt is the pixels per millimetre at a cell.
func (g *grid) scaleAt(row, column float64) float64 {
	if g.tilt == nil {
		return g.pxPerMM
	}
	across, down := g.tilt.Scale(column*g.pitch, row*g.pitch)
	return math.Sqrt(across * down)
}

// hide shuts what lies between points, and a margin around, mm.
func (n *pane) hide(margin float64, points ...Point) {
	s := cover{left: n.cols, top: n.rows}
	rim := margin / n.pitch
	for _, at := range points {
		row, column := n.cell(at)
		s.left, s.right = min(s.left, int(column-rim)), max(s.right, int(column+rim))
		s.top, s.bottom = min(s.top, int(row-rim)), max(s.bottom, int(row+rim))
	}
	n.covers = append(n.covers, s)
}

// open reports whether nothing shut lies before some columns and rows.
func (n *pane) open(left, right, top, bottom int) bool {
	return !slices.ContainsFunc(n.covers, cover{left, right, top, bottom}.meets)
}

// part is a copy of some columns.
func (n *pane) part(from, to int) *grid {
	g := *n.grid
	g.cols = to - from
	middle := n.place(0, float64(from+to)/2)
	g.centreX, g.centreY = middle.X, middle.Y
	if n.tilt != nil {
		tilt := n.tilt.Shift(float64(from)*n.pitch, 0)
		g.tilt = &tilt
	}
	g.light, g.pixels, g.burnt = nil, nil, nil
	for r := range n.rows {
		at := r * n.cols
		g.light = append(g.light, n.grid.light[at+from:at+to]...)
		g.pixels = append(g.pixels, n.pixels[at+from:at+to]...)
		g.burnt = append(g.burnt, n.burnt[at+from:at+to]...)
	}
	return &g
}

// mirrored reports whether a mirrored window lies before some columns between two rows.
func (n *pane) mirrored(left, right, top, bottom int) bool {
	return slices.ContainsFunc(n.mirrors, cover{left, right, top, bottom}.meets)
}

// line is a level or leaning line across the pane, by its row at column 0.
type line struct{ row, lean float64 }

func (l line) at(column float64) float64 { return l.row + l.lean*column }

// The bed ends below in a straight line, the tank's foot, while no layer's edge is so straight and sharp.
const (
	floorWide     = 2.0   // mm of width that are compared
	floorNear     = 0.9   // mm above and below
	floorLeast    = 10.0  // mm below the bed surface, at least
	floorLean     = 0.06  // columns against rows, at most: the pane seen from beside
	floorLeanStep = 0.004 // so that it is met to a cell across the picture
	floorMost     = 0.5   // ln of light, of which more counts no more
	floorOne      = 0.93  // how much of the change of light the columns have in common
	floorFaint    = 0.06  // ln of light by which it changes, at least
	calmMost      = 30.0  // mm that a calm rim below the bed is high, at most
	calmShare     = 0.45  // of the bed's texture that a rim has, at most
	calmOne       = 0.55  // what its upper edge has in common, at least
)

// floor is the line in which the bed ends; false: none is seen.
func (n *pane) floor(surface line) (foot line, found bool) {
	lights := n.columns(max(1, int(floorWide/n.pitch)))
	middle := float64(n.cols) / 2
	first := int(surface.at(middle) + floorLeast/n.pitch)
	for r := max(0, first); r < n.rows; r++ {
		l, one := n.straight(lights, r)
		if one < floorOne {
			continue
		}
		for end := r + int(1/n.pitch); r < end; r++ { // the straightest within a millimetre
			if next, more := n.straight(lights, r); more > one {
				l, one = next, more
			}
		}
		return n.aboveRim(lights, surface, l), true
	}
	end := line{row: float64(n.rows)}
	foot = n.aboveRim(lights, surface, end) // the rim may reach to the picture's end
	return foot, foot != end
}

// columns are ln of light, column by column.
func (n *pane) columns(wide int) [][]float64 {
	list := make([][]float64, n.cols/wide)
	for c := range list {
		list[c] = make([]float64, n.rows)
		for r := range n.rows {
			sum, cells := 0.0, 0.0
			for x := c * wide; x < (c+1)*wide; x++ {
				if at := r*n.cols + x; n.pixels[at] > 0 {
					sum, cells = sum+n.grid.light[at].Luminance(), cells+1
				}
			}
			list[c][r] = math.Log(sum/cells + darkLight)
		}
	}
	return list
}

// straight is the line through a row of the middle column that has most of its change of light in common.
func (n *pane) straight(lights [][]float64, row int) (best line, one float64) {
	near, wide := max(2, int(floorNear/n.pitch)), float64(n.cols)/float64(len(lights))
	for lean := -floorLean; lean <= floorLean; lean += floorLeanStep {
		sum, squares, count := 0.0, 0.0, 0.0
		for c := range lights {
			at := row + int(math.Round(lean*(float64(c)+.5-float64(len(lights))/2)*wide))
			if at < near || at+near > n.rows {
				continue
			}
			step := (mean(lights[c][at:at+near]) - mean(lights[c][at-near:at]))
			if math.IsNaN(step) {
				continue
			}
			step = min(max(-floorMost, step), floorMost)
			sum, squares, count = sum+step, squares+step*step, count+1
		}
		if count < float64(len(lights))/2 || math.Abs(sum/count) < floorFaint {
			continue
		}
		if common := math.Abs(sum/count) / math.Sqrt(squares/count); common > one {
			best, one = line{float64(row) - lean*float64(n.cols)/2, lean}, common
		}
	}
	return best, one
}

// aboveRim is the upper edge of a calm rim above a straight line; the line itself where there is none.
func (n *pane) aboveRim(lights [][]float64, surface, foot line) line {
	middle := n.cols / 2
	half := int(surfacePart / n.pitch)
	f := newField(n.part(max(0, middle-half), min(n.cols, middle+half)), n.light)
	texture := f.textures(max(2, int(math.Round(waterLag/f.pitch))), true)
	top, end := int(surface.at(float64(middle))), min(n.rows, int(foot.at(float64(middle))))
	from := min(max(0, top), len(texture))
	bed := slices.Clone(texture[from:max(from, end-int(calmMost/n.pitch))])
	if len(bed) == 0 {
		return foot
	}
	calm := median(bed) + math.Log(calmShare)
	skip := int(2 * waterRows / n.pitch)
	row := end - skip
	for row > 0 && texture[row-1] < calm {
		row--
	}
	if end-row < 2*skip || float64(end-row)*n.pitch > calmMost {
		return foot
	}
	best, most := foot, calmOne
	for r := max(0, row-3*skip); r <= row+skip; r++ { // a texture is blurred over its window
		if l, one := n.straight(lights, r); one > most {
			best, most = l, one
		}
	}
	return best
}
