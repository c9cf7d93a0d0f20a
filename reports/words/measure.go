package words

import (
	"math"

	"panecore/layers"
	"panecore/reports"
)

// A Measure is how one sort of number is shown.
type Measure struct {
	Unit     string
	scale    float64                        // shown units in one stored unit
	decimals func(value, width float64) int // by the size of the number and the width of its range, as shown
}

// Length is the measure of stored millimetres.
func Length(u layers.Units) Measure {
	if u == layers.Inches {
		return Measure{u.String(), u.Of(1), hundredths}
	}
	return Measure{u.String(), 1, readable}
}

// Rate is the measure of stored millimetres a month.
func Rate(u layers.Units) Measure {
	m := Length(u)
	m.Unit += "/month"
	usual := 1
	if u == layers.Inches {
		usual = 2
	}
	m.decimals = func(_, width float64) int {
		if width*math.Pow10(usual) < 5 { // the usual decimals would hide the range
			return usual + 1
		}
		return usual
	}
	return m
}

// Oxygen is the measure of milligrams of oxygen a litre.
func Oxygen() Measure { return Measure{"mg/L", 1, readable} }

// Ammonia is the measure of milligrams of ammonia nitrogen a litre.
func Ammonia() Measure { return Other("mg N/L") }

// Other is the measure of numbers of any size, shown in the unit they are stored in.
func Other(unit string) Measure { return Measure{unit, 1, leading} }

// Rehearsed is the measure of a number of a rehearsal.
func Rehearsed(n reports.Rehearsed) Measure {
	if oxygen := Oxygen(); n.Unit == oxygen.Unit {
		return oxygen
	}
	return Other(n.Unit)
}

// readable gives whole numbers from 10 up, tenths below: the glass is read to about a millimetre.
func readable(value, _ float64) int {
	if math.Abs(value) >= 9.95 {
		return 0
	}
	return 1
}

func hundredths(_, _ float64) int { return 2 }

// leading gives thousandths, or as many decimals, up to six, as the first digit needs.
func leading(value, _ float64) int {
	const usual, most = 3, 6
	for decimals := usual; decimals <= most; decimals++ {
		if math.Abs(value) >= 0.5*math.Pow10(-decimals) {
			return decimals
		}
	}
	return usual
}

// Estimate writes a number within a sentence: "at least 16 mm (14 to 18)".
func (m Measure) Estimate(e reports.Estimate) string {
	return m.Value(e) + " " + m.Unit + " (" + m.Bounds(e) + ")"
}

// Value writes a number without its unit and its range: "at least 16".
func (m Measure) Value(e reports.Estimate) string {
	if e.AtLeast {
		return "at least " + m.bare(e)
	}
	return m.bare(e)
}

// Short is Value for narrow places: "16+" if there is more than was seen.
func (m Measure) Short(e reports.Estimate) string {
	if e.AtLeast {
		return m.bare(e) + "+"
	}
	return m.bare(e)
}

// Bounds writes the 90 % range, with the decimals of the value: "14 to 18".
func (m Measure) Bounds(e reports.Estimate) string {
	decimals := m.digits(e)
	return Signed(e.Low*m.scale, decimals) + " to " + Signed(e.High*m.scale, decimals)
}

// Plain writes a stored number without a range, such as a limit, without its unit.
func (m Measure) Plain(x float64) string {
	return m.bare(reports.Estimate{Value: x, Low: x, High: x})
}

func (m Measure) bare(e reports.Estimate) string { return Signed(e.Value*m.scale, m.digits(e)) }

// digits is how many decimals an estimate is shown with.
func (m Measure) digits(e reports.Estimate) int {
	return m.decimals(e.Value*m.scale, (e.High-e.Low)*m.scale)
}
