package seek

import "math"

// The lines of a ruler stand at one distance from each other. In a narrow column across them the picture's
// steps from row to row so resemble themselves one distance further down; grains, leaves and noise don't.

// How the lines of a ruler are looked for (assumptions, tried on drawn and path-traced rulers).
const (
	bandWide   = 5    // pixels across, of which the mean is taken
	bandStep   = 3    // pixels from one such column to the next
	windowFine = 180  // rows that are compared with themselves, for distances up to a quarter of them
	windowWide = 3    // times as many for distances three times as large
	leastLag   = 3    // rows between two lines, at least
	leastAlike = 0.45 // correlation of a window with itself
	nearlyBest = 0.8  // of the greatest correlation: the shortest distance that has so much is the lines' own
	samePeriod = 0.05 // share by which distances along a ruler differ, in perspective
	mostLean   = 0.36 // columns to a row by which a ruler may lean: 20 degrees
	leanStep   = 0.02
)

// window is a part of a column and how it resembles itself.
type window struct {
	period float64 // rows from line to line; 0: none
	alike  float64 // correlation at this distance
}

// comb is a column of windows that share one distance between lines.
type comb struct {
	x, lean     float64 // column at row 0, and columns to a row
	period      float64
	strength    float64
	first, last float64 // rows
}

// windows lists the windows of each column at distances of lines between two bounds.
func (s *Small) windows(high, from, to int) [][]window {
	bands := max(0, (s.Width-bandWide)/bandStep+1)
	list := make([][]window, bands)
	steps := make([]float64, s.Height)
	for b := range list {
		s.steps(b*bandStep, steps)
		for top := 0; top+high <= s.Height; top += high / 2 {
			list[b] = append(list[b], resemblance(steps[top:top+high], from, to))
		}
	}
	return list
}

// steps fills in the differences of mean ln luminance from row to row in a narrow column.
func (s *Small) steps(x int, steps []float64) {
	mean := func(y int) (sum float64) {
		for _, v := range s.ln[y*s.Width+x : y*s.Width+x+bandWide] {
			sum += float64(v)
		}
		return sum
	}
	before, here := mean(0), mean(0)
	for y := range steps {
		after := here
		if y+1 < s.Height {
			after = mean(y + 1)
		}
		steps[y] = after - before
		before, here = here, after
	}
}

// resemblance is the shortest distance at which steps resemble themselves nearly as well as at any other.
func resemblance(steps []float64, from, to int) window {
	var energy float64
	for _, d := range steps {
		energy += d * d
	}
	if energy == 0 {
		return window{}
	}
	energy /= float64(len(steps))
	alike := make([]float64, to+2)
	for lag := from - 1; lag <= to+1; lag++ {
		alike[lag] = dot(steps[:len(steps)-lag], steps[lag:]) / float64(len(steps)-lag) / energy
	}
	best := 0.0
	for lag := from; lag <= to; lag++ {
		if alike[lag] >= alike[lag-1] && alike[lag] >= alike[lag+1] {
			best = max(best, alike[lag])
		}
	}
	if best < leastAlike {
		return window{}
	}
	for lag := from; lag <= to; lag++ {
		a, b, c := alike[lag-1], alike[lag], alike[lag+1]
		if b < a || b < c || b < nearlyBest*best {
			continue
		}
		off := 0.0
		if bend := a - 2*b + c; bend < 0 {
			off = (a - c) / (2 * bend)
		}
		return window{float64(lag) + off, b}
	}
	return window{}
}

// dot is the sum of the products of two lists as long.
func dot(p, q []float64) float64 {
	q = q[:len(p)]
	var a, b, c, d float64 // side by side: each addition waits for the one before
	i := 0
	for ; i+4 <= len(p); i += 4 {
		a += p[i] * q[i]
		b += p[i+1] * q[i+1]
		c += p[i+2] * q[i+2]
		d += p[i+3] * q[i+3]
	}
	for ; i < len(p); i++ {
		a += p[i] * q[i]
	}
	return a + b + c + d
}

// nearlyStrongest is the share of the strongest comb's strength at which a finer one is a ruler's: its longer lines make a
// strong comb too (assumption).
const nearlyStrongest = 0.7

// bestComb is the finest of the strong columns of windows of one height.
func bestComb(list [][]window, high int) comb {
	if len(list) == 0 || len(list[0]) == 0 {
		return comb{}
	}
	var all []comb
	var on []window
	for lean := -mostLean; lean <= mostLean; lean += leanStep {
		for b := range list {
			on = on[:0]
			for w := range list[0] {
				column := b + int(math.Round(lean*float64(w*high/2)/bandStep))
				if column >= 0 && column < len(list) {
					on = append(on, list[column][w])
				} else {
					on = append(on, window{})
				}
			}
			period, strength, first, last := agree(on)
			if strength > 0 {
				all = append(all, comb{
					x: float64(b*bandStep) + bandWide/2 - lean*float64(high)/2, lean: lean, period: period, strength: strength,
					first: float64(first * high / 2), last: float64(last*high/2 + high),
				})
			}
		}
	}
	most, finest := 0.0, math.Inf(1)
	for _, c := range all {
		most = max(most, c.strength)
	}
	for _, c := range all {
		if c.strength >= nearlyStrongest*most {
			finest = min(finest, c.period)
		}
	}
	var best comb
	for _, c := range all {
		if c.strength > best.strength && c.period <= finest*(1+samePeriod) {
			best = c
		}
	}
	return best
}

// agree is the distance that most windows of a column share.
func agree(on []window) (period, strength float64, first, last int) {
	for _, a := range on {
		if a.period == 0 {
			continue
		}
		sum, weighted, from, to := 0.0, 0.0, -1, 0
		for i, b := range on {
			if math.Abs(b.period-a.period) > samePeriod*a.period {
				continue
			}
			sum, weighted, to = sum+b.alike, weighted+b.alike*b.period, i
			if from < 0 {
				from = i
			}
		}
		if sum > strength {
			period, strength, first, last = weighted/sum, sum, from, to
		}
	}
	return period, strength, first, last
}
