package photo

import (
	"math"
	"slices"

	"panecore/layers"
)

// strata are the water and the layers of the bed found in a strip. The first edge is the bed
// surface.
type strata struct {
	field    *field
	warp             // the edges: level is an edge's mean row, at its row in each block
	looks    []look  // of each layer, one more than edges; the water's first
	kappa    float64 // rows of grain that count as one sample
	levelled signal
	bends    []layers.Bend // of the edges, as a keeper has bent them; none: no edge is
}

// How a strip is cut and its edges followed (assumptions, tried on rendered strips). A slack is
// the standard deviation of an edge from its neighbours' place.
const (
	passes        = 3
	veilPass      = 1   // after which reflections are masked
	thinnestLayer = 1.5 // mm
	thickestStair = 4.0 // mm, in the first pass
	thickestLevel = 2.0 // mm, in later passes
	firstSlack    = 2.0 // mm
	secondSlack   = 0.8 // mm
	grainReach    = 5.0 // mm on each side of a row, to estimate its grain in the first pass
)

// findStrata cuts the strip into layers and follows their edges. It cuts the levelled profile,
// traces the cuts across the strip, levels the profile along them and starts again: so layers
// that a wavy boundary smeared come apart. The bed surface is near the row click.
func findStrata(f *field, click float64) *strata {
	s := &strata{field: f, kappa: 1}
	for pass := range passes {
		stair, slack := thickestLevel, secondSlack
		if pass == 0 {
			stair, slack = thickestStair, firstSlack
		}
		s.cut(stair)
		s.setSurface(click)
		f.trace(s.warp, s.looks, s.kappa, slack/f.pitch)
		s.relevel()
		s.prune()
		if pass == veilPass {
			s.looks = f.looks(s.warp)
			s.maskVeil()
		}
	}
	s.looks, s.levelled = f.looks(s.warp), f.level(s.warp)
	return s
}

// cut finds the cuts of the levelled profile and sets the edges on them; stairs up to
// thickestStair mm are merged.
func (s *strata) cut(thickestStair float64) {
	f := s.field
	signal := f.level(s.warp)
	sums := signal.sums()
	kappa, scale := signal.grain(s.level, int(grainReach/f.pitch))
	s.kappa = kappa
	penalty := kappa * scale * 6 * math.Log(float64(f.rows))
	least := max(2, int(math.Round(max(thinnestLayer/f.pitch, 2*kappa))))
	seg := segmentation{&sums, f.rows, partition(&sums, penalty, least)}
	seg.mergeStairs(int(thickestStair / f.pitch))
	levels := make([]float64, len(seg.cuts))
	for i, c := range seg.cuts {
		levels[i] = float64(c)
	}
	s.warp = s.warpTo(levels)
}

// warpTo are edges at other levels, which follow the present ones from block to block, within
// the strip.
func (s *strata) warpTo(levels []float64) warp {
	to := warp{level: levels, at: make([][]float64, s.field.blocks)}
	for b := range to.at {
		to.at[b] = make([]float64, len(levels))
		for k, level := range levels {
			to.at[b][k] = min(max(0, s.row(level, b)), float64(s.field.rows))
		}
	}
	return to
}

// A layer runs through the whole bed. One with too few blocks as thick as leastThere is a
// pebble, a reflection or a root, and one with a thinner mean shows no colour of its own in a
// photo (assumptions).
const (
	leastThere    = 0.5  // mm
	leastPresence = 0.65 // share of the blocks
)

// prune removes layers that are too thin or in too small a part of the strip, and gives each to
// the neighbour that looks more like it. A bed's only layer stays.
func (s *strata) prune() {
	thickness := func(from, to float64) float64 { return (to - from) * s.field.pitch }
	for k := 1; k <= len(s.level) && len(s.level) > 1; {
		there := 0
		for b := range s.at {
			if thickness(s.edge(k-1, b), s.edge(k, b)) >= leastThere {
				there++
			}
		}
		if float64(there) >= leastPresence*float64(len(s.at)) && thickness(s.levelOf(k-1), s.levelOf(k)) >= leastThere {
			k++
			continue
		}
		drop := k
		last := k == len(s.level)
		if last || k > 1 && distance(s.looks[k].mean, s.looks[k-1].mean) < distance(s.looks[k].mean, s.looks[k+1].mean) {
			drop = k - 1
		}
		s.level = slices.Delete(s.level, drop, drop+1)
		for b := range s.at {
			s.at[b] = slices.Delete(s.at[b], drop, drop+1)
		}
		s.looks = slices.Delete(s.looks, k, k+1)
	}
}

// relevel sets each edge's level to its mean row, without the outermost blocks, so that a snail
// on the surface or a pebble on an edge doesn't move it.
func (s *strata) relevel() {
	rows := make([]float64, len(s.at))
	for k := range s.level {
		for b := range s.at {
			rows[b] = s.at[b][k]
		}
		s.level[k] = inMost(rows)
	}
}

// inMost is the mean of the blocks' rows without the outermost ones. It sorts them.
func inMost(rows []float64) float64 {
	slices.Sort(rows)
	cut := int(outermost * float64(len(rows)))
	sum := 0.0
	for _, row := range rows[cut : len(rows)-cut] {
		sum += row
	}
	return sum / float64(len(rows)-2*cut)
}

// outermost is the share of blocks left out at either end (assumption).
const outermost = 0.25

// grain is kappa, how many rows of a signal count as one sample, and scale, the variance of
// rows over what their weights say. kappa is 1 + 2 Σ ρ of the residuals in lightness, as long
// as ρ is above 0.05. Residuals are from running medians of reach rows on each side, within
// the segments between levels if there are any.
func (s signal) grain(levels []float64, reach int) (kappa, scale float64) {
	n := len(s.value)
	residual := make([]float64, n)
	var window []float64
	next := 0
	from := 0
	for r := range n {
		for next < len(levels) && float64(r) >= levels[next] {
			from = r
			next++
		}
		a, b := max(0, r-reach), min(n, r+reach+1)
		if len(levels) > 0 {
			to := n
			if next < len(levels) {
				to = int(levels[next])
			}
			a, b = max(a, from), min(b, max(to, r+1))
		}
		window = window[:0]
		for i := a; i < b; i++ {
			if s.weight[i][0] > 0 {
				window = append(window, s.value[i][0])
			}
		}
		if s.weight[r][0] > 0 {
			residual[r] = (s.value[r][0] - median(window)) * math.Sqrt(s.weight[r][0])
		} else {
			residual[r] = math.NaN()
		}
	}
	seen := slices.DeleteFunc(slices.Clone(residual), math.IsNaN)
	if len(seen) < 4 {
		return 1, 1
	}
	sd := spread(seen, 0)
	for i, r := range residual {
		if math.Abs(r) > 3*sd {
			residual[i] = math.NaN()
		}
	}
	rho := func(lag int) float64 {
		var sum, squares float64
		for i := range residual {
			if !math.IsNaN(residual[i]) {
				squares += residual[i] * residual[i]
				if i+lag < n && !math.IsNaN(residual[i+lag]) {
					sum += residual[i] * residual[i+lag]
				}
			}
		}
		if squares == 0 {
			return 0
		}
		return sum / squares
	}
	kappa = 1
	for lag := 1; lag < min(60, n); lag++ {
		r := rho(lag)
		if r < 0.05 {
			break
		}
		kappa += 2 * r
	}
	return kappa, max(1, sd*sd)
}
