package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// A bright window mirrored by the pane has upright sides and a level head and foot. Over a part of the strip it
// adds the same light to every cell. Since layers lie level, what is left and right of such a side differs by that light
// alone, which can so be measured and taken off.

// What is a mirrored window (assumptions, tried on path-traced and drawn beds).
const (
	windowSide   = 4.0  // mm on each side of its side that are compared
	windowLeast  = 0.03 // light that it adds, white at 1
	windowHeight = 6.0  // mm, at least
	windowEven   = 0.85 // share of the rows that show at least half of it
	windowBeside = 0.25 // of it, at most, differs above its head and below its foot
	windowPlumb  = 1.0  // mm by which its side may lie elsewhere in its lower half
	windowWhite  = 0.6  // the least of its channels over the greatest
	windowSharp  = 0.75 // of what it adds, at least, ends within windowRim at its side and its foot
	windowRim    = 1.0  // mm
)

// window is what a mirrored window adds to the cells of some columns between two rows.
type window struct {
	from, to   int // columns
	head, foot int // rows; a head above the bed surface is not known, and the first
	added      palette.Linear
}

// holds reports whether a cell lies in the window.
func (w *window) holds(row, column int) bool {
	return w.head <= row && row < w.foot && w.from <= column && column < w.to
}

// window finds one with a side in the strip that reaches below the row of the bed surface.
func (g *grid) window(surface int) (w window, found bool) {
	reach := int(math.Round(windowSide / g.pitch))
	if g.cols < 2*reach+1 {
		return w, false
	}
	sums := g.rowSums()
	side, best := 0, 0.0
	rim := int(math.Ceil(windowRim / g.pitch))
	for c := reach; c+reach <= g.cols; c++ {
		steps := g.steps(sums, c, reach, surface, g.rows)
		from, to := stretch(steps, rim)
		within := mean(steps[from:to])
		if float64(to-from)*g.pitch < windowHeight || math.Abs(within) < windowLeast ||
			max(math.Abs(mean(steps[:from])), math.Abs(mean(steps[to:]))) > windowBeside*math.Abs(within) {
			continue
		}
		if score := math.Abs(within) * math.Sqrt(float64(to-from)); score > best {
			side, best = c, score
		}
	}
	if best == 0 {
		return w, false
	}
	from, to := stretch(g.steps(sums, side, min(side, g.cols-side), surface, g.rows), rim) // far from its side grains matter less
	head, foot := surface+from, surface+to
	if !g.plumb(sums, side, head, foot, reach) {
		return w, false
	}
	steps := g.steps(sums, side, reach, head, foot)
	above := mean(steps)
	even := 0
	for _, s := range steps {
		if s*above > 0 && math.Abs(s) > math.Abs(above)/2 {
			even++
		}
	}
	if float64(even) < windowEven*float64(foot-head) {
		return w, false
	}
	w = window{from: 0, to: side, head: head, foot: foot}
	lighter := 1.0 // than right of its side
	if above < 0 {
		w.from, w.to, lighter = side, g.cols, -1
	}
	for ch := range w.added {
		var list []float64
		for r := head; r < foot; r++ {
			left, right := g.mean(r, side-reach, side, ch), g.mean(r, side, side+reach, ch)
			if !math.IsNaN(left) && !math.IsNaN(right) {
				list = append(list, lighter*(left-right))
			}
		}
		w.added[ch] = median(list)
	}
	if !(slices.Min(w.added[:]) >= windowWhite*slices.Max(w.added[:])) || !g.sharp(sums, w, side) {
		return w, false
	}
	if float64(head-surface)*g.pitch < windowRim {
		w.head = 0
	}
	return w, true
}

// Where sides of mirrored windows are looked for across the pane, mm, and how the two of one are alike (assumptions).
const (
	mirrorPart  = 24.0 // width of the columns that may hold one side
	mirrorStep  = 8.0  // from one to the next
	mirrorAlike = 0.7  // of the light that one side adds, at least, the other does
)

// findMirrors shuts the windows that the pane mirrors, by their sides, and takes the light of those off that show both. Of
// one with one side seen only what lies near is known.
func (n *pane) findMirrors() {
	lefts, rights := n.windowSides()
	for _, w := range append(slices.Clone(lefts), rights...) {
		n.mirrors = append(n.mirrors, cover{w.from, w.to, w.head, w.foot})
	}
	for _, l := range lefts {
		at := slices.IndexFunc(rights, func(r window) bool {
			one, other := l.added.Luminance(), r.added.Luminance()
			return l.from < r.to && 2*(min(l.foot, r.foot)-max(l.head, r.head)) > l.foot-l.head && min(one, other) >= mirrorAlike*max(one, other)
		})
		if at < 0 {
			continue
		}
		r := rights[at]
		whole := cover{l.from, r.to, min(l.head, r.head), max(l.foot, r.foot)}
		if slices.Contains(n.mirrors, whole) {
			continue // a side is seen in several parts
		}
		n.mirrors = append(n.mirrors, whole)
		for c := l.from; c < r.to; c++ { // it may hang askew
			share := float64(c-l.from) / float64(r.to-l.from)
			along := func(left, right int) int { return left + int(math.Round(share*float64(right-left))) }
			for row := max(0, along(l.head, r.head)); row < min(n.rows, along(l.foot, r.foot)); row++ {
				n.takeOff(row, c, l.added)
			}
		}
	}
}

