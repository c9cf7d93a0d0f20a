package palette

import "fmt"

// Band is what a layer means. The zero value, NoBand, stands for "not named":
// a layer whose keeper gave no label.
type Band uint8

// The bands, in the order in which they are listed: roughly from the top of a bed downward.
const (
	NoBand    Band = iota
	MulmLight      // light to cinnamon-brown organic detritus
	MulmDark       // dark brown organic detritus
	Rust           // iron oxide: the rust front
	Black          // reduced, iron sulphide
	Grey           // reduced, little sulphide
	FilmGreen      // green algae on lit glass
	FilmDark       // cyanobacteria, dark red to blue-green black
	MatWhite       // fungal or bacterial mat
	Native         // the substrate as it was laid
	Unknown        // nothing fits well
)

// description is everything about a band except its colours, which are the prototypes.
type description struct {
	name     string
	looks    string // through the glass
	letters  Letters
	grain    Grain
	material Material

	// overlay is how often a layer is this band if the band is not a step in the order;
	// nil: it is a step, whose place under, floor and rare describe (order.go).
	overlay func(top, unlit bool) float64
	under   shares  // how often it lies right under each step, in a hundred columns
	floor   float64 // weight of a column that ends in it
	rare    bool    // it is rare even in beds that keep to no order

	usual thickness
}

// thickness is a log-normal distribution: the median in millimetres and the standard
// deviation of the natural logarithm.
type thickness struct{ medianMM, spread float64 }

// bands describes every band. Shares, weights and thicknesses are assumptions; the rust front is
// seldom over 15 mm. A band is rarely right under itself, since a keeper types such layers as one.
var bands = [...]description{
	MulmLight: {
		name: "mulm-light", looks: "loose, light to cinnamon brown, on top",
		letters: Letters{"ml", 4}, grain: Grain{Flocs, 2.6}, material: Detritus,
		under: shares{atTop: 38, MulmLight: 3, MulmDark: 20, Rust: 0.5, Black: 0.5, Grey: 0.5, Native: 0.5, Unknown: 14, nativeBelow: 0.5},
		floor: 0.2, usual: thickness{14, 0.9},
	},
	MulmDark: {
		name: "mulm-dark", looks: "loose, dark brown, on top",
		letters: Letters{"md", 2}, grain: Grain{Flocs, 1.5}, material: Detritus,
		under: shares{atTop: 32, MulmLight: 30, MulmDark: 3, Rust: 0.5, Black: 0.5, Grey: 0.5, Native: 0.5, Unknown: 14, nativeBelow: 0.5},
		floor: 0.2, usual: thickness{14, 0.9},
	},
	Rust: {
		name: "rust", looks: "rust front: an orange to rust-brown line or zone",
		letters: Letters{"ru", 2}, grain: Grain{Rising, 1.3}, material: IronOxide,
		under: shares{atTop: 2, MulmLight: 34, MulmDark: 38, Rust: 2, Black: 1, Grey: 1, Native: 43, Unknown: 16, nativeBelow: 0.2},
		floor: 0.3, usual: thickness{5, 0.7},
	},
	Black: {
		name: "black", looks: "black zone: no oxygen, iron sulphide",
		letters: Letters{"bl", 0}, grain: Grain{Netted, 2.2}, material: IronSulphide,
		under: shares{atTop: 3, MulmLight: 8, MulmDark: 13, Rust: 61, Black: 2, Grey: 16, Native: 28, Unknown: 16, nativeBelow: 19},
		floor: 0.5, usual: thickness{20, 0.9},
	},
	Grey: {
		name: "grey", looks: "grey zone: no oxygen, little sulphide",
		letters: Letters{"gy", 1}, grain: Grain{Level, 1.6}, material: Gley,
		under: shares{atTop: 2, MulmLight: 3, MulmDark: 3, Rust: 20, Black: 32, Grey: 3, Native: 10, Unknown: 16, nativeBelow: 11},
		floor: 0.5, usual: thickness{22, 0.9},
	},
	FilmGreen: {
		name: "film-green", looks: "green growth on lit glass",
		letters: Letters{"fg", 1}, grain: Grain{Upright, 1.8}, material: Film,
		overlay: filmShare, usual: thickness{6, 0.9},
	},
	FilmDark: {
		name: "film-dark", looks: "dark red to blue-green black film on the glass",
		letters: Letters{"fd", 0}, grain: Grain{Upright, 0.9}, material: Film,
		overlay: filmShare, usual: thickness{6, 0.9},
	},
	MatWhite: {
		name: "mat-white", looks: "white mat on the bed or the glass",
		letters: Letters{"mw", 5}, grain: Grain{Specks, 0.9}, material: Mat,
		overlay: matShare, usual: thickness{3, 0.8},
	},
	Native: {
		name: "native", looks: "the substrate in its colour on set-up day",
		letters: Letters{"na", 6}, grain: Grain{Specks, 2.1}, material: Substrate,
		under: shares{atTop: 21, MulmLight: 20, MulmDark: 21, Rust: 14, Black: 62, Grey: 77, Native: 16, Unknown: 22, nativeBelow: 66.8},
		floor: 1, usual: thickness{35, 1.0},
	},
	Unknown: {
		name: "unknown", looks: "nothing here fits",
		letters: Letters{"??", 3}, grain: Grain{Falling, 2.6}, material: Substrate,
		under: shares{atTop: 2, MulmLight: 2, MulmDark: 2, Rust: 2, Black: 2, Grey: 2, Native: 2, Unknown: 2, nativeBelow: 2},
		floor: 0.5, rare: true, usual: thickness{15, 1.1},
	},
}

