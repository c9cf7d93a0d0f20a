package bed

import "math"

// ZeroCelsius is 0 °C in kelvin (definition).
const ZeroCelsius = 273.15

// Molar masses, g/mol (IUPAC standard atomic weights, from memory).
const (
	molarMassN   = 14.007
	molarMassNH3 = molarMassN + 3*1.008
)

// NH3PerN is the mass of ammonia that holds one gram of nitrogen, g NH3/g N.
const NH3PerN = molarMassNH3 / molarMassN

// The long-term limit of un-ionised ammonia for freshwater fish: EIFAC 1970,
// Technical Paper 11; Alabaster & Lloyd 1980 (the number from memory).
const (
	EIFACLimitNH3 = 0.025                   // mg NH3/L
	EIFACLimitN   = EIFACLimitNH3 / NH3PerN // mg N/L
)

// The constants of AmmoniaPKa.
const (
	emersonOffset = 0.09018 // dimensionless
	emersonSlope  = 2729.92 // K
)

// AmmoniaPKa is the pKa of the ammonium ion in fresh water at a temperature in
// °C, good for 0 to 50 °C:
//
//	pKa = 0.09018 + 2729.92/T, T in kelvin
//
// Source: Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379.
func AmmoniaPKa(celsius float64) float64 {
	return emersonOffset + emersonSlope/(celsius+ZeroCelsius)
}

// UnionisedShare is the part of total ammonia, 0 to 1, that is NH3 and not
// NH4+ at a pH and a temperature in °C:
//
//	f = 1/(1 + 10^(pKa − pH))
//
// Source: as AmmoniaPKa.
func UnionisedShare(pH, celsius float64) float64 {
	return 1 / (1 + math.Pow(10, AmmoniaPKa(celsius)-pH))
}
