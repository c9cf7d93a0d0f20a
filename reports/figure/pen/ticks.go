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

// Count is how many smaller steps make up this one.
func (t Tick) Count(smaller Tick) int { return int(math.Round(t.MM / smaller.MM)) }

// Words writes a place on the ruler with as many decimals as the step needs.
func (t Tick) Words(mm float64) string {
	if mm == 0 {
		return "0"
	}
	return words.Number(t.units.Of(mm), decimalsOf(t.units.Of(t.MM)))
}

// The steps of rulers, each with the smaller one that divides it. Inches are divided by tens,
// as panecore reads them in decimals.
var (
	metricSteps = [...][2]float64{{1, 0.5}, {2, 1}, {5, 1}, {10, 1}, {10, 2}, {10, 5}, {20, 5}, {20, 10}, {50, 10}, {100, 20}, {100, 50}, {200, 100}, {500, 100}, {1000, 500}}
	inchSteps   = [...][2]float64{{0.02, 0.01}, {0.05, 0.01}, {0.1, 0.02}, {0.1, 0.05}, {0.2, 0.1}, {0.5, 0.1}, {1, 0.1}, {1, 0.2}, {1, 0.5}, {2, 0.5}, {2, 1}, {5, 1}, {10, 5}, {20, 10}, {50, 10}}
)

// TicksOf are the finest steps of a ruler whose numbers and marks stand at least so far apart,
// mm of what is measured.
func TicksOf(u layers.Units, numbers, marks float64) (major, minor Tick) {
	steps := metricSteps[:]
	if u == layers.Inches {
		steps = inchSteps[:]
	}
	unit := 1 / u.Of(1)
	for _, s := range steps {
		major, minor = Tick{s[0] * unit, u}, Tick{s[1] * unit, u}
		if major.MM >= numbers && minor.MM >= marks {
			break
		}
	}
	return major, minor
}

// Step is the smallest step, 1, 2 or 5 times a power of ten, that goes into top no more than
// most times.
func Step(top float64, most int) (step float64, decimals int) {
	power := math.Floor(math.Log10(top / float64(most)))
	for _, digit := range []float64{1, 2, 5, 10} {
		if step = digit * math.Pow(10, power); step*float64(most) >= top*(1-1e-9) {
			break
		}
	}
	return step, decimalsOf(step)
}

// decimalsOf is how many decimals a step of 1, 2 or 5 times a power of ten needs.
func decimalsOf(step float64) int { return max(0, -int(math.Floor(math.Log10(step)+1e-9))) }
