package bed

import "math"

// Molar masses, g/mol (IUPAC standard atomic weights, from memory).
const (
	molarMassS   = 32.06
	molarMassH2S = molarMassS + 2*1.008
)

// H2SPerS is the mass of hydrogen sulphide that holds one gram of sulphur, g H2S/g S.
const H2SPerS = molarMassH2S / molarMassS

// SulfidePKa is the first pKa of hydrogen sulphide in fresh water at a temperature in
// °C, 0 to 45 °C:
//
//	ln K1 = 225.838 − 13275.3/T − 34.6435 ln T, T in kelvin
//
// Source: Millero 1995, Geochim. Cosmochim. Acta 59:661, at salinity 0.
//
// Authors lie on both sides: Broderius & Smith 1977, Anal. Chem. 49:424, 0.05 (35 °C) to
// 0.13 (5 °C) below, by which the share of H2S would be 7 to 10 % less at pH 7 and 11 to
// 23 % less at pH 8; Loy & Himmelblau 1961, J. Phys. Chem. 65:264, 0.08 (25 °C) to 0.13
// (0 °C) above. A pH is seldom read to better than 0.1, so the one between them is kept.
func SulfidePKa(celsius float64) float64 {
	kelvin := celsius + ZeroCelsius
	return (13275.3/kelvin + 34.6435*math.Log(kelvin) - 225.838) / math.Ln10
}

// UndissociatedShare is the part of total dissolved sulphide, 0 to 1, that is H2S and
// not HS− at a pH and a temperature in °C:
//
//	f = 1/(1 + 10^(pH − pKa))
//
// Source: as SulfidePKa. The second dissociation matters only above pH 11.
func UndissociatedShare(pH, celsius float64) float64 {
	return 1 / (1 + math.Pow(10, pH-SulfidePKa(celsius)))
}
