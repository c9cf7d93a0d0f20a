package layers

import (
	"fmt"

	"panecore/layers/jsonio"
	"panecore/palette"
)

// Layer is a thickness and a colour as seen.
type Layer struct {
	ThicknessMM float64
	Color       palette.Color
	Band        palette.Band // the keeper's own label; NoBand: not given
	Note        string
	Edge        *Edge // its lower boundary as traced in a photo; nil: read by eye
}

var layerTable = tableOf(nil,
	field("thickness_mm", always(thicknessRange), func(l *Layer) *float64 { return &l.ThicknessMM }).needed(),
	field("hex", colorKind(), func(l *Layer) *palette.Color { return &l.Color }).needed(),
	field("band", bandKind(), func(l *Layer) *palette.Band { return &l.Band }),
	field("note", noteKind(), func(l *Layer) *string { return &l.Note }),
	field("edge", maybe(edgeTable), func(l *Layer) **Edge { return &l.Edge }),
)

// MaxLayers is how many layers a core can have (assumption: ten times what a bed shows). A core is laid
// on the one before it with a slip in each layer in turn, which takes two tenths of a second where both have
// that many and eight times as long for twice as many.
const MaxLayers = 100

// readLayers gathers a core's layers in the decoder's own memory first, so that
// the list made of them is as long as it need be.
func (d *Decoder) readLayers() []Layer {
	if !d.in.List() {
		return nil
	}
	d.layers = d.layers[:0]
	for d.in.More() {
		d.layers = append(d.layers, Layer{})
		layerTable.read(d, &d.layers[len(d.layers)-1])
	}
	if d.in.Stopped() {
		return nil
	}
	layers := exact(d.layers)
	if depth := (Core{Layers: layers}).DepthMM(); depth > maxBedMM {
		d.in.ReportHere(format(depth)+" mm of layers", "at most 2000 mm in one core")
	}
	if len(layers) > MaxLayers {
		d.in.ReportHere(fmt.Sprint(len(layers), " layers"), fmt.Sprintf("at most %d layers in one core", MaxLayers))
	}
	if len(layers) == 0 {
		d.in.ReportHere("an empty list", "at least one layer")
	}
	return layers
}

// exact copies a list out of the decoder's own memory; nil when it is empty.
func exact[Entry any](list []Entry) []Entry { return append([]Entry(nil), list...) }

// Edge is a boundary as it was traced across a photo's strip.
type Edge struct {
	ErrorMM   float64 // standard error of its mean depth
	HighestMM float64 // the least depth across the strip
	LowestMM  float64 // the greatest
	Contrast  float64 // of the grain of the layer that the edge ends, see [palette.Texture]; 0: not known
	Fineness  float64 // the same
}

var edgeTable = tableOf(checkRelief,
	field("error_mm", always(depthRange), func(e *Edge) *float64 { return &e.ErrorMM }).needed(),
	field("highest_mm", always(reliefRange), func(e *Edge) *float64 { return &e.HighestMM }).needed(),
	field("lowest_mm", always(reliefRange), func(e *Edge) *float64 { return &e.LowestMM }).needed(),
	field("contrast", size(contrastRange), func(e *Edge) *float64 { return &e.Contrast }),
	field("fineness", size(finenessRange), func(e *Edge) *float64 { return &e.Fineness }),
)

func checkRelief(d *Decoder, o jsonio.Object, e *Edge) {
	if d.in.Sound(o) && e.HighestMM > e.LowestMM {
		d.in.ReportField("highest_mm", format(e.HighestMM),
			"at most the lowest_mm of "+format(e.LowestMM)+": depths count downwards")
	}
}
