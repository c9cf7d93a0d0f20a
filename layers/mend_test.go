package layers

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// anyTypedLayers draws layers as thin and as fine as they are typed, some of them traced.
func anyTypedLayers(t *rapid.T) []Layer {
	list := rapid.SliceOfN(rapid.Custom(anyLayer), 0, 6).Draw(t, "layers")
	for i := range list {
		list[i].ThicknessMM = settled(list[i].ThicknessMM + 0.001)
	}
	return list
}

// unharmed runs a function on layers and checks that it leaves them as they are and gives as
// many, which have no edges.
func unharmed(t *rapid.T, list []Layer, mend func([]Layer) []Layer) []Layer {
	before := slices.Clone(list)
	mended := mend(list)
	if !reflect.DeepEqual(list, before) {
		t.Fatalf("changed %+v to %+v", before, list)
	}
	if len(mended) != len(list) || slices.ContainsFunc(mended, func(l Layer) bool { return l.Edge != nil }) {
		t.Fatalf("got %+v of %+v", mended, list)
	}
	return mended
}

// checkDepth holds the depth of layers to another, within a millionth of a mm a layer.
func checkDepth(t *rapid.T, list []Layer, want float64) {
	if got := (Core{Layers: list}).DepthMM(); math.Abs(got-want) > 1e-6*float64(len(list)+1) {
		t.Fatalf("got %v mm of layers, want %v", got, want)
	}
}

func TestTurnedOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.Custom(anyTypedLayers).Draw(t, "list")
		turned := unharmed(t, list, TurnedOver)
		checkDepth(t, turned, Core{Layers: list}.DepthMM())
		if again := unharmed(t, turned, TurnedOver); !reflect.DeepEqual(again, untraced(list)) {
			t.Fatalf("turned twice: %+v, want %+v", again, list)
		}
		if n := len(list); n > 0 && turned[0].Color != list[n-1].Color {
			t.Fatalf("got %+v on top, want %+v", turned[0], list[n-1])
		}
	})
}

func TestScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.Custom(anyTypedLayers).Draw(t, "list")
		factor := rapid.SampledFrom([]float64{0.1, 0.5, 1, 2.54, 10}).Draw(t, "factor")
		scaled := unharmed(t, list, func(list []Layer) []Layer { return Scaled(list, factor) })
		checkDepth(t, scaled, factor*Core{Layers: list}.DepthMM())
		for i, l := range scaled {
			l.ThicknessMM = list[i].ThicknessMM
			if !reflect.DeepEqual(l, untraced(list)[i]) {
				t.Fatalf("got %+v, want nothing but the thickness of %+v changed", l, list[i])
			}
		}
		if back := Scaled(Scaled(list, 10), 0.1); !reflect.DeepEqual(back, untraced(list)) {
			t.Fatalf("ten times and a tenth: %+v, want %+v", back, list)
		}
	})
}

// What is typed in tenths comes out in hundredths, to the last digit.
func TestScaled_digits(t *testing.T) {
	got := Scaled([]Layer{{ThicknessMM: 12}, {ThicknessMM: 4.7}}, 0.1)
	if want := []Layer{{ThicknessMM: 1.2}, {ThicknessMM: 0.47}}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// The running sums of thicknesses are depths, from which the thicknesses come again.
func TestFromDepths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.Custom(anyTypedLayers).Draw(t, "list")
		depths := slices.Clone(list)
		for i := range depths {
			depths[i].ThicknessMM = Core{Layers: list[:i+1]}.DepthMM()
		}
		thick := unharmed(t, depths, func(list []Layer) []Layer {
			thick, err := FromDepths(list)
			if err != nil {
				t.Fatal(err)
			}
			return thick
		})
		if !reflect.DeepEqual(thick, untraced(list)) {
			t.Fatalf("got %+v, want %+v", thick, list)
		}
		checkDepth(t, thick, Core{Layers: list}.DepthMM())
	})
}

func TestFromDepths_refused(t *testing.T) {
	for want, depths := range map[string][]float64{
		"layer 2: found 12 mm, want more than the 12 mm of the layer above: depths count down from the bed surface":       {12, 12, 60},
		"layer 3: found 15.5 mm, want more than the 16 mm of the layer above: depths count down from the bed surface":     {12, 16, 15.5},
		"layer 1: found 0 mm, want more than the 0 mm of the layer above: depths count down from the bed surface":         {0},
		"layer 2: found 5.0000001 mm, want more than the 5 mm of the layer above: depths count down from the bed surface": {5, 5.0000001},
	} {
		var list []Layer
		for _, mm := range depths {
			list = append(list, Layer{ThicknessMM: mm})
		}
		if got, err := FromDepths(list); got != nil || err == nil || err.Error() != want {
			t.Errorf("got %v, %v, want %s", got, err, want)
		}
	}
}

func TestCore_StaysSure(t *testing.T) {
	former := photoCore()
	if photoCore().StaysSure(former) {
		t.Error("sure of a core of which nobody was asked")
	}
	former.Sure = true
	for name, test := range map[string]struct {
		change func(*Core)
		want   bool
	}{
		"the same":        {func(*Core) {}, true},
		"another note":    {func(c *Core) { c.Note = "after the weekend" }, true},
		"other signs":     {func(c *Core) { c.Signs = []Sign{GasBubbles} }, true},
		"another day":     {func(c *Core) { c.Date-- }, false},
		"another station": {func(c *Core) { c.Station = "left" }, false},
		"another name":    {func(c *Core) { c.Layers[1].Band = 1 }, false},
		"another edge":    {func(c *Core) { c.Layers[0].Edge.ErrorMM++ }, false},
		"a layer less":    {func(c *Core) { c.Layers = c.Layers[:1] }, false},
	} {
		core := photoCore()
		if test.change(&core); core.StaysSure(former) != test.want {
			t.Errorf("%s: got %t", name, !test.want)
		}
	}
}
