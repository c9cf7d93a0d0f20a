package bed

import "math"

// SulfideLimitH2S is the chronic criterion for undissociated hydrogen sulphide in
// fresh water, mg H2S/L (USEPA, Quality Criteria for Water 1986).
const SulfideLimitH2S = 0.002

// AmmoniaAcuteLimit is the total ammonia, mg N/L, that freshwater animals tolerate for
// an hour, at a pH and a temperature in °C, where no trout or salmon live:
//
//	0.7249 (0.0114/(1 + 10^(7.204 − pH)) + 1.6181/(1 + 10^(pH − 7.204)))
//	· min(51.93, 23.12 · 10^(0.036 (20 − t)))
//
// Source: USEPA 2013, Aquatic Life Ambient Water Quality Criteria for Ammonia,
// EPA-822-R-13-001 (acute criterion). It is printed to two digits.
func AmmoniaAcuteLimit(pH, celsius float64) float64 {
	byPH := 0.0114/(1+math.Pow(10, 7.204-pH)) + 1.6181/(1+math.Pow(10, pH-7.204))
	return 0.7249 * byPH * min(51.93, 23.12*math.Pow(10, 0.036*(20-celsius)))
}

// AmmoniaChronicLimit is the total ammonia, mg N/L, that freshwater animals tolerate
// as the mean of 30 days, at a pH and a temperature in °C:
//
//	0.8876 (0.0278/(1 + 10^(7.688 − pH)) + 1.1994/(1 + 10^(pH − 7.688)))
//	· 2.126 · 10^(0.028 (20 − max(t, 7)))
//
// Source: as AmmoniaAcuteLimit (chronic criterion).
func AmmoniaChronicLimit(pH, celsius float64) float64 {
	byPH := 0.0278/(1+math.Pow(10, 7.688-pH)) + 1.1994/(1+math.Pow(10, pH-7.688))
	return 0.8876 * byPH * 2.126 * math.Pow(10, 0.028*(20-max(celsius, 7)))
}
