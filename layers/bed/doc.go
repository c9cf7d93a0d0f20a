// Package bed holds the physics of a bed and of the water above it as pure
// functions of numbers: how far oxygen reaches into the bed, what is left of it at
// the bottom of the water, and what disturbing the bed would release. Nothing here
// knows of tanks, documents or colours.
//
// A Bed is a stack of layers. A Column is the water above a bed; Column.Steady says how
// far oxygen reaches into both, and a Day follows the water through light and dark. A
// Disturbance is a stir or a siphoning; its Release is what gets into the water, and
// Water.OxygenAfter what it leaves of the oxygen. Material, Motion, Method and Assumed hold the defaults with their ranges.
//
// Units, unless a name or a comment says otherwise: metres, days, °C, pH;
// concentrations g/m³, which is mg/L; oxygen demand g O2 a day per m³ of whole bed
// (grains and water), fluxes g O2/m²/d, diffusivities m²/d. Total ammonia counts as
// nitrogen, sulphide as sulphur. Depths count down from the surface of the bed or the
// water that they lie in.
//
// The functions do not check their numbers, so that thousands of draws stay cheap. In the
// ranges of ranges_test.go, which are wider than any tank, every result is finite and not
// negative.
package bed

// Other units in those of the package.
const (
	Millimeter = 1e-3        // m
	Hour       = 1.0 / 24    // d
	Minute     = Hour / 60   // d
	Second     = Hour / 3600 // d
)
