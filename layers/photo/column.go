package photo

import (
	"math"
	"slices"
)

// A strip is read best where the bed looks as it does across most of the pane: a stone, a root, a reflection or a leaf
// before it differs.

// How a strip is chosen (assumptions).
const (
	stripWide   = 45.0 // mm, if there is room
	stripLeast  = 10.0 // mm
	stripStep   = 4.0  // mm between those that are compared, and the width of the columns they are made of
	stripWater  = 12.0 // mm above the surface
	stripFoot   = 2.5  // mm above the line in which the bed ends: its rim is shaded
	stripAside  = 3.0  // mm from what stands before the bed
	stripRim    = 4.0  // mm from the picture's sides
	stripBin    = 1.0  // mm of depth that are compared
	stripBlur   = 4.0  // mm over which layers may wave
	mostUnlike  = 20.0 // CIELAB units, of which more count no more
	offCentre   = 3.0  // CIELAB units that a strip at the picture's side may be more like the rest
	glareUnlike = 60.0 // CIELAB units that a strip wholly under glare counts as unlike
)

// strip is the part of the pane that looks most like the rest of it between two lines, clear of mirrored windows if there
// is one; unlike is its mean difference, CIELAB units. False: there is no room for one.
func (n *pane) strip(surface, foot line) (left, right int, unlike float64, found bool) {
	cell := max(1, int(stripStep/n.pitch))
	looks := n.looksOf(surface, foot, cell)
	if left, right, unlike, found = n.stripIn(looks, cell, surface, foot, n.mirrors); !found && n.mirrors != nil {
		return n.stripIn(looks, cell, surface, foot, nil)
	}
	return left, right, unlike, found
}

// stripIn is strip, clear of some mirrors, by how unlike the rest each column of cells looks.
func (n *pane) stripIn(looks []float64, cell int, surface, foot line, mirrors []cover) (left, right int, unlike float64, found bool) {
	for wide := stripWide; wide >= stripLeast && !found; wide /= 1.5 {
		count, best := max(1, int(wide/stripStep)), math.Inf(1)
		for from := 0; from+count <= len(looks); from++ {
			l, r := from*cell, (from+count)*cell
			middle := float64(l+r) / 2
			top, bottom := int(surface.at(middle)-stripWater/n.pitch), int(foot.at(middle))
			if float64(l)*n.pitch < stripRim || float64(n.cols-r)*n.pitch < stripRim ||
				!n.open(l, r, top, bottom) || slices.ContainsFunc(mirrors, cover{l, r, top, bottom}.meets) {
				continue
			}
			sum := 0.0
			for _, u := range looks[from : from+count] {
				sum += u / float64(count)
			}
			side := math.Abs(2*middle/float64(n.cols) - 1)
			if cost := sum + offCentre*side; cost < best {
				left, right, unlike, found, best = l, r, sum, true, cost
			}
		}
	}
	return left, right, unlike, found
}

// looksOf is how unlike the rest of the pane each column looks, CIELAB units.
func (n *pane) looksOf(surface, foot line, cell int) []float64 {
	f := newField(n.grid, n.light)
	bin := max(1, int(stripBin/n.pitch))
	middle := float64(n.cols) / 2
	rows := max(0, int(foot.at(middle)-surface.at(middle))) / bin
	list, glare := make([][][3]float64, n.cols/cell), make([]float64, n.cols/cell)
	for c := range list {
		x := (float64(c) + .5) * float64(cell)
		top := surface.at(x)
		step := (foot.at(x) - top) / float64(max(1, rows))
		for b := range rows {
			look, hidden := f.look(int(top+float64(b)*step), int(top+float64(b+1)*step), c*cell, (c+1)*cell)
			list[c], glare[c] = append(list[c], look), glare[c]+hidden/float64(rows)
		}
	}
	usual := make([][3]float64, rows)
	column := make([]float64, len(list))
	for b := range usual {
		for ch := range usual[b] {
			for c := range list {
				column[c] = list[c][b][ch]
			}
			usual[b][ch] = median(column)
		}
	}
	reach := int(stripBlur / stripBin / 2)
	unlike := make([]float64, len(list))
	for c := range list {
		for b := range usual {
			least := mostUnlike
			for near := max(0, b-reach); near <= min(rows-1, b+reach); near++ {
				least = min(least, apart(list[c][b], usual[near]))
			}
			unlike[c] += least / float64(rows)
		}
		unlike[c] += glareUnlike * glare[c]
	}
	return unlike
}

// look is the mean colour of some rows and columns, CIELAB, and the share of them that is not seen.
func (f *field) look(top, bottom, left, right int) (mean [3]float64, hidden float64) {
	count, all := 0.0, 0.0
	for r := max(0, top); r < min(f.rows, max(top+1, bottom)); r++ {
		for b := left / f.wide; b < min(f.blocks, right/f.wide); b++ {
			all++
			if lab, seen := f.at(r, b); seen {
				count++
				for ch, v := range lab {
					mean[ch] += v
				}
			}
		}
	}
	for ch := range mean {
		mean[ch] /= max(1, count)
	}
	return mean, 1 - count/max(1, all)
}

// apart is the distance of two colours, CIELAB units.
func apart(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// acrossAt is the scale across the pane at a cell, pixels per millimetre.
func (n *pane) acrossAt(row, column float64) float64 {
	if n.tilt == nil {
		return n.pxPerMM
	}
	across, _ := n.tilt.Scale(column*n.pitch, row*n.pitch)
	return across
}

// box is the strip between some columns, from the water to the bed's foot, in pixels: its sides lie along the depth.
func (n *pane) box(left, right int, surface, foot line) Box {
	middle := float64(left+right) / 2
	top := max(0, min(surface.at(float64(left)), surface.at(float64(right)))-stripWater/n.pitch)
	bottom := min(float64(n.rows), max(top, min(foot.at(float64(left)), foot.at(float64(right)))-stripFoot/n.pitch))
	head, end := n.place(top, middle), n.place(bottom, middle)
	w := float64(right-left) * n.pitch * n.acrossAt(top, middle)
	return Box{X: head.X - w/2, Y: head.Y, W: w, H: end.Y - head.Y}
}