// windowSides are the left and the right sides of mirrored windows, each as a window as far as the part it was found in goes.
func (n *pane) windowSides() (lefts, rights []window) {
	wide, step := int(mirrorPart/n.pitch), max(1, int(mirrorStep/n.pitch))
	for from := 0; from+wide <= n.cols; from += step {
		if !n.open(from, from+wide, 0, n.rows) {
			continue
		}
		w, found := n.part(from, from+wide).window(0)
		if !found {
			continue
		}
		isLeft := w.from > 0
		if w.from, w.to = w.from+from, w.to+from; isLeft {
			lefts = append(lefts, w)
		} else {
			rights = append(rights, w)
		}
	}
	return lefts, rights
}

// sharp reports that a window's light ends at once at its side and at its foot.
func (g *grid) sharp(sums []float64, w window, side int) bool {
	rim := int(math.Ceil(windowRim / g.pitch))
	least := windowSharp * w.added.Luminance()
	var across float64
	for _, s := range g.steps(sums, side, rim, w.head, w.foot) {
		across += math.Abs(s) / float64(w.foot-w.head)
	}
	column := func(row int) (sum float64) { // mean of the window's part of a row
		row = min(max(0, row), g.rows-1) * (g.cols + 1)
		return (sums[row+w.to] - sums[row+w.from]) / float64(w.to-w.from)
	}
	var down float64
	for i := range rim {
		down += (column(w.foot-rim-1-i) - column(w.foot+rim+i)) / float64(rim)
	}
	return across >= least && down >= least/2 // what lies below its foot may be lighter than what lies above
}

// rowSums are the prefix sums of luminance along each row; an unseen cell counts as its left neighbour.
func (g *grid) rowSums() []float64 {
	sums := make([]float64, g.rows*(g.cols+1))
	for r := range g.rows {
		last := 0.0
		for c := range g.cols {
			if at := r*g.cols + c; g.pixels[at] > 0 {
				last = g.light[at].Luminance()
			}
			sums[r*(g.cols+1)+c+1] = sums[r*(g.cols+1)+c] + last
		}
	}
	return sums
}

// steps are by how much the cells left of a column are lighter than those right of it, row by row.
func (g *grid) steps(sums []float64, column, reach, from, to int) []float64 {
	list := make([]float64, to-from)
	for i := range list {
		row := sums[(from+i)*(g.cols+1):]
		list[i] = (2*row[column] - row[column-reach] - row[column+reach]) / float64(reach)
	}
	return list
}

// stretch is the part of a list that differs most from nothing: looked for in whole steps, then nearer.
func stretch(list []float64, step int) (from, to int) {
	sums := make([]float64, len(list)+1)
	for i, v := range list {
		sums[i+1] = sums[i] + v
	}
	best := 0.0
	try := func(i, j int) {
		if d := sums[j] - sums[i]; d*d > best*float64(j-i) {
			best, from, to = d*d/float64(j-i), i, j
		}
	}
	for j := step; j < len(list)+step; j += step {
		for i := 0; i < min(j, len(list)); i += step {
			try(i, min(j, len(list)))
		}
	}
	first, last := from, to
	for i := max(0, first-step); i <= first+step; i++ {
		for j := max(i+1, last-step); j <= min(len(list), last+step); j++ {
			try(i, j)
		}
	}
	return from, to
}

// mean is zero of none.
func mean(list []float64) (sum float64) {
	for _, v := range list {
		sum += v / float64(len(list))
	}
	return sum
}

// plumb reports that a window's side stands upright: it is in the same column in its upper and lower half.
func (g *grid) plumb(sums []float64, side, head, foot, reach int) bool {
	near := int(math.Ceil(2 * windowPlumb / g.pitch))
	column := func(from, to int) int {
		at, most := side, 0.0
		for c := max(reach, side-near); c <= min(g.cols-reach, side+near); c++ {
			var sum float64
			for _, s := range g.steps(sums, c, reach, from, to) {
				sum += s
			}
			if math.Abs(sum) > most {
				at, most = c, math.Abs(sum)
			}
		}
		return at
	}
	middle := (head + foot) / 2
	off := column(head, middle) - column(middle, foot)
	return math.Abs(float64(off))*g.pitch <= windowPlumb
}

// mean is that of a channel over some of a row's cells; not a number: none is seen.
func (g *grid) mean(row, from, to, channel int) float64 {
	sum, n := 0.0, 0.0
	for c := from; c < to; c++ {
		if at := row*g.cols + c; g.pixels[at] > 0 {
			sum += g.light[at][channel]
			n++
		}
	}
	return sum / n
}

// shut takes a window's light off the cells. What noise came with it stays, so that they show no grain.
func (g *grid) shut(w window) {
	g.shutter = w
	for r := w.head; r < min(w.foot, g.rows); r++ {
		for c := w.from; c < w.to; c++ {
			g.takeOff(r, c, w.added)
		}
	}
}

// takeOff takes light that was added to a cell off it.
func (g *grid) takeOff(row, column int, added palette.Linear) {
	light := &g.light[row*g.cols+column]
	for ch := range light {
		light[ch] = max(0, light[ch]-added[ch])
	}
}
