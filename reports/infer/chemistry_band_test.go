package infer

import (
	"testing"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
)

// Every band has its place in the physics: steps count as their material, overlays as what
// lies above them.
func TestPile_everyBand(t *testing.T) {
	want := map[palette.Material]bed.Material{
		palette.Detritus: bed.SettledMulm, palette.IronOxide: bed.RustFront, palette.IronSulphide: bed.BlackReduced, palette.Gley: bed.GreyReduced,
		palette.Substrate: bed.Sand, palette.Film: bed.RustFront, palette.Mat: bed.RustFront,
	}
	var draw WaterDraw
	for m := range draw.materials {
		draw.materials[m].Porosity = float64(m) // tells them apart
	}
	for _, band := range palette.Bands() {
		material, ok := want[band.Material()]
		if !ok {
			t.Errorf("%s has no place in the physics", band)
		}
		r := &Reading{Names: []palette.Band{palette.Rust, band}, Edges: []float64{0, 5, 5 + 1000*bed.LooseDepth/bed.Millimeter}, Core: layers.Core{Layers: make([]layers.Layer, 2)}}
		d := &Drawer{Reading: r, Names: r.Names, edges: r.Edges}
		d.Stood = d
		stack := (&station{Drawer: d, native: bed.Sand}).pile(&draw)
		if got := bed.Material(stack[len(stack)-1].Porosity); got != material {
			t.Errorf("%s counts as %v, want %v", band, got, material)
		}
	}
}
