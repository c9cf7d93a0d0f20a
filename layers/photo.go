package layers

import "panecore/palette"

// Photo says what a core was read from and what the picture leaves in doubt. A doubt left out
// would read as none, so a document must tell each; it may lack the checksum, and whether the
// photo is reliable, as documents from before that was told do.
type Photo struct {
	SHA256     string        // of the file, 64 lower-case hexadecimal digits
	ColorDoubt float64       // of each layer's colour by itself, root-mean-square CIEDE2000
	Light      palette.Light // what all its colours share
	ScaleError float64       // standard error of the millimetres, as a share of them
	Surface    Edge          // the bed surface, depths from its mean
	Unreliable bool          // the layers may be other than told
}

var photoTable = tableOf(nil,
	field("sha256", wording((*Decoder).checksum, nil), func(p *Photo) *string { return &p.SHA256 }),
	field("colour_doubt", always(colorDoubtRange), func(p *Photo) *float64 { return &p.ColorDoubt }).needed(),
	field("light", recordOf(lightTable), func(p *Photo) *palette.Light { return &p.Light }).needed(),
	field("scale_error", always(scaleErrorRange), func(p *Photo) *float64 { return &p.ScaleError }).needed(),
	field("surface", recordOf(edgeTable), func(p *Photo) *Edge { return &p.Surface }).needed(),
	field("reliable", truthKind(true), func(p *Photo) *bool { return &p.Unreliable }),
)

var lightTable = tableOf(nil,
	field("ev", always(evRange), func(l *palette.Light) *float64 { return &l.EV }).needed(),
	field("ev_doubt", always(evDoubtRange), func(l *palette.Light) *float64 { return &l.EVDoubt }).needed(),
	field("veil", always(veilRange), func(l *palette.Light) *float64 { return &l.Veil }).needed(),
	field("veil_doubt", always(veilDoubtRange), func(l *palette.Light) *float64 { return &l.VeilDoubt }).needed(),
)

// sha256Length is how many hexadecimal digits a SHA-256 has (FIPS 180-4: 256 bits).
const sha256Length = 64

func (d *Decoder) checksum() string {
	return d.formed("a SHA-256: 64 hexadecimal digits in lower case", isChecksum)
}

func isChecksum(text []byte) bool {
	for _, digit := range text {
		if (digit < '0' || digit > '9') && (digit < 'a' || digit > 'f') {
			return false
		}
	}
	return len(text) == sha256Length
}
