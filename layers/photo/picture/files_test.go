package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The files were written by other programs, which its README.md names.
const folder = "../../../testdata/pictures"

func readFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func decodeFile(t testing.TB, name string) *Picture {
	t.Helper()
	p, err := Decode(readFile(t, name))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

// pixelsOf reads the pixels that other programs made of a file, as they stand in a PNG, or
// in a PPM or PGM of 16 bits.
func pixelsOf(t *testing.T, name string) image.Image {
	t.Helper()
	data := readFile(t, name)
	if filepath.Ext(name) == ".png" {
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	channels := map[string]int{".ppm": 3, ".pgm": 1}[filepath.Ext(name)]
	img := image.NewRGBA64(image.Rect(0, 0, 45, 37))
	words := data[len(data)-2*45*37*channels:]
	word := func(i int) uint16 { return uint16(words[2*i])<<8 | uint16(words[2*i+1]) }
	for i := range 45 * 37 {
		at := i * channels
		img.SetRGBA64(i%45, i/45, color.RGBA64{word(at), word(at + channels/2), word(at + channels/2*2), 0xffff})
	}
	return img
}

// Each file holds the picture of a truth: what djpeg, dwebp and ImageMagick made of the
// same file, or the picture before it was packed without loss. Tolerances are in steps of
// 8 bits. Decoders round luma and the differences of colour each by themselves: a step in
// each comes to 3 of blue. 0 is the same light to the last bit.
var variants = []struct {
	file, truth string
	tolerance   int
}{
	{"baseline-444.jpg", "truth/baseline-444.jpg.png", 3},
	{"baseline-422.jpg", "truth/baseline-422.jpg.png", 3},
	{"baseline-420.jpg", "truth/baseline-420.jpg.png", 3},
	{"baseline-440.jpg", "truth/baseline-440.jpg.png", 3},
	{"baseline-411.jpg", "truth/baseline-411.jpg.png", 3},
	{"progressive-444.jpg", "truth/baseline-444.jpg.png", 3},
	{"progressive-420.jpg", "truth/baseline-420.jpg.png", 3},
	{"progressive-restart-444.jpg", "truth/baseline-444.jpg.png", 3},
	{"restart-420.jpg", "truth/baseline-420.jpg.png", 3},
	{"grey.jpg", "truth/grey.jpg.png", 3},
	{"rgb.jpg", "truth/rgb.jpg.png", 3},
	{"cmyk.jpg", "truth/cmyk.jpg.png", 3},
	{"source.png", "source.png", 0},
	{"interlaced.png", "source.png", 0},
	{"palette.png", "truth/palette.png.png", 0},
	{"grey.png", "grey.png", 0},
	{"bilevel.png", "truth/bilevel.png.png", 0},
	{"alpha.png", "source.png", 0},
	{"deep.png", "truth/deep.ppm", 0},
	{"deep-grey.png", "truth/deep-grey.pgm", 0},
	{"lossy.webp", "truth/lossy.webp.png", 2},
	{"alpha.webp", "truth/alpha.webp.png", 2},
	{"lossless.webp", "source.png", 0},
	{"none.tif", "source.png", 0},
	{"big-endian.tif", "source.png", 0},
	{"lzw.tif", "source.png", 0},
	{"lzw-predictor.tif", "source.png", 0},
	{"deflate.tif", "source.png", 0},
	{"deflate-predictor.tif", "source.png", 0},
	{"packbits.tif", "source.png", 0},
	{"tiled.tif", "source.png", 0},
	{"palette.tif", "truth/palette.png.png", 0},
	{"grey.tif", "grey.png", 0},
	{"deep.tif", "truth/deep.ppm", 0},
	// Truths of ImageMagick's -auto-orient.
	{"orientation-1.jpg", "truth/orientation-1.jpg.png", 3},
	{"orientation-2.jpg", "truth/orientation-2.jpg.png", 3},
	{"orientation-3.jpg", "truth/orientation-3.jpg.png", 3},
	{"orientation-4.jpg", "truth/orientation-4.jpg.png", 3},
	{"orientation-5.jpg", "truth/orientation-5.jpg.png", 3},
	{"orientation-6.jpg", "truth/orientation-6.jpg.png", 3},
	{"orientation-7.jpg", "truth/orientation-7.jpg.png", 3},
	{"orientation-8.jpg", "truth/orientation-8.jpg.png", 3},
	{"orientation-6.png", "truth/orientation-6.png.png", 0},
	{"orientation-6.tif", "truth/orientation-6.png.png", 0},
	{"orientation-6.webp", "truth/orientation-6.png.png", 0},
	// Truths of another build of libheif. It smooths thinned colours, as nothing here does.
	{"rgb.heic", "truth/rgb.heic.png", 0},
	{"444.heic", "truth/444.heic.png", 3},
	{"alpha.heic", "truth/alpha.heic.png", 3},
	{"grey.heic", "truth/grey.heic.png", 3},
	{"420.heic", "truth/420.heic.png", 5},
	{"422.heic", "truth/422.heic.png", 3},
	{"orientation-5.heic", "truth/orientation-5.heic.png", 3},
	{"orientation-6.heic", "truth/orientation-6.heic.png", 3},
}

func TestDecode_variants(t *testing.T) {
	long := newLongRamp(nil)
	for _, v := range variants {
		p, codes := decodeFile(t, v.file), pixelsOf(t, v.truth)
		if want := codes.Bounds().Size(); p.Width != want.X || p.Height != want.Y {
			t.Errorf("%s: found %d x %d pixels, want %v", v.file, p.Width, p.Height, want)
			continue
		}
		worst := 0.
		row := make([]Light, p.Width)
		for y := range p.Height {
			p.Row(row, 0, y)
			for x, got := range row {
				r, g, b, _ := codes.At(x, y).RGBA()
				for i, code := range []uint32{r, g, b} {
					if v.tolerance == 0 && got[i] != long[code] {
						t.Errorf("%s: found light %d at %d, %d, want %d", v.file, got[i], x, y, long[code])
					}
					worst = max(worst, steps(got[i], code))
				}
			}
		}
		if worst > float64(v.tolerance)+0.05 { // light is rounded too
			t.Errorf("%s: off by up to %.1f steps of 8 bits, want at most %d", v.file, worst, v.tolerance)
		}
	}
}

// steps is how far light is from that of a 16-bit code, in steps of 8 bits.
func steps(light uint16, code uint32) float64 {
	v := float64(light) / full
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return math.Abs(v*255 - float64(code)/257)
}

func TestDecode_format(t *testing.T) {
	for _, v := range variants {
		want := map[string]string{".jpg": "jpeg", ".png": "png", ".webp": "webp", ".tif": "tiff", ".heic": "heic"}[filepath.Ext(v.file)]
		if got := decodeFile(t, v.file).Format; got != want {
			t.Errorf("%s: got format %q, want %q", v.file, got, want)
		}
	}
}

func TestDecode_taken(t *testing.T) {
	for name, want := range map[string]string{
		"orientation-1.jpg":  "2026-11-01",
		"orientation-6.png":  "2026-11-01",
		"orientation-6.webp": "2026-11-01",
		"orientation-6.heic": "2026-11-01",
		"dated.tif":          "2026-11-02", // DateTime alone
		"source.png":         "",
		"lossy.webp":         "",
		"baseline-420.jpg":   "",
		"lzw.tif":            "",
	} {
		if got := decodeFile(t, name).Taken; got != want {
			t.Errorf("%s: got date %q, want %q", name, got, want)
		}
	}
}

func TestDecode_refused(t *testing.T) {
	for name, want := range map[string]string{
		"animated.webp":  "found an animated WebP, ",
		"arithmetic.jpg": "found a kind of JPEG that panecore can't read (",
		"cmyk.tif":       "found a kind of TIFF that panecore can't read (",
		"jpeg.tif":       "found a kind of TIFF that panecore can't read (",
	} {
		_, err := Decode(readFile(t, name))
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got %v, want a line that begins %q", name, err, want)
		}
	}
}
