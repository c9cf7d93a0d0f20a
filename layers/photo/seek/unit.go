package seek

import (
	"math"
	"slices"
)

// spacing is a way to divide a unit of length by shorter and longer lines (common practice, no source).
type spacing struct {
	name  string
	mm    float64 // from line to line
	ranks []int   // how long each line of a cycle is, beside the others: 0 the shortest
	sure  float64 // that lines so long mean this unit, if they fit well (assumption)
}

func spacings() []spacing {
	return []spacing{
		{"millimetres", 1, []int{2, 0, 0, 0, 0, 1, 0, 0, 0, 0}, 1},
		{"millimetres", 1, []int{1, 0, 0, 0, 0, 0, 0, 0, 0, 0}, .95},
		{"half millimetres", .5, []int{3, 0, 1, 0, 1, 0, 1, 0, 1, 0, 2, 0, 1, 0, 1, 0, 1, 0, 1, 0}, .95},
		{"sixteenths of an inch", 25.4 / 16, []int{4, 0, 1, 0, 2, 0, 1, 0, 3, 0, 1, 0, 2, 0, 1, 0}, 1},
		{"eighths of an inch", 25.4 / 8, []int{3, 0, 1, 0, 2, 0, 1, 0}, .95},
		{"quarters of an inch", 25.4 / 4, []int{2, 0, 1, 0}, .9},
		{"half centimetres", 5, []int{1, 0}, .8},
		{"half inches", 25.4 / 2, []int{1, 0}, .7},
		{"centimetres", 10, []int{0}, .5},
		{"millimetres", 1, []int{0}, .5},
		{"inches", 25.4, []int{0}, .4},
	}
}

// How the unit is told (assumptions).
const (
	leastCycles  = 1.2   // of a spacing, that must be seen
	finerBy      = 1.15  // times, at least, a spacing is surer than one before it in the list, whose ranks hold its own
	longerBy     = 1.12  // times, at least, a line is longer than those of the rank below
	usualAcross  = 220.0 // mm that the longer side of a photo of the glass shows
	acrossSpread = 0.7   // of its ln
	farAcross    = 2.5   // of these spreads, at most
)

// tellUnit is the spacing that lines show in a picture whose longer side is across times their distance, and how sure it
// is. They reach so far to either side: on one they may all end at the ruler's edge. A reach of zero is of a line that is
// hidden.
func tellUnit(left, right []float64, across float64) (best spacing, confidence float64) {
	both := make([]float64, len(left))
	for k := range both {
		if left[k] > 0 && right[k] > 0 {
			both[k] = left[k] + right[k]
		}
	}
	for _, s := range spacings() {
		far := math.Abs(math.Log(across*s.mm/usualAcross)) / acrossSpread
		if far > farAcross || float64(len(both)) < leastCycles*float64(len(s.ranks)) {
			continue
		}
		shown := max(explained(left, s.ranks), explained(right, s.ranks), explained(both, s.ranks))
		if len(s.ranks) == 1 { // all lines alike, on both sides
			shown = explained(both, s.ranks)
		}
		if sure := s.sure * shown * math.Exp(-far*far/8); sure > finerBy*confidence {
			best, confidence = s, sure
		}
	}
	return best, confidence
}

// explained is the share of the variance of ln length that ranks explain, at the best phase; 0 where a higher rank is
// not longer.
func explained(lengths []float64, ranks []int) (best float64) {
	var ln []float64
	for _, l := range lengths {
		if l > 0 {
			ln = append(ln, math.Log(l))
		}
	}
	if len(ln) < len(ranks) || len(ln)*3 < len(lengths)*2 {
		return 0
	}
	slices.Sort(ln)
	low, high := ln[len(ln)/10]-sameLength, ln[len(ln)-1-len(ln)/40]+sameLength // a line that a leaf hides in part counts little
	total := 0.0
	for phase := range ranks {
		groups := make([][]float64, slices.Max(ranks)+1)
		var all []float64
		for i, l := range lengths {
			if l > 0 {
				v := min(max(low, math.Log(l)), high)
				r := ranks[(i+phase)%len(ranks)]
				groups[r], all = append(groups[r], v), append(all, v)
			}
		}
		total = squares(all) + float64(len(all))*sameLength*sameLength
		within, rising := float64(len(all))*sameLength*sameLength, true
		for r, g := range groups {
			rising = rising && len(g) > 0 && (r == 0 || average(g)-average(groups[r-1]) > math.Log(longerBy))
			within += squares(g)
		}
		switch {
		case !rising:
		case len(groups) == 1: // all lines are alike
			best = max(best, math.Exp(-squares(all)/float64(len(all))/(sameLength*sameLength)/4))
		default:
			best = max(best, 1-within/total)
		}
	}
	return best
}

// sameLength is the deviation of ln length of lines of one rank (assumption: read in a blurred picture).
const sameLength = 0.05

func average(list []float64) (sum float64) {
	for _, v := range list {
		sum += v / float64(len(list))
	}
	return sum
}

// squares are the summed squares about the mean.
func squares(list []float64) (sum float64) {
	mean := average(list)
	for _, v := range list {
		sum += (v - mean) * (v - mean)
	}
	return sum
}
