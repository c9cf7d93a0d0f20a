package pen

import (
	"math"

	"panecore/layers"
	"panecore/reports/words"
)

// Tick is a step of a ruler.
type Tick struct {
	MM    float64
	units layers.Units
}

// Count is how often a smaller step goes into this one.
func (t Tick) Count(smaller Tick) int { return int(math.Round(t.MM / smaller.MM)) }

// Words writes a place on the ruler, with as many decimals as the step takes.
func (t Tick) Words(mm float64) string {
	if mm == 0 {
		return "0"
	}
	return words.Number(t.units.Of(mm), decimalsOf(t.units.Of(t.MM)))
}

// The steps of rulers, each with the smaller one that divides it: both units by tens, as the
// program reads inches in decimals.
var (
	metricSteps = [...][2]float64{{1, 0.5}, {2, 1}, {5, 1}, {10, 1}, {10, 2}, {10, 5}, {20, 5}, {20, 10}, {50, 10}, {100, 20}, {100, 50}, {200, 100}, {500, 100}, {1000, 500}}
	inchSteps   = [...][2]float64{{0.02, 0.01}, {0.05, 0.01}, {0.1, 0.02}, {0.1, 0.05}, {0.2, 0.1}, {0.5, 0.1}, {1, 0.1}, {1, 0.2}, {1, 0.5}, {2, 0.5}, {2, 1}, {5, 1}, {10, 5}, {20, 10}, {50, 10}}
)

// TicksOf are the steps of a ruler whose numbers stand at least mostly apart and whose
// smallest marks at least finely, both in mm of what is measured.
func TicksOf(u layers.Units, apart, finely float64) (major, minor Tick) {
	steps := metricSteps[:]
	if u == layers.Inches {
		steps = inchSteps[:]
	}
	unit := 1 / u.Of(1)
	for _, s := range steps {
		major, minor = Tick{s[0] * unit, u}, Tick{s[1] * unit, u}
		if major.MM >= apart && minor.MM >= finely {
			break
		}
	}
	return major, minor
}

// Step is the step of a scale from 0 to top that has at most so many: 1, 2 or 5 times a
// power of ten.
func Step(top float64, most int) (step float64, decimals int) {
	power := math.Floor(math.Log10(top / float64(most)))
	for _, digit := range []float64{1, 2, 5, 10} {
		if step = digit * math.Pow(10, power); step*float64(most) >= top*(1-1e-9) {
			break
		}
	}
	return step, decimalsOf(step)
}

// decimalsOf is how many decimals write the steps of a scale: 1, 2 or 5 times a power of ten.
func decimalsOf(step float64) int { return max(0, -int(math.Floor(math.Log10(step)+1e-9))) }
