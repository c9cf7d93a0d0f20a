package palette

// Prototype is one colour that a band is known to show.
type Prototype struct {
	Band   Band
	Kind   string  // native bands only: what the substrate is, e.g. "sand"
	Color  Color   // as seen under neutral light
	Spread float64 // root-mean-square CIEDE2000 difference from Color
	Source string  // where the colour comes from, or "assumption"
}

// Sources of prototypes. If the colour was printed as a Munsell notation, that stands before the
// source; it was converted to sRGB by the Munsell renotation (npm munsell 1.1.6, illuminant C adapted
// to D65).
const (
	minerals   = "Lynn & Pearson 2000 and Schwertmann 1993, as compiled in open dataset soil_minerals"
	seriesSum  = "own count over 24,881 USDA-NRCS official soil series descriptions"
	series     = "USDA-NRCS official soil series description "
	pedon      = "USDA-NRCS pedon S05-RI-009-001A (Nagunt)"
	indicators = "USDA-NRCS Field Indicators of Hydric Soils in the United States, S4 (a point inside the printed range)"
	jacobs     = "Jacobs et al. 2002, as in open dataset jacobs2000"
	assumed    = "assumption"
)

// Prototypes lists the built-in colours, grouped by band. The spreads of muck (4.2), rust (5.0), black
// (4.6) and grey (4.5) were counted over the soil descriptions and widened for tanks; the rest are
// assumptions.
func Prototypes() []Prototype {
	list := make([]Prototype, len(prototypes))
	copy(list, prototypes[:])
	return list
}

