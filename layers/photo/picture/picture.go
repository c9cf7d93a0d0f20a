package picture

import (
	"bytes"
	"fmt"
)

// Limits, checked before anything is decoded. MaxBytes and MaxPixels leave room for the photos
// of phones and cameras (assumption: 50 megapixels); MaxSide excludes long strips.
const (
	MaxBytes  = 64 << 20
	MaxPixels = 64_000_000
	MaxSide   = 20_000 // pixels
)

// Light is a pixel in linear light: red, green and blue in the picture's own primaries, 0 to
// 65535.
type Light [3]uint16

// A Picture is a decoded photo, set upright.
type Picture struct {
	Width, Height int    // pixels, upright
	Format        string // "jpeg", "heic", "png", "webp" or "tiff"
	Taken         string // YYYY-MM-DD from EXIF; empty: not known
	Profile       string // name of a colour profile that is wrongly taken for sRGB; empty: none

	orientation orientation
	toSRGB      *matrix // from its primaries; nil: they are those of sRGB
	read        rowReader
}

// Decode reads a whole picture file. Its error is one line that says what was found and what is
// wanted; the caller puts the file's name before it.
func Decode(data []byte) (*Picture, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("found more than %d MB, want at most that: save it smaller", MaxBytes>>20)
	}
	kind, err := kindOf(data)
	if err != nil {
		return nil, err
	}
	config, err := kind.config(bytes.NewReader(data))
	if err != nil {
		return nil, kind.explain(err)
	}
	if err := guard(config.Width, config.Height, len(data)); err != nil {
		return nil, err
	}
	img, err := kind.decode(bytes.NewReader(data))
	if err != nil {
		return nil, kind.explain(err)
	}
	exif, profile := kind.blocks(data)
	space := kind.space
	if starts(profile, iccMagic) {
		space = profileSpace(profile)
	}
	p := &Picture{Format: kind.name, toSRGB: space.toSRGB, Profile: space.unread}
	p.read = newRowReader(img, kind.codes, space.curves)
	p.orientation, p.Taken = readEXIF(exif)
	if kind.turned {
		p.orientation = upright
	}
	p.Width, p.Height = img.Bounds().Dx(), img.Bounds().Dy()
	if p.orientation.turned() {
		p.Width, p.Height = p.Height, p.Width
	}
	return p, nil
}

// densest is the most pixels that a byte of a file can hold: eight of one bit each, packed by
// deflate, which shortens up to 1032 times (zlib's technical details). Other packing methods
// do no better, except for blank pages.
const densest = 8 * 1032

func guard(width, height, size int) error {
	switch {
	case width < 1 || height < 1:
		return fmt.Errorf("found a picture of %d x %d pixels, want one with content", width, height)
	case width > MaxSide || height > MaxSide:
		return fmt.Errorf("found %d x %d pixels, want sides of at most %d: save it smaller", width, height, MaxSide)
	case width*height > MaxPixels:
		return fmt.Errorf("found %d x %d pixels, want at most %d million in all: save it smaller", width, height, MaxPixels/1_000_000)
	case width*height/densest > size:
		return fmt.Errorf("found %d x %d pixels claimed by a file of %d bytes, want a whole file: copy it again", width, height, size)
	}
	return nil
}

// Row reads len(dst) upright pixels of row y from column x on. It panics if they are not all
// inside the picture.
func (p *Picture) Row(dst []Light, x, y int) {
	if x < 0 || x+len(dst) > p.Width || y < 0 || y >= p.Height {
		panic(fmt.Sprintf("picture: row %d, columns %d to %d, of %d x %d pixels", y, x, x+len(dst), p.Width, p.Height))
	}
	p.read(dst, p.orientation.stored(x, y, p.Width, p.Height))
}

// SRGB converts linear light of any scale from the picture's primaries to linear sRGB. Colours
// beyond sRGB leave the scale.
func (p *Picture) SRGB(c [3]float64) [3]float64 {
	if p.toSRGB == nil {
		return c
	}
	return p.toSRGB.apply(c)
}
