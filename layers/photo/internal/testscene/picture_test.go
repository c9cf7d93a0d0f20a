package testscene

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"

	"panecore/palette"
)

// What the truth says of colours and depths must be in the picture: corrected on the
// card, the pixels of each layer, a millimetre off its edges, have its colour.
func TestRender_pictureShowsTruth(t *testing.T) {
	const tolerance = 5.0 // CIEDE2000: fall-off, haze and reflections of an easy scene
	for _, s := range few(t, "easy-01", "easy-14") {
		photo := rendered()[s.Name]()
		truth := photo.Truth
		img, err := jpeg.Decode(bytes.NewReader(photo.JPEG))
		if err != nil {
			t.Fatalf("%s: %v", s.Name, err)
		}
		card := meanOf(img, s, truth.Neutral)
		var gain rgb
		for c := range gain {
			gain[c] = float32(truth.CardY) / card[c]
		}
		for _, l := range truth.Layers {
			from, to := l.TopMM+1+s.WaveMM/2, l.TopMM+l.ThicknessMM-1-s.WaveMM/2
			if to-from < 1 {
				continue
			}
			box := [4]float64{truth.Strip[0], truth.TrueSurfaceY + from*truth.PxPerMM, truth.Strip[2], (to - from) * truth.PxPerMM}
			got := asStored(meanOf(img, s, box).by(gain))
			if off := palette.Difference(got.Lab(), l.Color.Lab()); off > tolerance {
				t.Errorf("%s: %v at %.1f mm shows %v, the truth says %v: %.1f apart", s.Name, l.Band, l.TopMM, got, l.Color, off)
			}
		}
	}
}

// meanOf is the mean linear colour of a box of the upright picture.
func meanOf(img image.Image, s Scene, box [4]float64) rgb {
	var sum rgb
	var n float32
	for y := int(box[1]); y < int(box[1]+box[3]); y++ {
		for x := int(box[0]); x < int(box[0]+box[2]); x++ {
			sx, sy := x, y
			if s.Orientation == 6 { // stored lying on its left side
				sx, sy = y, s.Width-1-x
			}
			r, g, b, _ := img.At(sx, sy).RGBA()
			sum = sum.plus(linear(palette.Color{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8)}))
			n++
		}
	}
	return sum.times(1 / n)
}
