package picture

import (
	"image"
	"image/color"
	"image/color/palette"
	"math"
	"math/rand/v2"
	"testing"
)

// noise fills the planes of a picture.
func noise(planes ...[]uint8) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, plane := range planes {
		for i := range plane {
			plane[i] = uint8(r.IntN(256))
		}
	}
}

// The curve of IEC 61966-2-1 at its ends, at its joint (code 10 and 11) and in the middle;
// the values are those of CSS Color Module Level 4's sample code.
func TestLinear(t *testing.T) {
	for code, want := range map[float64]float64{
		0: 0, 1: 0.000303526984, 10: 0.003035269835, 11: 0.003346535764, 128: 0.215860500114, 188: 0.502886458, 255: 1,
	} {
		if got := linear(code / 255); math.Abs(got-want) > 1e-9 {
			t.Errorf("code %g: got light %.12f, want %.12f", code, got, want)
		}
	}
}

// All 2^24 triples, against the standard library's conversion.
func TestYCbCr_full(t *testing.T) {
	img := image.NewYCbCr(image.Rect(0, 0, 256, 256), image.YCbCrSubsampleRatio444)
	for i := range img.Y {
		img.Cb[i], img.Cr[i] = uint8(i), uint8(i>>8)
	}
	read := jfif.rows(img, curves{}.ramps())
	row := make([]Light, 256)
	for y := range 256 {
		for i := range img.Y {
			img.Y[i] = uint8(y)
		}
		for cr := range 256 {
			read(row, run{y: cr, dx: 1})
			for cb, got := range row {
				r, g, b := color.YCbCrToRGB(uint8(y), uint8(cb), uint8(cr))
				if want := (Light{lightOf(r), lightOf(g), lightOf(b)}); got != want {
					t.Fatalf("Y %d, Cb %d, Cr %d: got %d, want %d", y, cb, cr, got, want)
				}
			}
		}
	}
}

// The ends of the scale of ITU-R BT.601 and beyond, and its 75 % colour bars (ITU-R
// BT.471: red 65, 100, 212 and so on), in codes of full range; and that no triple leaves the table.
func TestYCbCr_video(t *testing.T) {
	img := image.NewYCbCr(image.Rect(0, 0, 1, 1), image.YCbCrSubsampleRatio444)
	read := bt601.rows(img, curves{}.ramps())
	row := make([]Light, 1)
	at := func(y, cb, cr int) Light {
		img.Y[0], img.Cb[0], img.Cr[0] = uint8(y), uint8(cb), uint8(cr)
		read(row, run{dx: 1})
		return row[0]
	}
	for _, c := range []struct {
		y, cb, cr int
		want      [3]uint8
	}{
		{16, 128, 128, [3]uint8{0, 0, 0}},
		{235, 128, 128, [3]uint8{255, 255, 255}},
		{0, 128, 128, [3]uint8{0, 0, 0}},
		{255, 128, 128, [3]uint8{255, 255, 255}},
		{126, 128, 128, [3]uint8{128, 128, 128}},
		{65, 100, 212, [3]uint8{191, 0, 0}},
		{112, 72, 58, [3]uint8{0, 191, 0}},
		{35, 212, 114, [3]uint8{0, 0, 191}},
	} {
		for i, got := range at(c.y, c.cb, c.cr) {
			if got < lightOf(max(c.want[i], 1)-1) || got > lightOf(min(c.want[i], 254)+1) {
				t.Errorf("Y %d, Cb %d, Cr %d: got %d of channel %d, want that of code %d", c.y, c.cb, c.cr, got, i, c.want[i])
			}
		}
	}
	for _, y := range []int{0, 255} {
		for _, cb := range []int{0, 255} {
			for _, cr := range []int{0, 255} {
				blue := 1.164383*float64(y-16) + 2.017232*float64(cb-128)
				red := 1.164383*float64(y-16) + 1.596027*float64(cr-128)
				got := at(y, cb, cr)
				if (blue < 0 && got[2] != 0) || (blue > 255 && got[2] != full) || (red < 0 && got[0] != 0) || (red > 255 && got[0] != full) {
					t.Errorf("Y %d, Cb %d, Cr %d: got %d for red %.0f and blue %.0f", y, cb, cr, got, red, blue)
				}
			}
		}
	}
}

// sides says where EXIF 2.3 puts the stored row 0 and column 0 of each orientation.
var sides = map[orientation][2]string{
	1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
	5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"},
}

// shown is where a stored pixel shows: so far from the sides of its row and its column.
func shown(o orientation, sx, sy, width, height int) (x, y int) {
	for i, distance := range []int{sy, sx} {
		switch sides[o][i] {
		case "top":
			y = distance
		case "bottom":
			y = height - 1 - distance
		case "left":
			x = distance
		case "right":
			x = width - 1 - distance
		}
	}
	return x, y
}