var prototypes = [...]Prototype{
	{MulmLight, "", Color{0x7c, 0x59, 0x3a}, 6, "7.5YR 4/4, " + assumed},
	{MulmLight, "", Color{0x96, 0x73, 0x54}, 6, "7.5YR 5/4, " + assumed},
	{MulmLight, "", Color{0x92, 0x74, 0x4f}, 6, "10YR 5/4, " + assumed},
	{MulmLight, "", Color{0x73, 0x5c, 0x40}, 6, "10YR 4/3, " + assumed},
	{MulmLight, "", Color{0x8a, 0x77, 0x57}, 6, "2.5Y 5/3, " + assumed},
	{MulmLight, "", Color{0x9b, 0x71, 0x4a}, 6, "7.5YR 5/5, cinnamon brown, " + assumed},
	{MulmLight, "", Color{0xb0, 0x84, 0x57}, 6, "7.5YR 6/5, pale cinnamon brown, " + assumed},

	{MulmDark, "", Color{0x54, 0x45, 0x35}, 5.5, "10YR 3/2 lake muck, " + series + "Maquam"},
	{MulmDark, "", Color{0x3c, 0x2e, 0x21}, 5.5, "10YR 2/2 pond muck, " + series + "Shannock"},
	{MulmDark, "", Color{0x59, 0x44, 0x2c}, 5.5, "10YR 3/3 lake muck, " + series + "Maquam"},
	{MulmDark, "", Color{0x58, 0x43, 0x38}, 5.5, "5YR 3/2 sapric peat, " + series + "Houghton"},
	{MulmDark, "", Color{0x4f, 0x47, 0x33}, 5.5, "5Y 3/2 coprogenous earth, " + series + "Muskego"},

	{Rust, "", Color{0x9b, 0x72, 0x37}, 6, "10YR 5/6, commonest iron concentration, " + seriesSum},
	{Rust, "", Color{0xa1, 0x6f, 0x3f}, 6, "7.5YR 5/6 fine goethite, " + minerals},
	{Rust, "", Color{0xa9, 0x6c, 0x27}, 6, "7.5YR 5/8 iron concentration, " + seriesSum},
	{Rust, "", Color{0x8c, 0x51, 0x36}, 6, "2.5YR 4/6 fine lepidocrocite, " + minerals},
	{Rust, "", Color{0xc5, 0x86, 0x41}, 6, "7.5YR 6/8 iron concentration in sand, " + jacobs},
	{Rust, "", Color{0xd9, 0xa4, 0x50}, 6, "10YR 7/8 schwertmannite, the pale end of the iron oxides, " + minerals},
	{Rust, "", Color{0xae, 0x69, 0x31}, 6, "5YR 5/8 iron concentration, " + seriesSum},

	{Black, "", Color{0x40, 0x3c, 0x33}, 5, "5Y 2.5/1 reduced lagoon sand, " + pedon},
	{Black, "", Color{0x49, 0x48, 0x3e}, 5, "10Y 3/1, commonest sulphidic mud, " + seriesSum},
	{Black, "", Color{0x3c, 0x3c, 0x3c}, 5, "N 2.5 iron monosulphide silt, " + series + "Ivgich"},
	{Black, "", Color{0x3d, 0x3c, 0x33}, 5, "10Y 2.5/1 iron monosulphide silt, " + series + "Ivgich"},
	{Black, "", Color{0x26, 0x26, 0x26}, 5, "N 1.5 in dim light, " + assumed},

	{Grey, "", Color{0x65, 0x60, 0x54}, 6, "5Y 4/1 sulphidic mud, " + seriesSum},
	{Grey, "", Color{0x7e, 0x79, 0x6d}, 6, "5Y 5/1 reduced pond sand, " + series + "Burlingame"},
	{Grey, "", Color{0x7b, 0x7a, 0x6e}, 6, "10Y 5/1 reduced pond sand, " + series + "Shannock"},
	{Grey, "", Color{0x9b, 0x92, 0x88}, 6, "10YR 6/1 iron depletion, " + seriesSum},
	{Grey, "", Color{0x6f, 0x7c, 0x7b}, 6, "5BG 5/1 gleyed matrix, " + indicators},
	{Grey, "", Color{0x79, 0x79, 0x79}, 6, "N 5 gleyed matrix, " + indicators},
	{Grey, "", Color{0x87, 0x77, 0x64}, 6, "10YR 5/2, commonest iron depletion, " + seriesSum},

	{FilmGreen, "", Color{0x4f, 0x7a, 0x3a}, 8, assumed},
	{FilmGreen, "", Color{0x6f, 0x8f, 0x3c}, 8, assumed},
	{FilmGreen, "", Color{0x33, 0x50, 0x2a}, 8, assumed},

	{FilmDark, "", Color{0x1f, 0x4a, 0x46}, 7, "blue-green, " + assumed},
	{FilmDark, "", Color{0x2f, 0x64, 0x5c}, 7, "blue-green, " + assumed},
	{FilmDark, "", Color{0x14, 0x30, 0x2e}, 7, "blue-green, " + assumed},
	{FilmDark, "", Color{0x5c, 0x22, 0x26}, 7, "dark red, " + assumed},
	{FilmDark, "", Color{0x7b, 0x2f, 0x35}, 7, "dark red, " + assumed},
	{FilmDark, "", Color{0x3a, 0x19, 0x1c}, 7, "dark red, " + assumed},

	{MatWhite, "", Color{0xec, 0xe9, 0xe1}, 6, assumed},
	{MatWhite, "", Color{0xd6, 0xd3, 0xca}, 6, assumed},
	{MatWhite, "", Color{0xbf, 0xbc, 0xb4}, 6, assumed},

	{Native, "sand", Color{0xd6, 0xc6, 0xaf}, 7, "10YR 8/2 bleached quartz sand, " + series + "Myakka"},
	{Native, "sand", Color{0xc7, 0xa9, 0x7f}, 7, "10YR 7/4 pale quartz sand, " + series + "Lakeland"},
	{Native, "sand", Color{0xbc, 0xab, 0x96}, 7, "10YR 7/2, " + assumed},
	{Native, "sand", Color{0xcf, 0xc7, 0xbc}, 7, "10YR 8/1 depleted sand, " + jacobs},

	{Native, "clay", Color{0x9a, 0x48, 0x32}, 6, "10R 4/8 kaolinitic clay, " + series + "Cecil"},
	{Native, "clay", Color{0x8c, 0x51, 0x36}, 6, "2.5YR 4/6 oxisol clay, " + series + "Bayamon"},
	{Native, "clay", Color{0x68, 0x3c, 0x33}, 6, "10R 3/4 laterite, " + series + "Nipe"},

	{Native, "dark-soil", Color{0x37, 0x30, 0x29}, 5, "10YR 2/1 smectitic clay, " + series + "Houston Black"},
	{Native, "dark-soil", Color{0x4a, 0x38, 0x2c}, 5, "7.5YR 2.5/2, " + assumed},
	{Native, "dark-soil", Color{0x5e, 0x41, 0x31}, 5, "5YR 3/3 volcanic-ash soil, " + series + "Hilo"},
	{Native, "dark-soil", Color{0x60, 0x41, 0x26}, 5, "7.5YR 3/4 volcanic-ash soil, " + series + "Hilo"},
}
