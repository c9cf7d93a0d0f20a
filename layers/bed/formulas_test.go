package bed

import "math"

// What no command asks for, and the tests do: formulas and limits that rows of testdata/checks
// are published for, and beds of defaults.

// Liter is a litre in the unit of the package, m³.
const Liter = 1e-3

// Dissolved oxygen that warm-water fish need, mg/L: the least of a day, the mean of a
// week's least ones and the mean of a month; for eggs and fry, the least of a day and
// the mean of a week. USEPA 1986, Ambient Water Quality Criteria for Dissolved Oxygen,
// EPA 440/5-86-003 (from memory).
const (
	OxygenLimitDay       = 3.0
	OxygenLimitWeek      = 4.0
	OxygenLimitMonth     = 5.5
	OxygenLimitYoungDay  = 5.0
	OxygenLimitYoungWeek = 6.0
)

// AmmoniumDiffusivity is that of NH4+, m²/d:
//
//	D = (9.50 + 0.413 t)·1e-10 m²/s
//
// Source: as OxygenDiffusivity.
func AmmoniumDiffusivity(celsius float64) float64 {
	return squareMetersPerSecond * 1e-10 * (9.50 + 0.413*celsius)
}

// HydrosulfideDiffusivity is that of HS−, m²/d:
//
//	D = (10.4 + 0.273 t)·1e-10 m²/s
//
// Source: as OxygenDiffusivity.
func HydrosulfideDiffusivity(celsius float64) float64 {
	return squareMetersPerSecond * 1e-10 * (10.4 + 0.273*celsius)
}

// HydrogenSulfideDiffusivity is that of H2S, m²/d, with the molar volume Vb at the
// boiling point (Wilke & Chang, changed by Hayduk & Laudie):
//
//	D = 4.72e-11 T/(μ Vb^0.6) m²/s
//
// Source: as OxygenDiffusivity.
func HydrogenSulfideDiffusivity(celsius float64) float64 {
	const boilingVolume = 35.2 // cm³/mol
	return squareMetersPerSecond * 4.72e-11 * (celsius + ZeroCelsius) * fluidity(celsius) / math.Pow(boilingVolume, 0.6)
}

// OxygenSchmidt is the Schmidt number of oxygen in fresh water, 0 to 40 °C: the ratio
// of viscosity to diffusion that gas transfer at a water surface goes by.
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

// Layer is a layer of the material with its defaults, so many m thick, at a
// temperature in °C.
func (m Material) Layer(thickness, celsius float64) Layer {
	p := m.Properties()
	return Layer{
		Thickness:   thickness,
		Porosity:    p.Porosity.Default,
		Demand:      DemandAt(p.Demand.Default, celsius),
		Solids:      p.Solids.Default,
		Ammonia:     p.Ammonia.Default,
		Sulfide:     p.Sulfide.Default,
		IronSulfide: p.IronSulfide.Default,
	}
}

// Profile is the steady oxygen in the bed under water with so much oxygen, mg/L.
func (b Bed) Profile(oxygen float64) Profile { return b.fed(oxygen, b.Boundary/b.Diffusivity) }
