package timeline

import (
	"cmp"
	"math"
	"slices"

	"panecore/reports/figure/pen"
)

// stretch is a part of the height of a row, mm.
type stretch struct{ top, foot float64 }

// placeWords places words, which come by the ends of their lines, from a highest place on
// and clear of what is taken: in the way in which they stand nearest to their ends.
func placeWords(list []endWord, top float64, taken []stretch) {
	place(list, free(top, taken))
}

// free is what is left from a highest place down, with a gap around what is taken. The last
// stretch has no end.
func free(top float64, taken []stretch) []stretch {
	slices.SortFunc(taken, func(a, b stretch) int { return cmp.Compare(a.top, b.top) })
	var left []stretch
	for _, t := range taken {
		if foot := t.top - endWordGap; foot > top {
			left = append(left, stretch{top, foot})
		}
		top = max(top, t.foot+endWordGap)
	}
	return append(left, stretch{top, math.Inf(1)})
}

// place tries how many of the words go into the first stretch, and keeps the best. The
// result is how far they stand from their ends in all.
func place(list []endWord, room []stretch) float64 {
	if len(room) == 1 {
		return pack(list, room[0])
	}
	best, try := math.Inf(1), slices.Clone(list)
	for n := range len(list) + 1 {
		far := pack(try[:n], room[0])
		if !math.IsInf(far, 1) {
			far += place(try[n:], room[1:])
		}
		if far < best {
			best = far
			copy(list, try)
		}
	}
	return best
}

// pack stacks words within a stretch and returns how far they stand from their ends in
// all, infinitely far where they have no room.
func pack(list []endWord, room stretch) (far float64) {
	next := room.top
	for i := range list {
		w := &list[i]
		w.y = max(next, w.from.Y-0.5*pen.Leading*pen.SmallSize)
		next = w.y + w.height() + endWordGap
	}
	next = room.foot
	for i := len(list) - 1; i >= 0; i-- {
		w := &list[i]
		w.y = min(w.y, next-w.height())
		next = w.y - endWordGap
		far += w.far()
	}
	if len(list) > 0 && list[0].y < room.top-1e-9 {
		return math.Inf(1)
	}
	return far
}

// far is how far words stand from their line's end: those with a lead by their first
// line, others by the nearer of their top and foot.
func (w endWord) far() float64 {
	if w.lead {
		return math.Abs(w.y + 0.5*pen.Leading*pen.SmallSize - w.from.Y)
	}
	return 2 * max(0, w.y-w.from.Y, w.from.Y-w.y-w.height()) // nothing else leads to them
}
