package bed

// Range is a default with the 5 % and 95 % ends of what is thought likely: guesses from
// the sources, not calibrated probabilities.
type Range struct{ Low, Default, High float64 }

// Material is what a part of a bed is made of.
type Material uint8

// The materials.
const (
	LooseMulm   Material = iota // the top LooseDepth of the mulm
	SettledMulm                 // the mulm below
	RustFront
	BlackReduced
	GreyReduced
	Sand // native sand or gravel
	Soil // native soil or clay
)

// LooseDepth is how much of the top of the mulm is loose, m (assumption).
const LooseDepth = 10 * Millimeter

// Properties are the ranges of a material, in the units of Layer; Demand is at 20 °C.
type Properties struct{ Porosity, Solids, Demand, Ammonia, Sulfide, IronSulfide Range }

// Properties are the material's. Nobody is known to have measured aquarium mulm: every
// number is an assumption within what is published on lakes, rivers and ponds.
//
//   - Solids: surface mud of lakes 12 to 146 kg/m³ (Whalen et al. 2013, Arctic Antarct.
//     Alp. Res. 45:285).
//   - Porosity: pond mud 0.89 at the top and 0.80 below (Steeby et al. 2004, Aquacult.
//     Eng. 30:115); of sand, silt and clay Freeze & Cherry 1979 (from memory).
//   - Demand: 156 to 877 g/m³/d, from penetration and flux measured together in four
//     sediments; below the rust front it acts only once oxygen gets there.
//   - Ammonia: 0.07 to 10 mg N/L (Frazier, Naimo & Sandheinrich 1996); upper ends from
//     memory.
//   - Sulphide: 0.01 to 15 mg S/L (from memory); plants suffer from 0.15 to 0.35
//     (Minnesota Pollution Control Agency 2014).
//   - FeS: mean 11.3, range 0.8 to 127 µmol/g (Hall & Anderson 2022, Soil Systems 6:71).
func (m Material) Properties() Properties { return materials[m] }

var materials = [...]Properties{
	LooseMulm: {
		Porosity: Range{0.90, 0.95, 0.98}, Solids: Range{12, 50, 150}, Demand: Range{100, 400, 2000},
		Ammonia: Range{0.3, 2, 10}, Sulfide: Range{0, 0.1, 1}, IronSulfide: Range{0, 5, 20},
	},
	SettledMulm: {
		Porosity: Range{0.80, 0.88, 0.95}, Solids: Range{80, 200, 400}, Demand: Range{30, 150, 600},
		Ammonia: Range{0.5, 4, 15}, Sulfide: Range{0, 0.5, 5}, IronSulfide: Range{1, 11, 100},
	},
	RustFront: {
		Porosity: Range{0.40, 0.80, 0.95}, Solids: Range{80, 300, 1500}, Demand: Range{30, 100, 500},
		Ammonia: Range{0.3, 2, 10}, Sulfide: Range{0, 0, 0.1}, IronSulfide: Range{0, 1, 5},
	},
	BlackReduced: {
		Porosity: Range{0.40, 0.70, 0.90}, Solids: Range{200, 600, 1500}, Demand: Range{50, 200, 1500},
		Ammonia: Range{1, 8, 20}, Sulfide: Range{0.1, 2, 15}, IronSulfide: Range{3, 15, 100},
	},
	GreyReduced: {
		Porosity: Range{0.40, 0.60, 0.85}, Solids: Range{300, 900, 1500}, Demand: Range{10, 60, 300},
		Ammonia: Range{0.5, 5, 15}, Sulfide: Range{0, 0.3, 3}, IronSulfide: Range{0.5, 5, 20},
	},
	Sand: {
		Porosity: Range{0.35, 0.40, 0.45}, Solids: Range{1450, 1600, 1750}, Demand: Range{2, 20, 100},
		Ammonia: Range{0.05, 0.5, 3}, Sulfide: Range{0, 0.02, 0.5}, IronSulfide: Range{0, 0.5, 3},
	},
	Soil: {
		Porosity: Range{0.45, 0.55, 0.70}, Solids: Range{800, 1150, 1450}, Demand: Range{10, 60, 300},
		Ammonia: Range{0.5, 4, 20}, Sulfide: Range{0, 0.3, 3}, IronSulfide: Range{0.5, 5, 40},
	},
}

// Motion is how the water is moved.
type Motion uint8

// The motions.
const (
	Still   Motion = iota // moved by nothing, covered or not
	Gentle                // by animals or a slow flow
	Rippled               // by a pump: the surface ripples
	Aerated               // by an air stone or a sponge on air
)

