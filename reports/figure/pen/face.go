package pen

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// newFace is a built-in font at so many pixels an em.
func newFace(file []byte, pixels float64) font.Face {
	parsed, err := opentype.Parse(file)
	if err != nil {
		panic(err) // a built-in font is broken
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic(err)
	}
	return face
}
