package photo

// place is a point of the strip in the upright picture; row and column count the grid's cells.
func (g *grid) place(row, column float64) Point {
	if g.tilt != nil {
		return g.tilt.At(column*g.pitch, row*g.pitch)
	}
	cell := g.pitch * g.pxPerMM
	down, across := row*cell, (column-float64(g.cols)/2)*cell
	return Point{
		X: g.centreX + across*g.downY + down*g.downX,
		Y: g.centreY - across*g.downX + down*g.downY,
	}
}

// quad are the corners of a part of the strip in the upright picture, from the upper left
// clockwise.
func (g *grid) quad(top, bottom, left, right float64) [4]Point {
	return [4]Point{g.place(top, left), g.place(top, right), g.place(bottom, right), g.place(bottom, left)}
}

// line is an edge in the upright picture, with a point for each block.
func (s *strata) line(g *grid, k int) []Point {
	wide := s.field.width / s.field.pitch
	points := make([]Point, s.field.blocks)
	for b := range points {
		points[b] = g.place(s.edge(k, b), (float64(b)+0.5)*wide)
	}
	return points
}

// hidden lists the runs of masked cells, row by row.
func (g *grid) hidden(f *field) [][4]Point {
	var list [][4]Point
	for r := range g.rows {
		for c := 0; c < g.cols; c++ {
			from := c
			for c < g.cols && f.hides(g, r, c) {
				c++
			}
			if c > from {
				list = append(list, g.quad(float64(r), float64(r+1), float64(from), float64(c)))
			}
		}
	}
	return list
}

// hides reports whether a cell is masked.
func (f *field) hides(g *grid, row, column int) bool {
	block := min(f.blocks-1, column/f.wide)
	return f.glare[row*g.cols+column] || f.veiled[row*f.blocks+block]
}
