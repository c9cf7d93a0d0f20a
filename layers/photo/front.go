package photo

import "slices"

// A camera above the bed sees its top recede behind the pane: what ends the water is then the far end of that top, and
// the bed's front begins lower, where grains and flocs lie at the pane. The top has the front's colour, but is smoother.

// How the front is found (assumptions, tried on path-traced beds).
const (
	overlook     = 10.0  // mm by which a camera must stand above the bed for its top to be looked for
	shortestTank = 100.0 // mm from the pane to the far wall
	longestTank  = 400.0
	waterIndex   = 1.33 // refractive index: things in water look nearer
	frontSlack   = 2.0  // mm by which the top may reach further down than foreseen
	frontShare   = 0.6  // of the greatest turn to sharp and coarse, from which on it is the front: layers below may turn too
	frontClimb   = 2.0  // mm in which that turn grows to its full
	surelyTop    = 4.0  // mm: a top that must be seen so high at least is missed where it is not
	leastTop     = 0.5  // of that height, in a column where it counts as seen
	leastTops    = 0.2  // share of the columns
)

// recedes is by how much the top of a bed whose front begins at a depth of the pane may reach up behind it, mm.
func (c camera) recedes(depth float64) float64 {
	if depth-c.y < overlook {
		return 0
	}
	return min(c.top(depth, longestTank)+frontSlack, mostPane)
}

// top is how high the top of a bed whose front begins at a depth of the pane is seen, mm, if the far wall is so far away.
func (c camera) top(depth, wall float64) float64 {
	behind := wall / waterIndex
	return (depth - c.y) * behind / (c.away + behind)
}

// front is where the bed's front begins, if it lies within a height below the row where the water ends, mm.
func (t *turns) front(water, within float64) shore {
	f := t.field
	from := min(max(0, int(water)), f.rows-1)
	to := min(f.rows, from+f.rowsOf(within)+1)
	texture := make([]float64, to-from)
	for i := range texture {
		texture[i] = t.texture(from + i)
	}
	least := frontShare * slices.Max(texture)
	at := slices.IndexFunc(texture, func(turn float64) bool { return turn >= least })
	for i := at; i < min(len(texture), at+f.rowsOf(frontClimb)); i++ {
		if texture[i] > texture[at] {
			at = i
		}
	}
	return f.meet(from+at, t.fine, t.hues)
}

// missesTop reports that the camera looks down on a bed whose top is not seen above the line of its front, so that the
// line may be the top's far end.
func (n *pane) missesTop(front line, shores []shoreIn) bool {
	if n.tilt == nil {
		return false
	}
	want := n.likely.top(front.at(float64(n.cols)/2)*n.pitch, shortestTank)
	seen := 0.0
	for _, s := range shores {
		if s.top >= leastTop*want {
			seen++
		}
	}
	return want >= surelyTop && seen < leastTops*float64(len(shores))
}
