package picture

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"testing"
)

// photo is a 12-megapixel JPEG of gravel: grains of many browns, with noise.
func photo(b *testing.B) []byte {
	img := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	r := rand.New(rand.NewPCG(1, 2))
	var grain uint8
	for i := range img.Y {
		if i%8 == 0 {
			grain = uint8(60 + r.IntN(120))
		}
		img.Y[i] = grain + uint8(r.IntN(12))
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 110, 140
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, &jpeg.Options{Quality: 92}); err != nil {
		b.Fatal(err)
	}
	return file.Bytes()
}

func BenchmarkDecode(b *testing.B) {
	data := photo(b)
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Decode(data); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("image/jpeg", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkRow(b *testing.B) {
	p, err := Decode(photo(b))
	if err != nil {
		b.Fatal(err)
	}
	for name, o := range map[string]orientation{"upright": 1, "mirrored": 2, "turned": 6} {
		turned := *p
		turned.orientation = o
		if o.turned() {
			turned.Width, turned.Height = p.Height, p.Width
		}
		b.Run(name, func(b *testing.B) {
			row := make([]Light, 600)
			y := 0
			for b.Loop() {
				turned.Row(row, 1000, y)
				y = (y + 1) % turned.Height
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(row)), "ns/pixel")
		})
	}
}
