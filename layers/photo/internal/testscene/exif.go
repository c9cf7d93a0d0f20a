package testscene

import (
	"encoding/binary"
	"image"
)

// laid turns an upright picture as a camera held in an EXIF orientation stores it.
func laid(up *image.RGBA, orientation int) *image.RGBA {
	w, h := up.Rect.Dx(), up.Rect.Dy()
	var from func(x, y int) (int, int) // the upright place of a stored pixel
	size := image.Rect(0, 0, w, h)
	switch orientation {
	case 3: // upside down
		from = func(x, y int) (int, int) { return w - 1 - x, h - 1 - y }
	case 6: // to be turned a quarter clockwise
		from = func(x, y int) (int, int) { return w - 1 - y, x }
		size = image.Rect(0, 0, h, w)
	case 8: // to be turned a quarter anticlockwise
		from = func(x, y int) (int, int) { return y, h - 1 - x }
		size = image.Rect(0, 0, h, w)
	default:
		return up
	}
	out := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			copy(out.Pix[out.PixOffset(x, y):][:4], up.Pix[up.PixOffset(from(x, y)):][:4])
		}
	}
	return out
}

// withOrientation inserts an Exif segment with only the orientation (CIPA DC-008: TIFF header,
// one entry of tag 0x0112, type SHORT) after a JPEG's first marker.
func withOrientation(file []byte, orientation int) []byte {
	if orientation <= 1 {
		return file
	}
	tiff := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	tiff = binary.BigEndian.AppendUint16(tiff, uint16(orientation))
	tiff = append(tiff, 0, 0, 0, 0, 0, 0) // rest of the value, no further directory
	body := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{}, file[:2]...)
	out = append(out, 0xff, 0xe1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
	out = append(out, body...)
	return append(out, file[2:]...)
}
