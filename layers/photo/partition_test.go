package photo

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// drawSignal is a short column of a few steps with noise, some rows hidden.
func drawSignal(rng *rand.Rand, rows int) signal {
	s := signal{make([][3]float64, rows), make([][3]float64, rows)}
	var color [3]float64
	for r := range rows {
		if r == 0 || rng.Float64() < 0.2 {
			color = [3]float64{100 * rng.Float64(), 20 * rng.NormFloat64(), 20 * rng.NormFloat64()}
		}
		hidden := rng.Float64() < 0.1
		for c := range color {
			s.value[r][c] = color[c] + 5*rng.NormFloat64()
			if !hidden {
				s.weight[r][c] = 0.2 + rng.Float64()
			}
		}
	}
	return s
}

// misfit is the weighted sum of squares of some rows about their own mean, by its definition.
func misfit(s signal, from, to int) (sum float64) {
	for c := range 3 {
		var w, wx float64
		for r := from; r < to; r++ {
			w += s.weight[r][c]
			wx += s.weight[r][c] * s.value[r][c]
		}
		for r := from; r < to && w > 0; r++ {
			d := s.value[r][c] - wx/w
			sum += s.weight[r][c] * d * d
		}
	}
	return sum
}

// everyPartition tries all ways to cut rows into segments of at least least rows: the cheapest
// and its cost, and whether another comes as cheap.
func everyPartition(s signal, penalty float64, least int) (best []int, cost float64, tied bool) {
	rows := len(s.value)
	cost = math.Inf(1)
	for ways := range 1 << (rows - 1) { // bit i: cut before row i+1
		var cuts []int
		from, total, fits := 0, 0.0, true
		for r := 1; r <= rows && fits; r++ {
			if r < rows && ways>>(r-1)&1 == 0 {
				continue
			}
			fits = r-from >= least
			total += misfit(s, from, r)
			if r < rows {
				cuts = append(cuts, r)
				total += penalty
			}
			from = r
		}
		switch {
		case !fits || total > cost+1e-9*(1+cost):
		case total > cost-1e-9*(1+cost):
			tied = true
		default:
			best, cost, tied = cuts, total, false
		}
	}
	return best, cost, tied
}

func costOf(s signal, cuts []int, penalty float64) float64 {
	total, from := penalty*float64(len(cuts)), 0
	for _, to := range append(slices.Clone(cuts), len(s.value)) {
		total += misfit(s, from, to)
		from = to
	}
	return total
}

// The partition is the best there is, found by trying them all.
func TestPartition_everyOther(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 1))
	ties, cuts := 0, 0
	for i := range 200 {
		s := drawSignal(rng, 1+rng.IntN(14))
		least := 1 + i%3
		penalty := []float64{0, 10, 60, 300, 1500, 1e6}[rng.IntN(6)]
		want, cost, tied := everyPartition(s, penalty, least)
		sums := s.sums()
		got := partition(&sums, penalty, least)
		cuts += len(got)
		if tied {
			ties++
			if c := costOf(s, got, penalty); math.Abs(c-cost) > 1e-7*(1+cost) {
				t.Errorf("signal %d of %d rows, penalty %g, at least %d: cost %g at %v, want %g", i, len(s.value), penalty, least, c, got, cost)
			}
			continue
		}
		if len(s.value) >= least && !slices.Equal(got, want) {
			t.Errorf("signal %d of %d rows, penalty %g, at least %d: cut at %v, want %v", i, len(s.value), penalty, least, got, want)
		}
	}
	if ties > 60 || cuts < 200 {
		t.Errorf("%d of the signals have several best partitions, and there are %d cuts in all: no test of the cuts", ties, cuts)
	}
}

// Pruning loses nothing on columns as long as those of photos: the plain recursion, which looks at
// every start, comes to the same cost.
func TestPartition_longColumns(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 2))
	for range 20 {
		s := drawSignal(rng, 300)
		least, penalty := 1+rng.IntN(12), 2000*rng.Float64()
		sums := s.sums()
		got := costOf(s, partition(&sums, penalty, least), penalty)
		best := make([]float64, len(s.value)+1)
		best[0] = -penalty
		for to := 1; to < len(best); to++ {
			best[to] = math.Inf(1)
			for from := range to - least + 1 {
				best[to] = min(best[to], best[from]+penalty+misfit(s, from, to))
			}
		}
		if want := best[len(s.value)]; math.Abs(got-want) > 1e-7*(1+want) {
			t.Errorf("penalty %.0f, at least %d rows: cost %g, want %g", penalty, least, got, want)
		}
	}
}

// A column too short for one segment is one.
func TestPartition_short(t *testing.T) {
	s := drawSignal(rand.New(rand.NewPCG(5, 3)), 4)
	sums := s.sums()
	if got := partition(&sums, 1, 9); len(got) != 0 {
		t.Errorf("cut at %v, want no cut", got)
	}
}
