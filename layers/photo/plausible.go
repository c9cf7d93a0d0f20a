package photo

import (
	"fmt"
	"math"
	"slices"

	"panecore/palette"
)

// A makeup is what a strip's layers are like, by what beds are like: a face, a wall or a
// landscape falls into layers too.
type makeup struct {
	foreign float64 // share of the depth in colours that no bed shows
	unknown float64 // share of the depth that fits no band
	ragged  float64 // mean over the edges between layers: unevenness over the thinner neighbour
	each    float64 // mean thickness of a layer, mm
	layers  int
}

// Bounds of a bed's makeup (assumptions; of 160 drawn and path-traced beds all but one reach at most a
// foreign share of 0.08, a raggedness of 0.30 and 7.3 mm a layer, and those more ragged than surelyEven, but
// one more, patches uneven by 0.75). A bed with more than mostUnknown is read too poorly to rely on.
const (
	surelyForeign = 0.5 // of the depth: refused
	mostForeign   = 0.15
	mostUnknown   = 0.25
	mostRagged    = 0.34
	surelyEven    = 0.16 // a few thin layers over coarse grain account for little, but their edges are even
	leastEach     = 6.6  // mm, in a bed of fewLayers or more
	fewLayers     = 4
	mostHidden    = 0.25 // of the bed
	mostUneven    = 0.85 // patches within layers over all: layers account for a quarter of what differs
)

// makeup measures a named bed.
func (s *strata) makeup(bed named) makeup {
	m := makeup{layers: len(bed.layers)}
	depth, uneven := 0.0, 0.0
	for i, l := range bed.layers {
		mm := s.thickness(l)
		depth += mm
		if foreign(l.light.Lab(), mm) {
			m.foreign += mm
		}
		if bed.names[i] == palette.Unknown {
			m.unknown += mm
		}
		if i > 0 {
			uneven += s.raggedness(l.top) / max(leastThere, min(mm, s.thickness(bed.layers[i-1])))
		}
	}
	m.foreign, m.unknown = m.foreign/depth, m.unknown/depth
	m.each = depth / float64(m.layers)
	m.ragged = uneven / float64(max(1, m.layers-1))
	return m
}

// The colours of beds, as lightness, chroma and hue of CIELAB under the card's light
// (assumptions, drawn wide around pale sand, grey gravel, laterite, soil, stains, green and dark
// films; a colour with less chroma than a bound asks for is grey enough to pass).
const (
	mostChroma  = 55.0  // rust and wet laterite stay below 50
	reddest     = 25.0  // degrees of hue: redder is a cloth, a flower, or violet
	greenest    = 105.0 // from here on only films are green
	bluest      = 200.0 // from here on sky and violet
	blueChroma  = 12.0  // grey-blue gravel stays below
	greenChroma = 18.0  // stained sand and blue-green black films stay below
	redChroma   = 12.0
	thickFilm   = 6.0 // mm: thicker than any film

	paleSkin   = 65.0 // lightness from which a bed is no redder than skinHue
	skinHue    = 62.0 // degrees; pale sands are yellower
	skinChroma = 15.0
)

// foreign reports whether a layer so thick has a colour that no bed shows.
func foreign(lab palette.Lab, mm float64) bool {
	chroma := math.Hypot(lab.A, lab.B)
	hue := math.Atan2(lab.B, lab.A) * 180 / math.Pi
	if hue < 0 {
		hue += 360
	}
	switch {
	case chroma > mostChroma:
		return true
	case hue >= bluest:
		return chroma > blueChroma
	case hue >= greenest:
		return chroma > greenChroma && mm > thickFilm
	case hue < reddest:
		return chroma > redChroma
	}
	return lab.L > paleSkin && chroma > skinChroma && hue < skinHue
}

// raggedness is how far an edge's rows lie from an arch across the strip, a parabola that may
// lean: root-mean-square, mm. True edges wave, invented ones jump from thing to thing.
func (s *strata) raggedness(k int) float64 {
	rows := make([]float64, len(s.at))
	for b := range s.at {
		rows[b] = s.at[b][k]
	}
	return newArch(len(s.at)).residual(rows) * s.field.pitch
}

// arch are three curves over n places that are orthogonal to each other: level, lean and bow.
type arch [3][]float64

func newArch(n int) (a arch) {
	for i := range a {
		a[i] = make([]float64, n)
	}
	square := 0.0
	for b := range n {
		x := float64(b) - float64(n-1)/2
		a[0][b], a[1][b], a[2][b] = 1, x, x*x
		square += x * x / float64(n)
	}
	for b := range n {
		a[2][b] -= square
	}
	return a
}

// residual is the root-mean-square of values about the arch that fits them best.
func (a arch) residual(values []float64) float64 {
	left := slices.Clone(values)
	for _, curve := range a {
		var product, length float64
		for b, v := range curve {
			product += v * values[b]
			length += v * v
		}
		if length == 0 {
			continue
		}
		for b, v := range curve {
			left[b] -= product / length * v
		}
	}
	sum := 0.0
	for _, v := range left {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(left)))
}

// refuse says why the layers are certainly no bed; nil: they may be one. Without a grey card
// the hues are the camera's guess, and nothing is certain.
func (m makeup) refuse(cards int) error {
	if m.foreign <= surelyForeign || cards == 0 {
		return nil
	}
	return &Refusal{
		Reason: fmt.Sprintf("no bed: %.0f %% of the depth has colours that no bed shows, as sky, skin, leaves or cloth have", 100*m.foreign),
		Help:   "draw the strip over the bed, from its surface down, and the grey card's box inside the card",
	}
}

// doubts say what speaks against a bed.
func (m makeup) doubts(v sight, surelyNative bool) []string {
	var list []string
	add := func(format string, a ...any) {
		list = append(list, "perhaps no bed: "+fmt.Sprintf(format, a...))
	}
	if m.foreign > mostForeign {
		add("%.0f %% of the depth has colours that no bed shows; check the strip and the grey card", 100*m.foreign)
	}
	if m.unknown > mostUnknown {
		add("%.0f %% of the depth fits no band", 100*m.unknown)
	}
	if v.hidden > mostHidden {
		add("%.0f %% of it is hidden by glare or reflections", 100*v.hidden)
	}
	if v.fine < leastFine {
		add("it shows no grain")
	}
	if m.layers == 1 {
		if !surelyNative {
			add("it shows one material, which is not surely the tank's substrate")
		}
		return list
	}
	if m.ragged > mostRagged {
		add("the edges don't cross the strip evenly; check them on the photo")
	}
	if v.patchy > mostUneven && m.ragged > surelyEven {
		add("patches side by side differ as much as layers do")
	}
	if m.layers >= fewLayers && m.each < leastEach {
		add("%d layers of %.1f mm each are too many for its depth", m.layers, m.each)
	}
	return list
}
