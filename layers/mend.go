package layers

import (
	"fmt"
	"reflect"
	"slices"
)

// The functions below put a slip of typing right. They leave the list that they are given
// as it is. What they give has no edges, because those were traced where the layers no longer
// lie, and its thicknesses are as fine as typed ones, a millionth of a mm.

// TurnedOver is a list of layers from its last to its first: one that was typed from the floor
// up.
func TurnedOver(list []Layer) []Layer {
	turned := untraced(list)
	slices.Reverse(turned)
	return turned
}

// Scaled is a list of layers factor times as thick, as where cm were typed for mm. What comes
// out may be thicker than a layer can be, or of no thickness at all: what range it must lie in
// is for the caller to say.
func Scaled(list []Layer, factor float64) []Layer {
	scaled := untraced(list)
	for i := range scaled {
		scaled[i].ThicknessMM = settled(scaled[i].ThicknessMM * factor)
	}
	return scaled
}

// FromDepths is a list of layers whose thicknesses were typed as depths: those of their lower
// edges below the bed surface, in mm. An error is a [Fault] of the first layer, counted from 1,
// whose depth is no deeper than the one above it.
func FromDepths(list []Layer) ([]Layer, error) {
	thick := untraced(list)
	var above float64
	for i, l := range list {
		thick[i].ThicknessMM = settled(l.ThicknessMM - above)
		if thick[i].ThicknessMM <= 0 {
			return nil, Fault{Where: fmt.Sprintf("layer %d", i+1), Found: format(l.ThicknessMM) + " mm", Want: "more than the " + format(above) + " mm of the layer above: depths count down from the bed surface"}
		}
		above = l.ThicknessMM
	}
	return thick, nil
}

// untraced is a copy of a list of layers without their edges.
func untraced(list []Layer) []Layer {
	list = slices.Clone(list)
	for i := range list {
		list[i].Edge = nil
	}
	return list
}

// StaysSure reports whether the keeper was sure of former and what was said of it holds for c
// too: it tells the same layers of the same place and day.
func (c Core) StaysSure(former Core) bool {
	return former.Sure && c.Station == former.Station && c.Date == former.Date && reflect.DeepEqual(c.Layers, former.Layers)
}
