package bed

import "math"

// OxygenSaturation is the oxygen, mg/L, that fresh water holds in balance with moist
// air at a temperature in °C and a pressure in atm (PressureAt); good for 0 to 40 °C
// and 0.5 to 1.1 atm, and smoothly continued to 45 °C.
//
//	ln C* = −139.34411 + 1.575701e5/T − 6.642308e7/T² + 1.2438e10/T³ − 8.621949e11/T⁴
//	C = C* · P (1 − pw/P)(1 − θP) / ((1 − pw)(1 − θ)), T in kelvin
//
// with the vapour pressure pw, and θ for how oxygen departs from an ideal gas.
//
// Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620; the same in Standard
// Methods 4500-O and in USGS memorandum 2011.03.
func OxygenSaturation(celsius, atm float64) float64 {
	inverse := 1 / (celsius + ZeroCelsius)
	atOne := math.Exp(-139.34411 + inverse*(1.575701e5+inverse*(-6.642308e7+inverse*(1.243800e10-inverse*8.621949e11))))
	vapor := math.Exp(11.8571 + inverse*(-3840.70-216961*inverse)) // atm
	// θ takes °C, not kelvin: some printed copies are wrong.
	theta := 0.000975 + celsius*(-1.426e-5+6.436e-8*celsius) // 1/atm
	return atOne * (atm - vapor) * (1 - theta*atm) / ((1 - vapor) * (1 - theta))
}

// PressureAt is the pressure of the air, atm, at an altitude in metres above sea level,
// up to 11,000 m:
//
//	P = (1 − 2.25577e-5 h)^5.25588
//
// Source: ISO 2533, standard atmosphere (from memory). The weather moves it by ±3 %.
func PressureAt(altitude float64) float64 { return math.Pow(1-2.25577e-5*altitude, 5.25588) }

// OxygenSchmidt is the Schmidt number of oxygen in fresh water, 0 to 40 °C: the ratio
// of viscosity to diffusion, on which gas transfer at a water surface depends.
//
// Source: a polynomial of the kind of Wanninkhof, after Raymond et al. 2012
// (attribution from memory).
func OxygenSchmidt(celsius float64) float64 {
	return 1568 + celsius*(-86.04+celsius*(2.142-0.0216*celsius))
}

// The exponents of TransferOf.
const (
	SmoothSurface  = 2.0 / 3
	RippledSurface = 1.0 / 2
)

// TransferOf is the gas transfer velocity of oxygen, in the unit of k600, at a
// temperature in °C, where k600 was measured for a gas of Schmidt number 600 or
// brought to it:
//
//	kL = k600 (Sc/600)^−n, n SmoothSurface or RippledSurface
//
// Source: as OxygenSchmidt; 600 is carbon dioxide at 20 °C in fresh water.
func TransferOf(k600, celsius, n float64) float64 {
	return k600 * math.Pow(OxygenSchmidt(celsius)/600, -n)
}
