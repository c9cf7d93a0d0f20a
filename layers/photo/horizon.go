package photo

import (
	"math"
	"slices"
)

// How the bed is looked for across the pane, mm (assumptions, tried on drawn and path-traced beds).
const (
	surfacePart  = 16.0 // width of the columns whose surface is found by itself
	surfaceStep  = 8.0  // from one to the next
	surfaceAlike = 4.0  // by which they may differ from the line through most of them
	mostSlope    = 0.15 // of that line, mm to a mm
	leastParts   = 3    // columns that must lie on it
	sharpLine    = 0.2  // mean ln of a factor by which the bed is sharper than the water in them, where a single one may be too noisy to tell
	dullShare    = 0.3  // what columns count whose bed is hardly sharper than the water: a window that the pane mirrors
)

// horizon is the bed surface across the pane.
type horizon struct {
	line
	share float64 // of the columns whose surface lies near it; 0: there is none
	sure  float64 // the same with those whose surface might lie near it, less those near the likeliest other line
	sharp bool    // those are together sharper than the water, as mirrored lines are not
}

// shoreIn is the bed surface in some columns, by their middle, and what they count.
type shoreIn struct {
	shore
	column, counts float64
	others         []float64 // rows that might be it as well
	top            float64   // by which the bed's top is seen above it, mm
}

// off is how many rows it lies from a line.
func (s shoreIn) off(l line) float64 { return math.Abs(s.row - l.at(s.column)) }

// surfaceAt is the bed surface in some columns; false: none is seen.
func (n *pane) surfaceAt(from, to int) (s shoreIn, found bool) {
	t := newField(n.part(from, to), n.light).turns()
	s = shoreIn{column: float64(from+to) / 2, counts: 1, others: t.others()}
	if s.shore, found = t.waterline(); !found {
		return s, false
	}
	if n.tilt != nil {
		if within := n.highest.recedes(s.row * n.pitch); within > 0 {
			water := s.row
			s.shore = t.front(water, within)
			s.top = (s.row - water) * n.pitch
		}
	}
	if !s.sharp {
		s.counts = dullShare
	}
	return s, !math.IsNaN(s.row) // a tilted pane's outer columns lie beside the picture
}

// surfaceNear is the bed surface in some columns, where it lies about at a row.
func (n *pane) surfaceNear(from, to int, row float64) shore {
	f := newField(n.part(from, to), n.light)
	return f.meet(int(min(max(0, row), float64(n.rows-1))), f.textures(1, false), f.hues())
}

// surface is the line through most columns' bed surface.
func (n *pane) surface() horizon {
	shores := n.shores()
	h := n.across(shores)
	n.topless = h.share > 0 && n.missesTop(h.line, shores)
	return h
}

// shores are where columns across the pane show the bed surface.
func (n *pane) shores() (list []shoreIn) {
	wide, step := int(surfacePart/n.pitch), max(1, int(surfaceStep/n.pitch))
	for from := 0; from+wide <= n.cols; from += step {
		if !n.open(from, from+wide, 0, n.rows) {
			continue
		}
		if s, found := n.surfaceAt(from, from+wide); found && !n.headOfWindow(from, from+wide, s.row) {
			list = append(list, s)
		}
	}
	return list
}

// across is the bed surface by where columns show it.
func (n *pane) across(shores []shoreIn) horizon {
	best := n.lineThrough(shores)
	on, all, counts, with, sharper := 0, 0.0, 0.0, 0.0, 0.0
	var beside []shoreIn
	for _, s := range shores {
		all += s.counts
		if s.off(best)*n.pitch <= surfaceAlike {
			on, counts, sharper = on+1, counts+s.counts, sharper+s.by
			continue
		}
		if slices.ContainsFunc(s.others, func(row float64) bool { return math.Abs(row-best.at(s.column))*n.pitch <= surfaceAlike }) {
			with += s.counts
		}
		beside = append(beside, s)
	}
	if on < leastParts {
		return horizon{}
	}
	sure := counts + max(0, with-n.along(n.lineThrough(beside), beside))
	return horizon{best, counts / all, sure / all, sharper >= sharpLine*float64(on)}
}

// lineThrough is the line that most columns' surface lies near.
func (n *pane) lineThrough(shores []shoreIn) (best line) {
	most := 0.0
	for i, a := range shores {
		for _, b := range shores[i+1:] {
			l := line{lean: (b.row - a.row) / (b.column - a.column)}
			if l.row = a.row - l.lean*a.column; math.Abs(l.lean) > mostSlope {
				continue
			}
			near := 0.0
			for _, c := range shores {
				near += c.counts * max(0, 1-c.off(l)*n.pitch/surfaceAlike)
			}
			if near > most {
				best, most = l, near
			}
		}
	}
	return best
}

// along is what the columns count whose surface lies near a line; fewer than leastParts are no line.
func (n *pane) along(l line, shores []shoreIn) (counts float64) {
	on := 0
	for _, s := range shores {
		if s.off(l)*n.pitch <= surfaceAlike {
			on, counts = on+1, counts+s.counts
		}
	}
	if on < leastParts {
		return 0
	}
	return counts
}

// headOfWindow reports whether what looks like a bed surface lies in or beside a mirrored window, whose head and foot look so.
func (n *pane) headOfWindow(left, right int, row float64) bool {
	near := surfaceAlike / n.pitch / 2
	return n.mirrored(left, right, int(row-near), int(row+near))
}
