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
