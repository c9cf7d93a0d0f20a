package palette

import "fmt"

// Band is what a layer means. The zero value, NoBand, stands for "not named":
// a layer whose keeper gave no label.
type Band uint8

// The bands, in the order in which a keeper meets them from the top of a bed
// downward, the overlays behind them.
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

var bandNames = [...]string{
	NoBand: "", MulmLight: "mulm-light", MulmDark: "mulm-dark", Rust: "rust", Black: "black", Grey: "grey",
	FilmGreen: "film-green", FilmDark: "film-dark", MatWhite: "mat-white", Native: "native", Unknown: "unknown",
}

// Bands lists every band that a layer can carry.
func Bands() []Band {
	bands := make([]Band, 0, len(bandNames)-1)
	for b := MulmLight; b <= Unknown; b++ {
		bands = append(bands, b)
	}
	return bands
}

// ParseBand reads a band's name as String writes it.
func ParseBand(name string) (Band, error) {
	for b := MulmLight; b <= Unknown; b++ {
		if bandNames[b] == name {
			return b, nil
		}
	}
	return NoBand, fmt.Errorf("found band %q, want one of %v", name, bandNames[MulmLight:])
}

func (b Band) String() string { return bandNames[b] }

// MarshalText writes the band's name.
func (b Band) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// IsMulm reports whether the band is brown organic detritus.
func (b Band) IsMulm() bool { return b == MulmLight || b == MulmDark }

// IsReduced reports whether the band is free of oxygen by its colour.
func (b Band) IsReduced() bool { return b == Black || b == Grey }

// IsFilm reports whether the band grows on the glass, where light reaches it.
func (b Band) IsFilm() bool { return b == FilmGreen || b == FilmDark }

// IsOverlay reports whether the band lies on the glass or on the surface and is
// therefore no step in the order of the bands.
func (b Band) IsOverlay() bool { return b.IsFilm() || b == MatWhite }
