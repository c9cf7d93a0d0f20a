package testscene

import (
	"bytes"
	"image/jpeg"
	"math"
	"slices"
	"sync"
	"testing"

	"panecore/palette"
)

func TestScenes_list(t *testing.T) {
	count := map[Difficulty]int{}
	bands, kinds := map[Difficulty]map[palette.Band]bool{}, map[string]bool{}
	var inWater, atSurface, rolled int
	orientations, names, seeds := map[int]bool{}, map[string]bool{}, map[uint64]bool{}
	for _, s := range Scenes() {
		if names[s.Name] || seeds[s.Seed] {
			t.Errorf("%s: its name or seed stands twice in the list", s.Name)
		}
		names[s.Name], seeds[s.Seed] = true, true
		count[s.Difficulty]++
		if s.Flaw != NoFlaw {
			continue
		}
		kinds[s.Native.Kind], orientations[s.Orientation] = true, true
		if bands[s.Difficulty] == nil {
			bands[s.Difficulty] = map[palette.Band]bool{}
		}
		for _, l := range s.Layers {
			bands[s.Difficulty][l.Band] = true
		}
		if s.Strip.AboveMM > 0 {
			inWater++
		} else {
			atSurface++
		}
		if s.RollDeg != 0 {
			rolled++
		}
		if math.Abs(s.RollDeg) > 5 || s.PxPerMM < 8 || s.PxPerMM > 20 {
			t.Errorf("%s: roll %.1f°, %.1f px/mm", s.Name, s.RollDeg, s.PxPerMM)
		}
	}
	for _, want := range []struct {
		Difficulty
		least int
	}{{Easy, 24}, {Middling, 24}, {Hard, 16}, {Unreadable, 8}} {
		if count[want.Difficulty] < want.least {
			t.Errorf("%d %s scenes, want %d", count[want.Difficulty], want.Difficulty, want.least)
		}
		for _, b := range palette.Bands() {
			if want.Difficulty != Unreadable && b != palette.Unknown && !bands[want.Difficulty][b] {
				t.Errorf("no %s scene has %v", want.Difficulty, b)
			}
		}
	}
	for _, k := range []string{"sand", "gravel", "clay", "soil", "granules"} {
		if !kinds[k] {
			t.Errorf("no bed of %s", k)
		}
	}
	for _, o := range []int{1, 3, 6, 8} {
		if !orientations[o] {
			t.Errorf("no picture of orientation %d", o)
		}
	}
	if inWater < 10 || atSurface < 10 || rolled < 6 {
		t.Errorf("%d strips begin in the water, %d at the surface; %d are rolled", inWater, atSurface, rolled)
	}
}

// rendered are the photos of the scenes by name, each rendered when it is first asked for.
var rendered = sync.OnceValue(func() map[string]func() Photo {
	photos := map[string]func() Photo{}
	for _, s := range Scenes() {
		photos[s.Name] = sync.OnceValue(s.Render)
	}
	return photos
})

// few are the scenes of the names, which stand for the list where rendering all would take long;
// under -short the first of them alone.
func few(t *testing.T, names ...string) []Scene {
	t.Helper()
	if testing.Short() && len(names) > 1 {
		t.Logf("skipped: %v, which take a second each to render; run without -short", names[1:])
		names = names[:1]
	}
	var out []Scene
	for _, s := range Scenes() {
		if slices.Contains(names, s.Name) {
			out = append(out, s)
		}
	}
	if len(out) != len(names) {
		t.Fatalf("%d of the scenes %v are in the list", len(out), names)
	}
	return out
}

func TestRender_truth(t *testing.T) {
	for _, s := range few(t, "hard-14", "easy-01", "easy-14", "middling-03", "unreadable-01") {
		photo := rendered()[s.Name]()
		truth := photo.Truth
		stored, err := jpeg.DecodeConfig(bytes.NewReader(photo.JPEG))
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		if s.Orientation >= 5 { // stored lying on its side
			stored.Width, stored.Height = stored.Height, stored.Width
		}
		if stored.Width != truth.Width || stored.Height != truth.Height {
			t.Errorf("%s: the file is %d x %d upright, the truth says %d x %d", s.Name, stored.Width, stored.Height, truth.Width, truth.Height)
		}
		within(t, s.Name+": strip", truth.Strip, truth)
		within(t, s.Name+": card", truth.Neutral, truth)
		length := math.Hypot(truth.Ruler[2]-truth.Ruler[0], truth.Ruler[3]-truth.Ruler[1])
		if off := length/truth.RulerMM/truth.PxPerMM - 1; math.Abs(off) > 0.02 {
			t.Errorf("%s: the ruler's picks are %.1f %% off the scale", s.Name, 100*off)
		}
		if off := palette.Difference(truth.Native.Lab(), truth.NativeTyped.Lab()); off < 2 || off > 4 {
			t.Errorf("%s: the native colour is typed %.1f off", s.Name, off)
		}
		if s.Flaw == NoFlaw {
			checkLayers(t, s, truth)
		}
	}
}

