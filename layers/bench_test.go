package layers

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"

	"panecore/palette"
)

// largeDocument is the record of a large fish room: so many tanks, each of 120
// cores of 6 layers (ten years of monthly readings at one station).
func largeDocument(tb testing.TB, tanks int) []byte {
	colors := []palette.Color{{R: 0x8b, G: 0x5e, B: 0x3c}, {R: 0x5a, G: 0x3d, B: 0x28}, {R: 0xb4, G: 0x55, B: 0x2a},
		{R: 0x1f, G: 0x1d, B: 0x1b}, {R: 0x80, G: 0x80, B: 0x7c}, {R: 0xd9, G: 0xcb, B: 0xa6}}
	records := make([]Tank, tanks)
	for i := range records {
		tank := Tank{ID: fmt.Sprintf("tank-%04d", i), SetUp: FirstDate, Flow: Still}
		for month := range 120 {
			core := Core{Date: FirstDate + Date(30*month), Station: "front", Lit: new(bool)}
			for l, color := range colors {
				core.Layers = append(core.Layers, Layer{ThicknessMM: 4 + float64((i+month+l)%97)/10, Color: color})
			}
			tank.Cores = append(tank.Cores, core)
		}
		records[i] = tank
	}
	var document bytes.Buffer
	if err := Encode(&document, records); err != nil {
		tb.Fatal(err)
	}
	return document.Bytes()
}

func BenchmarkDecode(b *testing.B) {
	document := largeDocument(b, 1000)
	b.SetBytes(int64(len(document)))
	b.ReportAllocs()
	for b.Loop() {
		d := NewDecoder(bytes.NewReader(document), today)
		layers := 0
		for tank := range d.Tanks() {
			for _, core := range tank.Cores {
				layers += len(core.Layers)
			}
		}
		if d.Err() != nil || layers != 1000*120*6 {
			b.Fatal(layers, d.Err())
		}
	}
}

// BenchmarkEncodingJSON decodes the same document into plain structs, checking nothing.
func BenchmarkEncodingJSON(b *testing.B) {
	document := largeDocument(b, 1000)
	b.SetBytes(int64(len(document)))
	b.ReportAllocs()
	for b.Loop() {
		var plain struct {
			Format string
			Tanks  []struct {
				ID    string
				SetUp string `json:"set_up"`
				Flow  string
				Cores []struct {
					Date, Station string
					Lit           *bool
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
}

func BenchmarkEncode(b *testing.B) {
	tanks, err := Decode(bytes.NewReader(largeDocument(b, 100)), today)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var document bytes.Buffer
		if err := Encode(&document, tanks); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(document.Len()))
	}
}
