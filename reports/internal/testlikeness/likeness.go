// Package testlikeness tells how far two stored pictures differ. Only tests import it.
package testlikeness

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
)

// shade is by how much a channel of a pixel may differ and be the same, of 65535: what
// processors round otherwise at soft edges (assumption).
const shade = 8 * 257

// Differing is the share of the pixels of two PNGs that differ by more than a shade. Its
// error says that one can't be decoded, or that they differ in size.
func Differing(a, b []byte) (float64, error) {
	first, second, err := decoded(a, b)
	if err != nil {
		return 0, err
	}
	size := first.Bounds()
	n := 0
	for y := size.Min.Y; y < size.Max.Y; y++ {
		for x := size.Min.X; x < size.Max.X; x++ {
			if differ(first, second, x, y) {
				n++
			}
		}
	}
	return float64(n) / float64(size.Dx()*size.Dy()), nil
}

// decoded are two PNGs of one size.
func decoded(a, b []byte) (first, second image.Image, err error) {
	if first, err = png.Decode(bytes.NewReader(a)); err != nil {
		return nil, nil, err
	}
	if second, err = png.Decode(bytes.NewReader(b)); err != nil {
		return nil, nil, err
	}
	if first.Bounds() != second.Bounds() {
		return nil, nil, fmt.Errorf("found %v and %v pixels, want one size", first.Bounds().Size(), second.Bounds().Size())
	}
	return first, second, nil
}

func differ(a, b image.Image, x, y int) bool {
	r, g, bl, _ := a.At(x, y).RGBA()
	r2, g2, bl2, _ := b.At(x, y).RGBA()
	return max(r, r2)-min(r, r2) > shade || max(g, g2)-min(g, g2) > shade || max(bl, bl2)-min(bl, bl2) > shade
}
