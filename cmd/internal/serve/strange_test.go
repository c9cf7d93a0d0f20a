package serve_test

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
)

// How two pictures of a page are held against each other (assumptions: other letters move
// what stands below them by less than reach cells, and make a cell lighter or darker by less
// than a tint).
const (
	cell  = 32       // a side, pixels
	reach = 2        // cells
	tint  = 40 * 257 // of a channel, of 65535
)

// strange is the share of the cells of two PNGs that have no like near the same place of the
// other one. Letters of another kind make few; a picture that is missing makes as many as it
// has. Its error says that one can't be decoded, or that they differ in size.
func strange(a, b []byte) (float64, error) {
	first, err := png.Decode(bytes.NewReader(a))
	if err != nil {
		return 0, err
	}
	second, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		return 0, err
	}
	if first.Bounds() != second.Bounds() {
		return 0, fmt.Errorf("found %v and %v pixels, want one size", first.Bounds().Size(), second.Bounds().Size())
	}
	c, d := cellsOf(first), cellsOf(second)
	return max(c.strangeTo(d), d.strangeTo(c)), nil
}

// cells are the mean colours of a picture's parts, by rows.
type cells [][][3]int

func cellsOf(img image.Image) (list cells) {
	size := img.Bounds()
	for top := size.Min.Y; top < size.Max.Y; top += cell {
		var row [][3]int
		for left := size.Min.X; left < size.Max.X; left += cell {
			row = append(row, meanOf(img, image.Rect(left, top, left+cell, top+cell).Intersect(size)))
		}
		list = append(list, row)
	}
	return list
}

func meanOf(img image.Image, part image.Rectangle) (mean [3]int) {
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			mean[0], mean[1], mean[2] = mean[0]+int(r), mean[1]+int(g), mean[2]+int(b)
		}
	}
	for i := range mean {
		mean[i] /= part.Dx() * part.Dy()
	}
	return mean
}

// strangeTo is the share of the cells that have no like in the other's.
func (c cells) strangeTo(other cells) float64 {
	lone, all := 0, 0
	for y, row := range c {
		for x, mean := range row {
			all++
			if !other.near(x, y, mean) {
				lone++
			}
		}
	}
	return float64(lone) / float64(all)
}

func (c cells) near(x, y int, mean [3]int) bool {
	for _, row := range c[max(0, y-reach):min(len(c), y+reach+1)] {
		for _, at := range row[max(0, x-reach):min(len(row), x+reach+1)] {
			if alike(at, mean) {
				return true
			}
		}
	}
	return false
}

func alike(a, b [3]int) bool {
	for i := range a {
		if a[i]-b[i] > tint || b[i]-a[i] > tint {
			return false
		}
	}
	return true
}
