package photo

import (
	"math"
	"slices"

	"panecore/palette"
)

// When two layers are one material in a light that falls off smoothly (assumptions).
const (
	likeHue     = 4.0  // difference of their colours at equal lightness, CIEDE2000, at most
	smoothShare = 0.45 // of the squares that a step leaves: the most that a smooth field leaves
	softStep    = 0.4  // steepness of the edge between them, at most
	leastPlaces = 12   // patches in each layer
)

// unshaded joins neighbours that are one material under a smooth gradient of light. The names
// have no say, so it doesn't matter which substrate the keeper gave.
func (s *strata) unshaded(layers []bedLayer) []bedLayer {
	for i := 0; i+1 < len(layers); {
		if !s.shadeOnly(layers[i], layers[i+1]) {
			i++
			continue
		}
		layers = slices.Replace(slices.Clone(layers), i, i+2, s.layer(layers[i].top, layers[i+1].bottom))
		i = max(0, i-1)
	}
	return layers
}

// shadeOnly reports whether two layers are alike in hue and one smooth field of brightness,
// quadratic down and across, explains their log lightness better than a step between them on
// the same field across.
func (s *strata) shadeOnly(upper, lower bedLayer) bool {
	if upper.seen == 0 || lower.seen == 0 || s.steepness(lower.top) > softStep {
		return false
	}
	level := lower.light
	gain := upper.light.Luminance() / max(lower.light.Luminance(), 1e-6)
	for c := range level {
		level[c] *= gain
	}
	if palette.Difference(upper.light.Lab(), level.Lab()) > likeHue {
		return false
	}
	var smooth, step fit
	var count [2]int
	for side, l := range []bedLayer{upper, lower} {
		s.eachPatch(l, func(x, z float64, lab [3]float64) {
			count[side]++
			bright := 3 * math.Log(max(lab[0], 0)+16) // log luminance, but for a constant (CIELAB)
			smooth.add([]float64{1, x, x * x, z, z * z, x * z}, bright)
			step.add([]float64{1, x, x * x, float64(side)}, bright)
		})
	}
	return min(count[0], count[1]) >= leastPlaces && smooth.left() < smoothShare*step.left()
}

// fit is a least-squares fit of values by a few curves: the triangle of its normal equations.
type fit struct {
	rows [][]float64 // of the curves' products, the last column with the value
	own  float64     // sum of the values' squares
}

func (f *fit) add(curves []float64, value float64) {
	if f.rows == nil {
		f.rows = make([][]float64, len(curves))
		for i := range f.rows {
			f.rows[i] = make([]float64, len(curves)+1)
		}
	}
	for i, a := range curves {
		for j, b := range curves {
			f.rows[i][j] += a * b
		}
		f.rows[i][len(curves)] += a * value
	}
	f.own += value * value
}

// left is the sum of squares that the best fit leaves. A curve that the others make up adds
// nothing.
func (f *fit) left() float64 {
	rows := make([][]float64, len(f.rows))
	for i := range rows {
		rows[i] = slices.Clone(f.rows[i])
	}
	left := f.own
	n := len(rows)
	for i, row := range rows {
		if row[i] < 1e-9*f.rows[i][i] || row[i] == 0 {
			continue
		}
		left -= row[n] * row[n] / row[i]
		for j := i + 1; j < n; j++ {
			share := rows[j][i] / row[i]
			for k := i; k <= n; k++ {
				rows[j][k] -= share * row[k]
			}
		}
	}
	return max(0, left)
}
