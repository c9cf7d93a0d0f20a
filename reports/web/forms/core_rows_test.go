package forms

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/site"
)

// Whatever a core holds, its form reads back to the same: as typed, and as browsers change
// it, which keep no line ends in a field of one line.
func TestAmend_formReadsBack(t *testing.T) {
	note := rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", "é", " ", "\n", "\t", "<b>"}), 0, 6).Draw(t, "note"), "")
	})
	rapid.Check(t, func(t *rapid.T) {
		core := layers.Core{Station: "pane", Date: 20000, Sure: true, Photo: &layers.Photo{SHA256: strings.Repeat("ab", 32), ColorDoubt: 3}}
		if rapid.Bool().Draw(t, "by eye") {
			core.Photo = nil
		}
		core.Note, core.Layers = note.Draw(t, "note"), nil
		for range rapid.IntRange(1, 150).Draw(t, "layers") {
			l := layers.Layer{
				ThicknessMM: rapid.Float64Range(0.001, 13).Draw(t, "mm"), Color: palette.Color{R: rapid.Byte().Draw(t, "red")},
				Band: rapid.SampledFrom(append(palette.Bands(), palette.NoBand)).Draw(t, "band"), Note: note.Draw(t, "layer's note"),
			}
			if rapid.Bool().Draw(t, "traced") {
				l.Edge = &layers.Edge{ErrorMM: 1}
			}
			core.Layers = append(core.Layers, l)
		}
		u := rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units")
		s := New(&site.Site{Units: u}, nil)
		h := coreForm{Form: newForm(s.coreTyped(core)), stored: &core}
		for i, text := range h.typed["layer_note"] {
			h.typed["layer_note"][i] = strings.ReplaceAll(text, "\n", "")
		}
		got, _ := s.readCore(h)
		if h.Failed() || !reflect.DeepEqual(got, core) {
			t.Fatalf("%v: %+v became %+v", h.complaints, core, got)
		}
	})
}