// Every ratio of chroma in every orientation, and parts of rows, against pixels read one by one.
func TestRow_orientations(t *testing.T) {
	ratios := []image.YCbCrSubsampleRatio{
		image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420,
		image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410,
	}
	for _, ratio := range ratios {
		img := image.NewYCbCr(image.Rect(0, 0, 13, 7), ratio)
		noise(img.Y, img.Cb, img.Cr)
		for o := range sides {
			p := &Picture{Width: 13, Height: 7, orientation: o, read: newRowReader(img, jfif, curves{})}
			if o >= 5 {
				p.Width, p.Height = 7, 13
			}
			whole := map[image.Point]Light{}
			for sy := range 7 {
				for sx := range 13 {
					c := img.YCbCrAt(sx, sy)
					r, g, b := color.YCbCrToRGB(c.Y, c.Cb, c.Cr)
					x, y := shown(o, sx, sy, p.Width, p.Height)
					whole[image.Pt(x, y)] = Light{lightOf(r), lightOf(g), lightOf(b)}
				}
			}
			for y := range p.Height {
				for from := range p.Width {
					row := make([]Light, p.Width-from)
					p.Row(row, from, y)
					for i, got := range row {
						if want := whole[image.Pt(from+i, y)]; got != want {
							t.Fatalf("%v, orientation %d: got %d at %d, %d, want %d", ratio, o, got, from+i, y, want)
						}
					}
				}
			}
		}
	}
}

func TestRow_outside(t *testing.T) {
	p := &Picture{Width: 4, Height: 3, orientation: upright, read: newRowReader(image.NewGray(image.Rect(0, 0, 4, 3)), yCbCr{}, curves{})}
	for _, part := range []struct{ x, y, n int }{{-1, 0, 2}, {3, 0, 2}, {0, -1, 1}, {0, 3, 1}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("no panic for %d pixels from %d, %d on", part.n, part.x, part.y)
				}
			}()
			p.Row(make([]Light, part.n), part.x, part.y)
		}()
	}
}

// Every kind of picture that a decoder makes, opaque, against its own colours; and the
// same light under half transparency.
func TestRowReader_kinds(t *testing.T) {
	bounds := image.Rect(0, 0, 9, 5)
	gray, gray16, cmyk := image.NewGray(bounds), image.NewGray16(bounds), image.NewCMYK(bounds)
	rgba, rgba64 := image.NewRGBA(bounds), image.NewRGBA64(bounds)
	nrgba, nrgba64 := image.NewNRGBA(bounds), image.NewNRGBA64(bounds)
	paletted := image.NewPaletted(bounds, palette.Plan9)
	noise(gray.Pix, gray16.Pix, cmyk.Pix, rgba.Pix, rgba64.Pix, nrgba.Pix, nrgba64.Pix, paletted.Pix)
	alpha := func(value uint8) {
		for i := range 9 * 5 {
			rgba.Pix[4*i+3], nrgba.Pix[4*i+3] = value, value
			for j := range 2 {
				rgba64.Pix[8*i+6+j], nrgba64.Pix[8*i+6+j] = value, value
			}
		}
	}
	long := newLongRamp(nil)
	for _, img := range []image.Image{gray, gray16, cmyk, rgba, rgba64, nrgba, nrgba64, paletted} {
		alpha(255)
		var want [9]Light
		for x := range want {
			r, g, b, _ := img.At(x, 3).RGBA()
			want[x] = Light{long[r], long[g], long[b]}
		}
		for _, value := range []uint8{255, 128, 0} {
			alpha(value)
			var got [9]Light
			newRowReader(img, jfif, curves{})(got[:], run{y: 3, dx: 1})
			if got != want {
				t.Errorf("%T, alpha %d: got %d, want %d", img, value, got, want)
			}
		}
	}
}

// The colours of what is clear as glass are read as those of anything.
func TestRowReader_transparentLuma(t *testing.T) {
	clear := image.NewNYCbCrA(image.Rect(0, 0, 9, 5), image.YCbCrSubsampleRatio420)
	noise(clear.Y, clear.Cb, clear.Cr)
	var got, want [9]Light
	newRowReader(clear, bt601, curves{})(got[:], run{y: 3, dx: 1})
	newRowReader(&clear.YCbCr, bt601, curves{})(want[:], run{y: 3, dx: 1})
	if got != want {
		t.Errorf("got %d, want %d", got, want)
	}
}

func TestRowReader_transparentPalette(t *testing.T) {
	img := image.NewPaletted(image.Rect(0, 0, 1, 1), color.Palette{color.NRGBA{R: 0x8b, G: 0x5e, B: 0x3c, A: 0}})
	var got [1]Light
	newRowReader(img, yCbCr{}, curves{})(got[:], run{dx: 1})
	if want := (Light{lightOf(0x8b), lightOf(0x5e), lightOf(0x3c)}); got[0] != want {
		t.Errorf("got %d, want %d", got[0], want)
	}
}

// lightOf is the light of an 8-bit code of sRGB.
func lightOf(code uint8) uint16 { return sRGBRamp[rampZero+int(code)] }
