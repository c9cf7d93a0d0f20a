package layers

import (
	"fmt"

	"slices"

	"panecore/palette"
)

// Native is a substrate as it was laid: what its colour was on set-up day.
type Native struct {
	Name        string
	Kind        Kind
	Color       palette.Color
	ThicknessMM float64 // zero: not given
}

var nativeTable = tableOf(nil,
	field("name", labelKind(), func(n *Native) *string { return &n.Name }),
	field("kind", oneWord(kinds), func(n *Native) *Kind { return &n.Kind }).needed(),
	field("hex", colorKind(), func(n *Native) *palette.Color { return &n.Color }).needed(),
	field("thickness_mm", size(thicknessRange), func(n *Native) *float64 { return &n.ThicknessMM }),
)

// Kind is the sort of a native substrate.
type Kind string

// The kinds of native substrate.
const (
	Sand     Kind = "sand"
	Gravel   Kind = "gravel"
	Clay     Kind = "clay"
	Soil     Kind = "soil"
	Granules Kind = "granules"
)

var kinds = []Kind{Sand, Gravel, Clay, Soil, Granules}

// Kinds lists the kinds of native substrate.
func Kinds() []Kind { return slices.Clone(kinds) }

// MaxNative is how many native substrates a tank can have (assumption: more than anybody lays). Every layer
// is compared with each of them.
const MaxNative = 50

func (d *Decoder) checkNative(index int) {
	if n := len(d.tank.Native); n > MaxNative {
		d.in.Report(fmt.Sprintf("/tanks/%d/native", index), fmt.Sprint(n, " substrates"), fmt.Sprintf("at most %d in one tank", MaxNative))
	}
}
