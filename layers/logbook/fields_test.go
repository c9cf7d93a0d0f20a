package logbook

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// fillTyped gives every field of a record that is typed, and is not given yet, a value that its
// kind takes.
func fillTyped[R any](t *testing.T, r *R, fields []layers.Field[R]) {
	t.Helper()
	for _, f := range fields {
		if !f.Typed() || f.Given(r) {
			continue
		}
		for _, text := range slices.Concat(f.Choices, []string{"7", "25%", "20C", "20mm", "2026-11-05", "07:30", "x"}) {
			if (f.Input != layers.InputClock || strings.Contains(text, ":")) && f.Parse(r, text) == nil {
				break
			}
		}
		if !f.Given(r) {
			t.Fatalf("found no text that field %s takes", f.Name)
		}
	}
}

// fullTank has a value in every field of its own and of each of its entries.
func fullTank(t *testing.T) layers.Tank {
	t.Helper()
	edge := layers.Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}
	core := layers.Core{
		Signs: []layers.Sign{layers.GasBubbles}, Sure: true,
		Layers: []layers.Layer{{ThicknessMM: 12, Color: palette.Color{R: 1}, Band: palette.Rust, Note: "x", Edge: &edge}},
		Photo: &layers.Photo{SHA256: sumOf(shotOf(1)), ColorDoubt: 4, Light: palette.Light{EV: 0.3, EVDoubt: 0.4, Veil: 0.02, VeilDoubt: 0.02},
			ScaleError: 0.004, Surface: edge, Unreliable: true},
	}
	tank := layers.Tank{
		Vessel: &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280},
		Native: []layers.Native{{Name: "pale", Kind: layers.Sand, Color: palette.Color{R: 2}, ThicknessMM: 60}},
		Limits: layers.Limits{layers.LimitMulm: 60},
		Cores:  []layers.Core{core}, Water: make([]layers.WaterTest, 1), Events: make([]layers.Event, 1),
	}
	fillTyped(t, &tank, layers.TankFields())
	fillTyped(t, &tank.Cores[0], layers.CoreFields())
	fillTyped(t, &tank.Water[0], layers.WaterFields())
	fillTyped(t, &tank.Events[0], layers.EventFields())
	return tank
}

// Every field of every record is stored, read back, exported and imported again.
func TestBook_everyField(t *testing.T) {
	ctx := context.Background()
	b, want := newBook(t), fullTank(t)
	if err := b.AddTank(ctx, noon, want); err != nil {
		t.Fatal(err)
	}
	stored, err := b.Tank(ctx, want.ID)
	if err != nil || !reflect.DeepEqual(stored, want) {
		t.Errorf("stored %+v, %v, want %+v", stored, err, want)
	}
	document := export(t, b)
	exported, err := layers.Decode(strings.NewReader(document), today)
	if err != nil || !reflect.DeepEqual(exported, []layers.Tank{want}) {
		t.Errorf("exported %+v, %v, want %+v", exported, err, want)
	}
	again := newBook(t)
	if _, err := again.Import(ctx, noon, exported, false); err != nil {
		t.Fatal(err)
	}
	if got := export(t, again); got != document {
		t.Errorf("imported\n%s\nwant\n%s", got, document)
	}
	for _, tank := range []layers.Tank{want, {ID: want.ID}} { // and it can be taken back to "not given"
		tank.Cores, tank.Water, tank.Events = nil, nil, nil
		if err := b.EditTank(ctx, noon, tank); err != nil {
			t.Fatal(err)
		}
		got, err := b.Tank(ctx, want.ID)
		got.Cores, got.Water, got.Events = nil, nil, nil
		if err != nil || !reflect.DeepEqual(got, tank) {
			t.Errorf("edited %+v, %v, want %+v", got, err, tank)
		}
	}
}