func within(t *testing.T, what string, box [4]float64, truth Truth) {
	t.Helper()
	if box[0] < 0 || box[1] < 0 || box[2] <= 0 || box[3] <= 0 || box[0]+box[2] > float64(truth.Width) || box[1]+box[3] > float64(truth.Height) {
		t.Errorf("%s: %v reaches outside of %d x %d", what, box, truth.Width, truth.Height)
	}
}

// checkLayers checks that the layers add up and stand in order, and that they came out
// as they were laid.
func checkLayers(t *testing.T, s Scene, truth Truth) {
	t.Helper()
	if len(truth.Layers) != len(s.Layers) {
		t.Fatalf("%s: %d layers, %d were laid", s.Name, len(truth.Layers), len(s.Layers))
	}
	var sum, mulm float64
	for i, l := range truth.Layers {
		if math.Abs(l.TopMM-sum) > 1e-6 {
			t.Errorf("%s: layer %d begins at %.3f mm, those above end at %.3f", s.Name, i, l.TopMM, sum)
		}
		if l.MinMM > l.TopMM || l.TopMM > l.MaxMM || l.Thinnest > l.ThicknessMM || l.ThicknessMM > l.Thickest {
			t.Errorf("%s: layer %d: a mean lies outside of its range: %+v", s.Name, i, l)
		}
		if laid := s.Layers[i]; i < len(s.Layers)-1 && math.Abs(l.ThicknessMM-laid.MM) > 1+s.WaveMM {
			t.Errorf("%s: layer %d is %.1f mm thick, laid %.1f", s.Name, i, l.ThicknessMM, laid.MM)
		}
		if off := palette.Difference(l.Color.Lab(), s.Layers[i].Color.Lab()); off > 8 {
			t.Errorf("%s: %v came out as %v, laid as %v", s.Name, l.Band, l.Color, s.Layers[i].Color)
		}
		if l.Band.IsMulm() {
			mulm += l.ThicknessMM
		}
		sum += l.ThicknessMM
	}
	if math.Abs(sum-truth.DepthMM) > 1e-6 {
		t.Errorf("%s: the layers add up to %.3f mm of %.3f", s.Name, sum, truth.DepthMM)
	}
	if mulm != truth.MulmMM {
		t.Errorf("%s: mulm %.3f mm, its layers %.3f", s.Name, truth.MulmMM, mulm)
	}
}

func TestDepths_oxic(t *testing.T) {
	truthOf := func(bands ...palette.Band) Truth {
		var truth Truth
		for i, b := range bands {
			truth.Layers = append(truth.Layers, Layer{Band: b, TopMM: 10 * float64(i), ThicknessMM: 10})
		}
		truth.depths()
		return truth
	}
	for _, c := range []struct {
		bands []palette.Band
		want  float64
	}{
		{[]palette.Band{palette.MulmDark, palette.Native, palette.Rust, palette.Black, palette.Native}, 30},
		{[]palette.Band{palette.Native, palette.Grey, palette.Black}, 10},
		{[]palette.Band{palette.Rust, palette.Native, palette.Rust, palette.Black}, 10},
	} {
		if got := truthOf(c.bands...).OxicMM; got == nil || *got != c.want {
			t.Errorf("%v: oxic depth %v, want %v", c.bands, got, c.want)
		}
	}
	if got := truthOf(palette.MulmLight, palette.Native).OxicMM; got != nil {
		t.Errorf("no rust and nothing reduced: oxic depth %v, want none", *got)
	}
}

// Two renders side by side, too, give the same bytes.
func TestRender_sameBytes(t *testing.T) {
	for _, s := range few(t, "middling-03", "hard-14") {
		other := make(chan []byte)
		go func() { other <- s.Render().JPEG }()
		if !bytes.Equal(s.Render().JPEG, <-other) {
			t.Errorf("%s: two renders differ", s.Name)
		}
	}
}