// Exchange are the ranges that depend on the motion, in the units of Column and Bed.
type Exchange struct {
	Transfer   Range // kL, m/d, 20 to 28 °C
	MixingLit  Range // Kz while lit, m²/d
	MixingDark Range // Kz in the dark, when the surface cools and water sinks, m²/d
	Boundary   Range // diffusive boundary layer, m
}

// Exchange are the motion's ranges; every number is an assumption.
//
//   - Transfer: still after Emerson 1975, Limnol. Oceanogr. 20:754 (0.2 ± 0.1) and
//     Crusius & Wanninkhof 2003, Limnol. Oceanogr. 48:1010 (0.24); gentle after Cole et
//     al. 2010, Limnol. Oceanogr. Methods 8:285 (0.35 to 0.74); rippled and aerated from
//     memory of streams and stirred tanks.
//   - Mixing: small stratified waters and the convection of a cooling surface, both from
//     memory; that animals keep up by day most of what a night's convection does, and
//     what a pump or bubbles do, assumed.
//   - Boundary: 0.16 to 0.59 mm at 7.7 to 0.3 cm/s (Jørgensen & Des Marais 1990, Limnol.
//     Oceanogr. 35:1343), drawn out to still water.
func (m Motion) Exchange() Exchange { return exchanges[m] }

var (
	stratified = Range{1e-7 * squareMetersPerSecond, 1e-6 * squareMetersPerSecond, 1e-5 * squareMetersPerSecond}
	convecting = Range{1e-5 * squareMetersPerSecond, 2e-5 * squareMetersPerSecond, 1e-4 * squareMetersPerSecond}
	stirred    = Range{1e-6 * squareMetersPerSecond, 1e-5 * squareMetersPerSecond, 1e-4 * squareMetersPerSecond}
	pumped     = Range{1e-4 * squareMetersPerSecond, 1e-3 * squareMetersPerSecond, 1e-2 * squareMetersPerSecond}

	thickBoundary = Range{0.3 * Millimeter, 0.8 * Millimeter, 1.5 * Millimeter}
	thinBoundary  = Range{0.2 * Millimeter, 0.4 * Millimeter, 0.6 * Millimeter}
)

var exchanges = [...]Exchange{
	Still:   {Range{0.1, 0.25, 0.4}, stratified, convecting, thickBoundary},
	Gentle:  {Range{0.4, 0.7, 1.0}, stirred, convecting, thinBoundary},
	Rippled: {Range{1, 2, 3}, pumped, pumped, thinBoundary},
	Aerated: {Range{2, 4, 10}, pumped, pumped, thinBoundary},
}

// Method is a way of disturbing a bed.
type Method uint8

// The methods.
const (
	Stir Method = iota
	Siphon
)

// Reaching is the share of what the method frees that gets into the water (assumption:
// all for a stir; for a siphon what it does not carry off).
func (m Method) Reaching() Range {
	if m == Siphon {
		return Range{0.1, 0.2, 0.3}
	}
	return Range{1, 1, 1}
}

// Assumptions are the ranges that depend on neither material nor motion.
type Assumptions struct {
	Respiration  Range // of the water without its animals, g O2/m³/d
	Animals      Range // oxygen that fish take, g O2/d per kg of them
	Reduced      Range // Bed.Reduced
	Exchangeable Range // Disturbance.Exchangeable
	Desorbed     Range // Disturbance.Desorbed
}

// Assumed are the assumptions.
//
//   - Respiration: assumption. Animals: 0.2 to 0.5 g an hour (from memory).
//   - Reduced: assumption below 0.37 ± 0.12, the mean of eleven eutrophic lakes (Müller,
//     Bryant, Matzinger & Wüest 2012, Environ. Sci. Technol.).
//   - Exchangeable: assumption; 1.3 in marine mud and less where it is loose (Mackin &
//     Aller 1984, Limnol. Oceanogr. 29:250), far more in one estuary of low salinity.
//   - Desorbed: about half (Fitzsimons et al. 2006, Marine Chemistry 101:12), its ends
//     an assumption.
func Assumed() Assumptions {
	return Assumptions{
		Respiration:  Range{0.1, 0.5, 3},
		Animals:      Range{0.2 / Hour, 0.3 / Hour, 0.5 / Hour},
		Reduced:      Range{0, 0.1, 0.4},
		Exchangeable: Range{0, 1, 4},
		Desorbed:     Range{0.3, 0.5, 0.7},
	}
}
