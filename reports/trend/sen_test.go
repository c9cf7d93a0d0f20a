package trend

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Sen's slope with Kendall's limits is a second, older answer to how fast a quantity changes: it knows no
// noise, no prior and no station. The model is held against it.

// A senBlock is one station's readings between two removals: slopes are formed within a block, never
// across two.
type senBlock struct {
	Station string
	T       []float64 // months, rising
	Y       []float64 // mm
}

// A senSlope is a robust rate of change, mm a month.
type senSlope struct {
	Median    float64
	Low, High float64 // limits of the confidence asked for, or of all slopes
	Attained  bool    // false: too few readings for the confidence; low and high span all slopes
}

// exactBelow is the number of readings in all below which the exact distribution of Kendall's S is
// used; from there on its normal approximation is good (Gilbert 1987, p. 211, from memory).
const exactBelow = 10

// pooledSlope is the median of all slopes within blocks, with limits of a confidence, 0 to 1, from
// the ranks of Kendall's S.
//
// Sources: Theil 1950; Sen 1968, J. Am. Stat. Assoc. 63:1379; several blocks as
// in Hirsch, Slack & Smith 1982 and Helsel & Frans 2006 (regional Kendall); ranks
// interpolated as in Gilbert 1987, pp. 218-219. Blocks are taken as independent.
// The second result is false if no block has two readings.
func pooledSlope(blocks []senBlock, confidence float64) (senSlope, bool) {
	all := make([]float64, 0, pairsOf(blocks))
	var variance float64
	var readings int
	sizes := make([]int, 0, len(blocks))
	for _, b := range blocks {
		if len(b.T) < 2 {
			continue
		}
		all = appendSlopes(all, b)
		variance += kendallVariance(b.Y)
		readings += len(b.T)
		sizes = append(sizes, len(b.T))
	}
	if len(all) == 0 {
		return senSlope{}, false
	}
	pairs := float64(len(all))
	slices.Sort(all)
	s := senSlope{Median: ranked(all, (1+pairs)/2), Low: all[0], High: all[len(all)-1]}
	var c float64
	if readings < exactBelow {
		critical, ok := exactCritical(sizes, (1-confidence)/2)
		if !ok {
			return s, true
		}
		c = float64(critical) // as Sen does: one rank further out than the exact level needs
	} else {
		c = distuv.UnitNormal.Quantile((1+confidence)/2) * math.Sqrt(variance)
	}
	lower, upper := (pairs-c)/2, (pairs+c)/2+1
	if lower < 1 || upper > pairs {
		return s, true
	}
	s.Low, s.High = ranked(all, lower), ranked(all, upper)
	s.Attained = true
	return s, true
}

// ranked is the value at a rank counted from 1 of sorted values, linear between whole ranks.
func ranked(sorted []float64, rank float64) float64 {
	whole, part := math.Modf(rank)
	k := int(whole) - 1
	if part == 0 {
		return sorted[k]
	}
	return sorted[k] + part*(sorted[k+1]-sorted[k])
}

func pairsOf(blocks []senBlock) (pairs int) {
	for _, b := range blocks {
		pairs += len(b.T) * (len(b.T) - 1) / 2
	}
	return pairs
}

// appendSlopes adds the slopes of all pairs of a block's readings.
func appendSlopes(all []float64, b senBlock) []float64 {
	for i := range b.T {
		for j := i + 1; j < len(b.T); j++ {
			if dt := b.T[j] - b.T[i]; dt > 0 {
				all = append(all, (b.Y[j]-b.Y[i])/dt)
			}
		}
	}
	return all
}

// kendallS is the number of rising pairs minus that of falling ones.
func kendallS(y []float64) (s int) {
	for i := range y {
		for _, later := range y[i+1:] {
			switch {
			case later > y[i]:
				s++
			case later < y[i]:
				s--
			}
		}
	}
	return s
}

// kendallVariance is the variance of Kendall's S without a trend, corrected for
// ties in y (Kendall 1975).
func kendallVariance(y []float64) float64 {
	term := func(n int) float64 { return float64(n * (n - 1) * (2*n + 5)) }
	sorted := slices.Sorted(slices.Values(y))
	sum := term(len(y))
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		sum -= term(j - i)
		i = j
	}
	return sum / 18
}

// exactCritical is the smallest value that the blocks' summed Kendall S reaches or passes with a
// probability of at most tail, without trend or ties. The second result is false if no value is that
// rare.
func exactCritical(sizes []int, tail float64) (int, bool) {
	falling := []float64{1} // P(number of falling pairs), by convolution
	for _, n := range sizes {
		for m := 2; m <= n; m++ { // the m-th reading falls below 0 to m-1 of those before
			next := make([]float64, len(falling)+m-1)
			for k, p := range falling {
				for extra := range m {
					next[k+extra] += p / float64(m)
				}
			}
			falling = next
		}
	}
	pairs := len(falling) - 1
	critical, sum := 0, 0.0
	for k, p := range falling {
		if sum += p; sum > tail+1e-12 {
			break
		}
		critical = pairs - 2*k
	}
	return critical, critical > 0
}

// disagreement is van Belle & Hughes's chi-square of whether several stations share one trend, with
// its degrees of freedom, from the standardised Kendall statistic of each station, its blocks summed.
//
// Source: van Belle & Hughes 1984, Water Resources Research 20:127 (from memory).
func disagreement(blocks []senBlock) (chiSquare float64, freedom int) {
	s, variance := map[string]float64{}, map[string]float64{}
	var stations []string
	for _, b := range blocks {
		v := kendallVariance(b.Y)
		if v == 0 {
			continue
		}
		if _, seen := s[b.Station]; !seen {
			stations = append(stations, b.Station)
		}
		s[b.Station] += float64(kendallS(b.Y))
		variance[b.Station] += v
	}
	if len(stations) < 2 {
		return 0, 0
	}
	var sum, squares float64
	for _, station := range stations {
		z := s[station] / math.Sqrt(variance[station])
		sum += z
		squares += z * z
	}
	n := float64(len(stations))
	return squares - sum*sum/n, len(stations) - 1
}
