package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// A pane mirrors what stands before it: often a bright wall or window down to a line, and below that a table or a
// shelf. Above the line the same light is added to every cell, whatever lies behind the glass. So the line
// looks like an edge, and all above it paler than it is, up to where the bright thing ends: above that some cell
// is darker than what was added.

// What is the line of a mirrored room and no edge of a layer (assumptions, of path-traced and real beds).
const (
	mirrorNear     = 0.6   // mm from the edge, left out
	mirrorFar      = 5.0   // mm, as far as cells are compared
	mirrorCells    = 300   // on each side, at least
	mirrorRagged   = 0.6   // mm, at most: grains and flocs make rougher edges
	leastSlope     = 0.6   // of the quantiles above over those below: the layer's own light,
	greatestSlope  = 1.4   // which a layer of other matter multiplies, or
	mostlyAdded    = 0.5   // of the step between them, at least, is added: the rest is the mirrored light's noise
	leastMirrored  = 0.002 // light, white at 1: fainter is not seen
	leastBeside    = 0.25  // of the darkest tenth of the cells below: fainter is not told from a layer's own light
	faintMirror    = 0.05  // stronger light lies over more than one layer, or it is a layer
	greatestMirror = 0.5   // stronger is glare
	whiter         = 1.5   // the blue of what is added over its red, beside that of the layer
	whiteEnough    = 0.75  // the same, at which it need not be whiter
	leastOfMirror  = 0.7   // of what was added, at least, is in the darkest tenth of the cells of a layer
	mirrorLines    = 2     // in one photo, at most
	onMirrorLine   = 1.5   // mm: what lies so near is the line
)

// mirrorLine is an edge at which the light of a mirrored room ends.
type mirrorLine struct {
	rows  []float64      // of the line, by block
	head  []float64      // of where the bright thing ends above; nil: not in the strip
	added palette.Linear // between them
}

// mirrored finds the strongest such line.
func (s *strata) mirrored(g *grid) (line mirrorLine, found bool) {
	most := 0.0
	for k := 1; k < len(s.level); k++ {
		if s.raggedness(k) > mirrorRagged {
			continue
		}
		added, ok := s.addedAbove(g, k)
		if !ok || added[1] <= most {
			continue
		}
		head := s.head(g, k, added)
		if slices.Max(added[:]) > faintMirror && k-head < 2 {
			continue // a pale layer
		}
		most, found = added[1], true
		line = mirrorLine{added: added}
		for b := range s.at {
			line.rows = append(line.rows, s.at[b][k])
			if head >= 0 {
				line.head = append(line.head, s.at[b][head])
			}
		}
	}
	return line, found
}

// head is the edge above the k-th where a mirrored bright thing ends; -1: it ends above the bed.
func (s *strata) head(g *grid, k int, added palette.Linear) int {
	near := mirrorNear / s.field.pitch
	for top := k - 1; top >= 0; top-- {
		cells := s.cells(g, func(b int) (float64, float64) { return s.edge(top, b) + near, s.edge(top+1, b) - near })
		for ch, list := range cells {
			if len(list) < mirrorCells {
				continue
			}
			slices.Sort(list)
			if list[len(list)/10] < leastOfMirror*added[ch] {
				return top + 1
			}
		}
	}
	return -1
}

// addedAbove is what the cells above an edge have beyond those below it; false: the edge is one of matter.
func (s *strata) addedAbove(g *grid, k int) (added palette.Linear, ok bool) {
	far, near := mirrorFar/s.field.pitch, mirrorNear/s.field.pitch
	above := s.cells(g, func(b int) (float64, float64) {
		at := s.edge(k, b)
		return max(s.edge(k-1, b)+near, at-far), at - near
	})
	below := s.cells(g, func(b int) (float64, float64) {
		at := s.edge(k, b)
		return at + near, min(s.edge(k+1, b)-near, at+far)
	})
	if min(len(above[0]), len(below[0])) < mirrorCells {
		return added, false
	}
	var dark, step palette.Linear // dark: of the layer below
	for c := range added {
		slices.Sort(above[c])
		slices.Sort(below[c])
		slope, shift := quantileLine(below[c], above[c])
		step[c] = above[c][len(above[c])/2] - below[c][len(below[c])/2]
		switch {
		case slope < leastSlope, slope > greatestSlope && shift < mostlyAdded*step[c]:
			return added, false
		case slope > greatestSlope:
			shift = step[c]
		}
		added[c] = shift
		dark[c] = below[c][len(below[c])/10]
	}
	if min(added[1], step[1], step[2]) <= 0 || added[2] < max(leastMirrored, leastBeside*dark[2]) || slices.Max(added[:]) > greatestMirror {
		return added, false
	}
	return added, added[2] > added[0]*min(whiter*dark[2]/max(dark[0], 1e-6), whiteEnough)
}

// cells are the light of the cells between two rows of each block, by channel.
func (s *strata) cells(g *grid, rows func(block int) (from, to float64)) (list [3][]float64) {
	f := s.field
	for b := range f.blocks {
		from, to := rows(b)
		for r := max(0, int(from)); r < min(f.rows, int(to)); r++ {
			for c := b * f.wide; c < min((b+1)*f.wide, f.cols); c++ {
				at := r*f.cols + c
				if g.pixels[at] == 0 || f.glare[at] {
					continue
				}
				for ch, v := range g.light[at] {
					list[ch] = append(list[ch], v)
				}
			}
		}
	}
	return list
}

// quantileLine lays the tenths of one sorted list over those of another: y = slope·x + shift, by least squares.
func quantileLine(x, y []float64) (slope, shift float64) {
	var sx, sy, sxx, sxy float64
	const n = 9
	for tenth := 1; tenth <= n; tenth++ {
		a, b := x[tenth*len(x)/10], y[tenth*len(y)/10]
		sx, sy, sxx, sxy = sx+a, sy+b, sxx+a*a, sxy+a*b
	}
	slope = (n*sxy - sx*sy) / max(n*sxx-sx*sx, 1e-12)
	return slope, (sy - slope*sx) / n
}

// unmirror takes the light of a mirrored room off the cells.
func (g *grid) unmirror(line mirrorLine, wide int) {
	for c := range g.cols {
		b := min(c/wide, len(line.rows)-1)
		head := 0
		if line.head != nil {
			head = int(line.head[b])
		}
		for r := head; r < min(g.rows, int(line.rows[b])); r++ {
			g.takeOff(r, c, line.added)
		}
	}
}

// dropLine removes edges that lie on a mirrored room's line or its head.
func (s *strata) dropLine(line mirrorLine) {
	on := func(rows []float64, k int) bool {
		off := 0.0
		for b, row := range rows {
			off += math.Abs(s.at[b][k]-row) / float64(len(rows))
		}
		return rows != nil && off*s.field.pitch <= onMirrorLine
	}
	for k := len(s.level) - 1; k > 0; k-- {
		if !on(line.rows, k) && !on(line.head, k) {
			continue
		}
		s.level = slices.Delete(s.level, k, k+1)
		for b := range s.at {
			s.at[b] = slices.Delete(s.at[b], k, k+1)
		}
	}
	s.looks, s.levelled = s.field.looks(s.warp), s.field.level(s.warp)
}
