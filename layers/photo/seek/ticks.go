package seek

import (
	"math"
	"math/cmplx"
	"slices"
)

// axis is a line along a ruler: its x at row 0 and how many columns it goes right for each row.
type axis struct{ x, lean float64 }

// place is the point so many pixels along the axis and across it.
func (a axis) place(along, across float64) (x, y float64) {
	n := math.Hypot(1, a.lean)
	return a.x + (a.lean*along+across)/n, (along - a.lean*across) / n
}

// ticks is where the lines of a ruler lie along its axis.
type ticks struct {
	axis
	period   float64    // pixels between two lines, the mean
	count    []float64  // lines passed at each step along the axis, any number at the first
	from, to int        // steps between which the lines are seen
	half     float64    // half the width over which they are seen, pixels
	slope    [2]float64 // of the lines against a right angle to the axis, and its change from step from to step to
}

// How lines are counted (assumptions).
const (
	alongStep   = 0.5  // pixels
	countWide   = 3.0  // periods on each side, over which the lines' phase is taken
	leastStrong = 0.45 // of the median amplitude, where a ruler ends
	mostUneven  = 0.10 // by which the distance of lines may differ from the mean, in perspective
)

// runs refines a comb's axis by the columns on both sides that show the same distance of lines.
func (s *Small) runs(list [][]window, high int, c comb) (a axis, half float64) {
	var n, sumT, sumX, sumTT, sumTX float64
	var wide []float64
	for w := range list[0] {
		mid := float64(w*high/2) + float64(high)/2
		if mid < c.first || mid > c.last {
			continue
		}
		like := func(b int) bool {
			return b >= 0 && b < len(list) && math.Abs(list[b][w].period-c.period) <= samePeriod*c.period
		}
		b := int(math.Round((c.x + c.lean*mid - bandWide/2) / bandStep))
		if !like(b) {
			continue
		}
		l, r := b, b
		for like(l - 1) {
			l--
		}
		for like(r + 1) {
			r++
		}
		x := float64((l+r)*bandStep)/2 + bandWide/2
		n, sumT, sumX, sumTT, sumTX = n+1, sumT+mid, sumX+x, sumTT+mid*mid, sumTX+mid*x
		wide = append(wide, float64((r-l)*bandStep+bandWide))
	}
	a, half = axis{c.x, c.lean}, bandWide
	if n == 0 {
		return a, half
	}
	slices.Sort(wide)
	half = wide[len(wide)/2] / 2
	a.x = sumX/n - c.lean*sumT/n
	if spread := n*sumTT - sumT*sumT; n >= 3 {
		a.lean = (n*sumTX - sumT*sumX) / spread
		a.x = (sumX - a.lean*sumT) / n
	}
	return a, half
}

// follow counts the lines along an axis by their phase.
func (s *Small) follow(a axis, half float64, c comb) (t *ticks, found bool) {
	t = &ticks{axis: a, period: c.period, half: half}
	long := int(float64(s.Height) * math.Hypot(1, a.lean) / alongStep)
	profile := make([]float64, long)
	for i := range profile {
		for across := -0.7 * half; across <= 0.7*half; across++ {
			profile[i] += s.at(a.place(float64(i)*alongStep, across))
		}
	}
	period := c.period / alongStep
	smooth := boxes(profile, int(math.Round(period)))
	wave := make([]complex128, long)
	for i := range wave {
		wave[i] = complex(profile[i]-smooth[i], 0) * cmplx.Rect(1, -2*math.Pi*float64(i)/period)
	}
	for range 3 { // a bell
		wave = boxes(wave, int(math.Round(countWide*period*2/3)))
	}
	first, last := int(c.first*math.Hypot(1, a.lean)/alongStep), min(long, int(c.last*math.Hypot(1, a.lean)/alongStep))
	usual := make([]float64, 0, long)
	start := first
	for i := first; i < last; i++ {
		usual = append(usual, cmplx.Abs(wave[i]))
		if cmplx.Abs(wave[i]) > cmplx.Abs(wave[start]) {
			start = i
		}
	}
	if len(usual) == 0 {
		return t, false
	}
	slices.Sort(usual)
	least := leastStrong * usual[len(usual)*3/4]
	t.count = make([]float64, long)
	turn := func(from, to int) (float64, bool) {
		step := cmplx.Phase(wave[to]*cmplx.Conj(wave[from])) / (2 * math.Pi)
		return step, math.Abs(step)*period <= mostUneven && cmplx.Abs(wave[to]) >= least
	}
	t.from, t.to = start, start
	for ; t.to+1 < long; t.to++ {
		step, ok := turn(t.to, t.to+1)
		if !ok {
			break
		}
		t.count[t.to+1] = t.count[t.to] + step + 1/period
	}
	for ; t.from > 0; t.from-- {
		step, ok := turn(t.from, t.from-1)
		if !ok {
			break
		}
		t.count[t.from-1] = t.count[t.from] + step - 1/period
	}
	// whole numbers are lines, which may be darker or lighter than the ruler
	zero := cmplx.Phase(wave[start])/(2*math.Pi) + float64(start)/period
	for i := range t.count[t.from : t.to+1] {
		t.count[t.from+i] += zero + .5
	}
	n := t.count[t.to] - t.count[t.from]
	if !(n >= leastLines) {
		return t, false
	}
	t.period = float64(t.to-t.from) * alongStep / n
	return t, true
}

