package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"

	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/programtest"
	"panecore/layers"
	"panecore/palette"
)

// fishRoom is the record of a large fish room: so many tanks, each of 120 cores (two
// stations, monthly for five years) of 6 layers, no two colours alike.
func fishRoom(tb testing.TB, tanks int) []byte {
	rng := rand.New(rand.NewPCG(1, 1))
	shade := func(c uint8) uint8 { return c - 8 + uint8(rng.IntN(17)) }
	column := []layers.Layer{
		{ThicknessMM: 5, Color: palette.Color{R: 0x7c, G: 0x59, B: 0x3a}}, {ThicknessMM: 6, Color: palette.Color{R: 0x54, G: 0x45, B: 0x35}},
		{ThicknessMM: 4, Color: palette.Color{R: 0xa1, G: 0x6f, B: 0x3f}}, {ThicknessMM: 20, Color: palette.Color{R: 0x40, G: 0x3c, B: 0x33}},
		{ThicknessMM: 15, Color: palette.Color{R: 0x7e, G: 0x79, B: 0x6d}}, {ThicknessMM: 50, Color: palette.Color{R: 0xd6, G: 0xc6, B: 0xaf}},
	}
	records := make([]layers.Tank, tanks)
	for i := range records {
		tank := layers.Tank{ID: fmt.Sprintf("tank-%04d", i), SetUp: layers.FirstDate, Flow: layers.Livestock}
		for month := range 60 {
			for _, station := range []string{"front", "left"} {
				core := layers.Core{Date: layers.FirstDate + layers.Date(30*month), Station: station}
				for _, layer := range column {
					layer.ThicknessMM += float64(rng.IntN(3))
					c := layer.Color
					layer.Color = palette.Color{R: shade(c.R), G: shade(c.G), B: shade(c.B)}
					core.Layers = append(core.Layers, layer)
				}
				core.Layers[0].ThicknessMM += float64(month / 2)
				tank.Cores = append(tank.Cores, core)
			}
		}
		records[i] = tank
	}
	var document bytes.Buffer
	if err := layers.Encode(&document, records); err != nil {
		tb.Fatal(err)
	}
	return document.Bytes()
}

// BenchmarkInterpret is the whole job on a large fish room, beside what encoding/json
// takes to decode the same document into plain structs.
func BenchmarkInterpret(b *testing.B) {
	document := fishRoom(b, 1000)
	b.Run("1000 tanks", func(b *testing.B) {
		b.SetBytes(int64(len(document)))
		b.ReportAllocs()
		for b.Loop() {
			w := programtest.NewWorld(nil)
			w.Stdin, w.Stdout = bytes.NewReader(document), io.Discard
			if code := cli.Run(context.Background(), w.Env, []string{"interpret", "--json", "-"}); code != 0 {
				b.Fatal(code, w.Told.String())
			}
		}
	})
	b.Run("encoding json", func(b *testing.B) {
		b.SetBytes(int64(len(document)))
		for b.Loop() {
			var plain struct {
				Tanks []struct {
					ID    string
					Cores []struct {
						Date, Station string
						Layers        []struct {
							ThicknessMM float64 `json:"thickness_mm"`
							Hex         string
						}
					}
				}
			}
			if err := json.Unmarshal(document, &plain); err != nil || len(plain.Tanks) != 1000 {
				b.Fatal(len(plain.Tanks), err)
			}
		}
	})
}
