package bed

// OxygenDiffusivity is the molecular diffusivity of oxygen in fresh water, m²/d, at a
// temperature in °C, a fit good to 1 %:
//
//	D = (0.2604 + 0.006383 T/μ)·1e-9 m²/s, T in kelvin, viscosity μ in cP
//
// Source: Boudreau 1997, Diagenetic Models and their Implementation, chapter 4.
//
// Authors differ by more than that. Between 5 and 35 °C it stands 19 to 26 % above what
// Han & Bartels measured (1996, J. Phys. Chem. 100:5597), by which oxygen would reach 8 to
// 13 % less deep and a bed take up as much less; a handbook's values lie from 11 % below
// it at 15 °C to 2 % above at 25 °C. What a bed demands is known to a factor of three at
// best, so the fit made for sediments is kept.
func OxygenDiffusivity(celsius float64) float64 {
	return squareMetersPerSecond * 1e-9 * (0.2604 + 0.006383*(celsius+ZeroCelsius)*fluidity(celsius))
}

// squareMetersPerSecond is 1 m²/s in m²/d.
const squareMetersPerSecond = 1 / Second

// fluidity is one over the viscosity of fresh water, 1/cP. Boudreau's polynomial is
// made for 0 to 30 °C and falls too fast above (28 % at 45 °C); from there on the
// fluidity rises in a straight line, as it nearly does (assumption: within 3 % of
// the handbook's 0.653 cP at 40 °C and 0.596 cP at 45 °C, from memory).
func fluidity(celsius float64) float64 {
	const warmest = 30 // °C
	if celsius <= warmest {
		mu, _ := viscosity(celsius)
		return 1 / mu
	}
	mu, slope := viscosity(warmest)
	return (1 - slope/mu*(celsius-warmest)) / mu
}

// viscosity is that of fresh water, cP, and its slope, cP/K, at 1.013 bar.
func viscosity(celsius float64) (mu, slope float64) {
	const bar = 1.013
	mu = 1.7910 - 1.5290e-4*bar + 8.3885e-8*bar*bar
	slope = -6.144e-2 + 6.0574e-6*bar - 2.6760e-9*bar*bar
	mu += celsius * (slope + celsius*(1.4510e-3-1.6826e-5*celsius))
	slope += celsius * (2*1.4510e-3 - 3*1.6826e-5*celsius)
	return mu, slope
}
