package photo

import (
	"math"
	"slices"
)

// signal is a profile along depth: for each row a colour of three channels and each channel's
// weight, the reciprocal of a variance.
type signal struct {
	value, weight [][3]float64
}

// sums are prefix sums over a signal's rows: of weights, weighted values and their squares.
type sums struct {
	w, wx, wxx [][3]float64
}

func (s signal) sums() sums {
	n := len(s.value)
	out := sums{make([][3]float64, n+1), make([][3]float64, n+1), make([][3]float64, n+1)}
	for i := range s.value {
		for c := range 3 {
			w, x := s.weight[i][c], s.value[i][c]
			out.w[i+1][c] = out.w[i][c] + w
			out.wx[i+1][c] = out.wx[i][c] + w*x
			out.wxx[i+1][c] = out.wxx[i][c] + w*x*x
		}
	}
	return out
}

// cost is the weighted sum of squares of the rows in [from, to) about their own mean.
func (s *sums) cost(from, to int) float64 {
	var cost float64
	for c := range 3 {
		w := s.w[to][c] - s.w[from][c]
		if w <= 0 {
			continue
		}
		wx := s.wx[to][c] - s.wx[from][c]
		cost += max(0, s.wxx[to][c]-s.wxx[from][c]-wx*wx/w)
	}
	return cost
}

// mean is the weighted mean of the rows in [from, to).
func (s *sums) mean(from, to int) (mean [3]float64) {
	for c := range mean {
		if w := s.w[to][c] - s.w[from][c]; w > 0 {
			mean[c] = (s.wx[to][c] - s.wx[from][c]) / w
		}
	}
	return mean
}

// partition cuts rows into segments of at least least rows so that the sum of all costs, plus a
// penalty for each cut, is smallest: optimal partitioning with the pruning of Killick,
// Fearnhead & Eckley, "Optimal detection of changepoints with a linear computational cost",
// JASA 107:1590-1598, 2012. It returns the first row of each segment after the first. Its
// time is linear in the rows if the number of segments grows with them.
func partition(s *sums, penalty float64, least int) []int {
	n := len(s.w) - 1
	best := make([]float64, n+1)
	from := make([]int, n+1)
	best[0] = -penalty
	for i := 1; i < min(least, n+1); i++ {
		best[i] = math.Inf(1)
	}
	type candidate struct{ start, until int }
	open := []candidate{{0, n + 1}}
	for t := least; t <= n; t++ {
		best[t] = math.Inf(1)
		for _, c := range open {
			if total := best[c.start] + s.cost(c.start, t) + penalty; total < best[t] {
				best[t], from[t] = total, c.start
			}
		}
		// A start that is worse than a cut at t stays worse once that cut's segment may end.
		for i := range open {
			if c := &open[i]; c.until > n && best[c.start]+s.cost(c.start, t) >= best[t] {
				c.until = t + least
			}
		}
		open = slices.DeleteFunc(open, func(c candidate) bool { return t+1 >= c.until })
		if next := t - least + 1; next >= least {
			open = append(open, candidate{next, n + 1})
		}
	}
	var cuts []int
	for at := from[n]; at > 0; at = from[at] {
		cuts = append(cuts, at)
	}
	slices.Reverse(cuts)
	return cuts
}