// Letters stand for a band drawn in text without colour: two letters of its name, closer together
// the darker the band.
type Letters struct {
	Pair string
	Gap  int // characters between one pair and the next
}

// Grain is how a band is hatched, so that a picture can be read in grey and by the colour-blind. The
// marks are the project's own.
type Grain struct {
	Hatching Hatching
	PitchMM  float64 // between marks
}

// Hatching is the kind of a grain's marks.
type Hatching uint8

// The hatchings.
const (
	Specks  Hatching = iota // single grains
	Flocs                   // short level strokes
	Rising                  // lines that rise to the right
	Falling                 // lines that fall to the right
	Netted                  // both
	Level                   // level lines
	Upright                 // upright lines, as growth on the glass runs
)

// Material is what a band is made of, which settles what it counts as in the order of the bands and
// in the physics of the bed.
type Material uint8

// The materials.
const (
	NoMaterial   Material = iota // of NoBand
	Detritus                     // brown and organic: mulm
	IronOxide                    // where oxygen meets reduced iron
	IronSulphide                 // without oxygen, as its black shows
	Gley                         // without oxygen, as its grey shows
	Film                         // grows on the glass, where light reaches it
	Mat                          // lies on or in the bed without ending a band
	Substrate                    // as laid, or counted as such where nothing fits
)

// Bands lists every band that a layer can be.
func Bands() []Band {
	list := make([]Band, 0, Unknown)
	for b := NoBand + 1; b <= Unknown; b++ {
		list = append(list, b)
	}
	return list
}

// ParseBand reads a band's name as String writes it.
func ParseBand(name string) (Band, error) {
	for _, b := range Bands() {
		if b.String() == name {
			return b, nil
		}
	}
	return NoBand, fmt.Errorf("found band %q, want one of %v", name, Bands())
}

func (b Band) String() string { return bands[b].name }

// MarshalText writes the band's name.
func (b Band) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// Looks says how the band looks through the glass, as a phrase.
func (b Band) Looks() string { return bands[b].looks }

// Letters stand for the band in text.
func (b Band) Letters() Letters { return bands[b].letters }

// Grain is the band's hatching.
func (b Band) Grain() Grain { return bands[b].grain }

// Material is what the band is made of.
func (b Band) Material() Material { return bands[b].material }

// IsMulm reports whether the band is brown organic detritus.
func (b Band) IsMulm() bool { return bands[b].material == Detritus }

// IsReduced reports whether the band's colour shows that it is without oxygen.
func (b Band) IsReduced() bool { return bands[b].material == IronSulphide || bands[b].material == Gley }

// IsFilm reports whether the band grows on the glass, where light reaches it.
func (b Band) IsFilm() bool { return bands[b].material == Film }

// IsOverlay reports whether the band lies on the glass or on or in the bed without ending a band,
// and so is not a step in the order of the bands.
func (b Band) IsOverlay() bool { return bands[b].overlay != nil }
