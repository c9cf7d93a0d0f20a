package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// phoneScene is a photo of 12 megapixels, as phones take them, with a strip of 600 by 2500
// pixels that runs from the water down to the foot of the bed.
func phoneScene(t testing.TB) (file []byte, picks Picks, matcher *palette.Matcher) {
	t.Helper()
	const width, height, across = 600, 2500, 4000
	photo := photoOf(t, "easy-01")
	by := across / float64(photo.Truth.Width)
	picks = picksOf(photo.Truth).scaled(by)
	s := &picks.Strip
	s.X, s.Y, s.W, s.H = s.X+(s.W-width)/2, s.Y+s.H-height, width, height
	return enlarged(t, photo.JPEG, by), picks, matcherFor(photo.Truth.NativeTyped)
}

// Reading a strip takes a small part of what the decoded picture does, whatever its size.
func TestRead_memory(t *testing.T) {
	const most = 40 << 20 // bytes allocated in all
	file, picks, matcher := phoneScene(t)
	p := decodedFile(t, file)
	if p.Width*p.Height < 11_900_000 {
		t.Fatalf("%d x %d pixels are no 12 megapixels", p.Width, p.Height)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, err := Read(p, picks, matcher); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	allocated := after.TotalAlloc - before.TotalAlloc
	t.Logf("%.1f MB allocated beyond the decoded picture", float64(allocated)/(1<<20))
	if allocated > most {
		t.Errorf("%.1f MB allocated, want at most %d", float64(allocated)/(1<<20), most>>20)
	}
}

// varved is a strip of so many rows in thin layers alike, which are joined one by one.
func varved(b *testing.B, rows, layers int) *picture.Picture {
	const width, top, grain = 1200, 300, 24 // pixels
	img := image.NewNRGBA(image.Rect(0, 0, width, rows+2*top))
	r := rand.New(rand.NewPCG(1, 2))
	browns := []palette.Color{{R: 110, G: 95, B: 70}, {R: 96, G: 81, B: 60}, {R: 103, G: 87, B: 65}}
	bright := 0
	for y := range rows + 2*top {
		c := palette.Color{R: 190, G: 200, B: 195} // water
		if y >= top {
			c = browns[min((y-top)*layers/rows, layers-1)%len(browns)]
		}
		for x := range width {
			if x%grain == 0 {
				bright = r.IntN(40)
			}
			n := uint8(bright + r.IntN(5))
			img.SetNRGBA(x, y, color.NRGBA{c.R + n, c.G + n, c.B + n, 255})
		}
	}
	var file bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.NoCompression}).Encode(&file, img); err != nil {
		b.Fatal(err)
	}
	return decodedFile(b, file.Bytes())
}

// BenchmarkVarved reads strips of 60 thin layers.
func BenchmarkVarved(b *testing.B) {
	for _, c := range []struct {
		rows  int
		scale float64 // pixels per mm
	}{{2000, 60}, {8000, 60}, {2000, 20}, {8000, 20}} {
		p := varved(b, c.rows, 60)
		surface, foot := 300.0, float64(c.rows)
		picks := Picks{Strip: Box{300, 300, 600, foot}, SurfaceY: &surface, Ruler: Ruler{X1: 100, X2: 100, Y2: foot, LengthMM: foot / c.scale}}
		b.Run(fmt.Sprintf("%d rows, %g px per mm", c.rows, c.scale), func(b *testing.B) {
			for b.Loop() {
				_, _ = Read(p, picks, palette.NewMatcher(nil, nil)) // that it is refused in the end costs the same
			}
		})
	}
}

// BenchmarkRead decodes and reads a photo of 12 megapixels, beside what image/jpeg takes to
// decode the same file in the same run.
func BenchmarkRead(b *testing.B) {
	file, picks, matcher := phoneScene(b)
	var decoding, whole time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := jpeg.Decode(bytes.NewReader(file)); err != nil {
			b.Fatal(err)
		}
		decoding += time.Since(start)
		start = time.Now()
		if _, err := Read(decodedFile(b, file), picks, matcher); err != nil {
			b.Fatal(err)
		}
		whole += time.Since(start)
	}
	b.ReportMetric(decoding.Seconds()*1000/float64(b.N), "ms-image/jpeg")
	b.ReportMetric(whole.Seconds()*1000/float64(b.N), "ms-decode+read")
	b.ReportMetric(whole.Seconds()/decoding.Seconds(), "times-image/jpeg")
}

// BenchmarkRead_area reads strips of half, the whole and twice the width of a decoded photo.
func BenchmarkRead_area(b *testing.B) {
	file, picks, matcher := phoneScene(b)
	p := decodedFile(b, file)
	for _, width := range []float64{300, 600, 1200} {
		b.Run(fmt.Sprintf("%gx2500", width), func(b *testing.B) {
			wide := picks
			wide.Strip.X, wide.Strip.W = picks.Strip.X+(picks.Strip.W-width)/2, width
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Read(p, wide, matcher); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(width*2500), "ns/pixel")
		})
	}
}

// What a keeper's edit of an edge costs, beside reading the strip.
func BenchmarkRecut(b *testing.B) {
	shot := photoOf(b, "middling-02")
	v, err := Look(decodedFile(b, shot.JPEG), picksOf(shot.Truth), matcherFor(shot.Truth.NativeTyped))
	if err != nil {
		b.Fatal(err)
	}
	cuts := cutsOf(v.Reading)
	for b.Loop() {
		if _, err := v.Recut(Cut{}, cuts); err != nil {
			b.Fatal(err)
		}
	}
}
