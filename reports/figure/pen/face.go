package pen

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// NewFace is a built-in font at a size in pixels per em.
func NewFace(file []byte, pixels float64, hinting font.Hinting) font.Face {
	parsed, err := opentype.Parse(file)
	if err != nil {
		panic(err) // a built-in font is broken
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: hinting})
	if err != nil {
		panic(err)
	}
	return face
}