// leastLines is how many lines a ruler must show (assumption).
const leastLines = 6

// boxes are the means over so many values around each; beyond the ends are zeros.
func boxes[T float64 | complex128](list []T, wide int) []T {
	out, sums := make([]T, len(list)), make([]T, len(list)+1)
	for i, v := range list {
		sums[i+1] = sums[i] + v
	}
	reach := max(1, wide) / 2
	for i := range out {
		from, to := max(0, i-reach), min(len(list), i+reach+1)
		out[i] = (sums[to] - sums[from]) / scalar[T](to-from)
	}
	return out
}

func scalar[T float64 | complex128](n int) (v T) {
	switch p := any(&v).(type) {
	case *float64:
		*p = float64(n)
	case *complex128:
		*p = complex(float64(n), 0)
	}
	return v
}

// at is how far along the axis a line lies, pixels.
func (t *ticks) at(line float64) float64 {
	i, _ := slices.BinarySearch(t.count[t.from:t.to], line)
	i = max(t.from+1, t.from+i)
	back := (t.count[i] - line) / (t.count[i] - t.count[i-1])
	return (float64(i) - back) * alongStep
}

// How the lines' slope is looked for (assumptions: a pane seen from up to 20 degrees beside and a forearm away).
const (
	mostSlope, slopeStep   = 0.15, 0.015
	mostChange, changeStep = 0.08, 0.02
	lineReach              = 14 // distances between lines, to both sides
	sampleOf               = 3  // one line of so many is tried: all ranks are among them
)

// straighten finds the slope at which the lines are longest.
func (s *Small) straighten(t *ticks) {
	best, found := 0.0, t.slope
	try := func(slope, change float64) {
		t.slope = [2]float64{slope, change}
		sum := 0.0
		left, right := s.lengths(t, sampleOf)
		for k := range left {
			sum += min(left[k]+right[k], lineReach)
		}
		if sum > best {
			best, found = sum, t.slope
		}
	}
	for slope := -mostSlope; slope <= mostSlope; slope += slopeStep {
		try(slope, 0)
	}
	slope := found[0]
	for change := -mostChange; change <= mostChange; change += changeStep {
		try(slope, change)
	}
	t.slope = found
}

// lengths are how far each whole line reaches to both sides of the axis, in distances between lines; zero: it is hidden. Of
// so many lines only the first is measured.
func (s *Small) lengths(t *ticks, of int) (left, right []float64) {
	first, last := int(math.Ceil(t.count[t.from]))+1, int(math.Floor(t.count[t.to]))-1 // at its ends tape may hide a line in part
	step := max(.5, t.period/16)
	n := int(2*lineReach*t.period/step) + 1
	var lines [][]float64 // contrast across
	var middle []float64
	inner := min(max(1, int(t.half/2/step)), n-1-n/2)
	for k := first; k <= last; k += of {
		line := make([]float64, n)
		at := t.at(float64(k))
		slope := t.slope[0] + t.slope[1]*((at/alongStep-float64(t.from))/float64(t.to-t.from)-.5)
		for i := range line {
			across := float64(i-n/2) * step
			down := at + across*slope
			line[i] = (s.along(t, down-t.period/2, across)+s.along(t, down+t.period/2, across))/2 - s.along(t, down, across)
		}
		lines, middle = append(lines, line), append(middle, average(line[n/2-inner:n/2+inner+1]))
	}
	usual := slices.Sorted(slices.Values(middle))[len(middle)/2]
	left, right = make([]float64, len(lines)), make([]float64, len(lines))
	gap := int(math.Ceil(mostGap * t.period / step))
	for k, line := range lines {
		reach := func(way int) (far float64) {
			for i, last := 0, 0; i <= n/2 && i-last <= gap; i++ {
				if at := n/2 + way*i; at >= 0 && at < n && line[at]/usual >= lineSeen {
					last, far = i, float64(i+1)*step/t.period
				}
			}
			return far
		}
		left[k], right[k] = reach(-1), reach(1)
	}
	return left, right
}

// What belongs to a line (assumptions).
const (
	lineSeen = 0.4  // of the lines' usual contrast
	mostGap  = 0.15 // distances between lines, in which it is not seen
)

func (s *Small) along(t *ticks, along, across float64) float64 {
	x, y := t.place(along, across)
	return s.at(x, y)
}
