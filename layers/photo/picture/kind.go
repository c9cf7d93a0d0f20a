package picture

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"slices"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// A kind is a format of picture files.
type kind struct {
	name, title string
	config      func(io.Reader) (image.Config, error)
	decode      func(io.Reader) (image.Image, error)
	blocks      func(data []byte) (exif, profile []byte)
	codes       yCbCr // zero: its pixels are not in luma and chroma
}

// kindOf recognizes a file by its first bytes. It refuses files that a decoder would wrongly
// take for a whole picture.
func kindOf(data []byte) (kind, error) {
	switch {
	case starts(data, "\xff\xd8\xff"):
		return kind{"jpeg", "JPEG", jpeg.DecodeConfig, jpeg.Decode, jpegBlocks, jfif}, nil
	case starts(data, "\x89PNG\r\n\x1a\n"):
		return kind{"png", "PNG", png.DecodeConfig, png.Decode, pngBlocks, yCbCr{}}, nil
	case starts(data, "RIFF????WEBP"):
		return kind{"webp", "WebP", webp.DecodeConfig, webp.Decode, webpBlocks, bt601}, checkWebP(data)
	case starts(data, "II*\x00"), starts(data, "MM\x00*"):
		return kind{"tiff", "TIFF", tiff.DecodeConfig, tiff.Decode, tiffBlocks, yCbCr{}}, checkTIFF(data)
	}
	return kind{}, unread(data)
}

// starts reports whether data begin with a magic, in which ? is any byte.
func starts(data []byte, magic string) bool {
	if len(data) < len(magic) {
		return false
	}
	for i := range magic {
		if magic[i] != '?' && magic[i] != data[i] {
			return false
		}
	}
	return true
}

// checkWebP refuses an animation, by the flags of an extended file (RFC 9649, 2.7).
func checkWebP(data []byte) error {
	const animation = 1 << 1
	if starts(data[12:], "VP8X?????") && data[20]&animation != 0 {
		return errors.New("found an animated WebP, want a single picture: save it as JPEG")
	}
	return nil
}

// checkTIFF refuses a file whose first picture is a thumbnail (TIFF 6.0, NewSubfileType), as in
// cameras' raw files.
func checkTIFF(data []byte) error {
	const reduced = 1 << 0
	if firstDirectory(data).number(tagSubfileType)&reduced != 0 {
		return errors.New("found a camera's raw file, want a picture made from it: export it as JPEG")
	}
	return nil
}

// unreadBrands mark photos in HEIF files, which no decoder here reads (ISO/IEC 23008-12, annex
// B; AV1 Image File Format).
var unreadBrands = []string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis"}

func unread(data []byte) error {
	const want = "want a JPEG, PNG, WebP or TIFF picture"
	switch {
	case len(data) == 0:
		return errors.New("found an empty file, " + want)
	case starts(data, "????ftyp????") && slices.Contains(unreadBrands, string(data[8:12])):
		return errors.New("found a HEIC, HEIF or AVIF photo, " + want +
			": save or export it as JPEG, and set the phone's camera to its most compatible format")
	}
	return fmt.Errorf("found a file that begins with %q, %s: export a camera's raw file as JPEG", data[:min(len(data), 8)], want)
}

// explain words a decoder's error.
func (k kind) explain(err error) error {
	switch err.(type) {
	case jpeg.UnsupportedError, png.UnsupportedError, tiff.UnsupportedError:
		return fmt.Errorf("found a kind of %s that panecore can't read (%w), want 8 bits per colour: save it again as JPEG", k.title, err)
	}
	return fmt.Errorf("found a %s file that is cut off or damaged (%w), want a whole one: copy it again, or save it again as JPEG", k.title, err)
}
