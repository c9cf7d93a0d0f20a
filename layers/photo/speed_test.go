package photo

import (
	"os"
	"testing"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

func BenchmarkBig(b *testing.B) {
	data, err := os.ReadFile("/tmp/big.jpg")
	if err != nil {
		b.Skip()
	}
	y := 728.333
	nc, _ := palette.ParseColor("#686b75")
	m := palette.NewMatcher([]palette.Baseline{{Kind: "x", Color: nc}}, nil)
	p, _ := picture.Decode(data)
	picks := Picks{Strip: Box{911.667, 430, 600, 2500}, SurfaceY: &y, Ruler: Ruler{425, 316.5, 424.167, 2348.67, 70}, Neutral: []Card{{Box: Box{3331.67, 1055, 398.333, 273.333}}}}
	b.Run("decode", func(b *testing.B) {
		for b.Loop() {
			picture.Decode(data)
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			Read(p, picks, m)
		}
	})
}
