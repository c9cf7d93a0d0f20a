package judge

import (
	"math"

	"panecore/reports/internal/testworlds"
	"panecore/reports/stats"
)

// rivalWidths are the median widths, by sort and by what is asked, of the narrowest rival's intervals. All
// of a rival's intervals are stretched by one factor, the least by which nine in ten hold the truth in every
// sort: a keeper isn't told which his tank is of.
func rivalWidths(sorts []sort) [][5]float64 {
	widths := make([][5]float64, len(sorts))
	for i := range widths {
		for j := range widths[i] {
			widths[i][j] = math.Inf(1)
		}
	}
	for _, r := range testworlds.Rivals() {
		var medians [][5]float64
		var factor [5]float64
		for _, s := range sorts {
			var median [5]float64
			for j, list := range r.Stretches(s.tanks) {
				var own, misses []float64
				for _, s := range list {
					own, misses = append(own, s.Width), append(misses, s.Miss)
				}
				if len(list) == 0 {
					factor[j] = math.Inf(1)
					continue
				}
				median[j] = stats.Quantile(own, 0.5)
				factor[j] = max(factor[j], stats.Quantile(misses, 0.9))
			}
			medians = append(medians, median)
		}
		for i := range widths {
			for j := range widths[i] {
				if w := factor[j] * medians[i][j]; w < widths[i][j] {
					widths[i][j] = w
				}
			}
		}
	}
	return widths
}
