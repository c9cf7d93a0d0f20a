package timeline

import (
	"cmp"
	"math"
	"slices"

	"panecore/reports/figure/pen"
)

// stretch is a part of a row's height, mm.
type stretch struct{ top, foot float64 }

// free are the stretches from top downward that are not taken, less a gap. The last has no
// end.
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

// place puts words, in the order of their lines' ends, into stretches so that they stand as
// near as possible to those ends. It tries every number of words for the first stretch and
// returns the sum of distances, mm.
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

// pack stacks words within a stretch and returns the sum of their distances from their ends,
// infinite if they have no room.
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

// far is the distance of words from their line's end: of their first line if a line leads to
// it, else of the nearer of their top and foot.
func (w endWord) far() float64 {
	if w.lead {
		return math.Abs(w.y + 0.5*pen.Leading*pen.SmallSize - w.from.Y)
	}
	return 2 * max(0, w.y-w.from.Y, w.from.Y-w.y-w.height()) // doubled: only nearness shows what they belong to
}
