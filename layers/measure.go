package layers

import "strconv"

// measure is the range that a number must lie in.
type measure struct {
	low, high float64
	open      bool // low itself is outside
	unit      string
}

// The ranges. All are assumptions: what lies outside is a slip of the pen or of
// the unit, not a reading.
var (
	thicknessRange   = measure{low: 0, high: maxBedMM, open: true, unit: " mm"}
	depthRange       = measure{low: 0, high: maxBedMM, unit: " mm"}
	vesselRange      = measure{low: 20, high: 10000, unit: " mm"} // a jar to a pond's length
	shareRange       = measure{low: 0, high: 1, unit: " (0.25 is a quarter)"}
	phRange          = measure{low: 4, high: 11}
	temperatureRange = measure{low: 0, high: 45, unit: " °C"}
	ammoniaRange     = measure{low: 0, high: 50, unit: " mg N/L"}
	oxygenRange      = measure{low: 0, high: 40, unit: " mg/L"}         // far above saturation
	colorDoubtRange  = measure{low: 0, high: 100, unit: " (CIEDE2000)"} // black to white
	evRange          = measure{low: -10, high: 10, unit: " stops"}
	evDoubtRange     = measure{low: 0, high: 10, unit: " stops"}
	veilRange        = measure{low: -1, high: 1, unit: " (1 is white)"} // below 0: the colours had too much taken off
	veilDoubtRange   = measure{low: 0, high: 1, unit: " (1 is white)"}
	scaleErrorRange  = measure{low: 0, high: 1, unit: " (0.01 is 1 %)"}
	reliefRange      = measure{low: -maxBedMM, high: maxBedMM, unit: " mm"}
)

// maxBedMM is the depth of the deepest bed in mm (assumption).
const maxBedMM = 2000

func (m measure) holds(value float64) bool {
	return value <= m.high && (value > m.low || value == m.low && !m.open)
}

// String says what is wanted, as in "a number from 0 to 45 °C".
func (m measure) String() string {
	low := "from " + format(m.low) + " to "
	if m.open {
		low = "above " + format(m.low) + " and up to "
	}
	return "a number " + low + format(m.high) + m.unit
}

// format writes a number in its shortest form.
func format(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }
