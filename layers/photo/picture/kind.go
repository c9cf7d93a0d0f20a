package picture

import (
	"encoding/binary"
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
	space       space // of a picture without a profile
	turned      bool  // its decoder turns a picture upright, so EXIF's orientation is done with
}

// kindOf recognizes a file by its first bytes. It refuses files that a decoder would wrongly
// take for a whole picture.
func kindOf(data []byte) (kind, error) {
	switch {
	case starts(data, "\xff\xd8\xff"):
		return kind{name: "jpeg", title: "JPEG", config: jpeg.DecodeConfig, decode: jpeg.Decode, blocks: jpegBlocks, codes: jfif}, nil
	case starts(data, "\x89PNG\r\n\x1a\n"):
		return kind{name: "png", title: "PNG", config: png.DecodeConfig, decode: png.Decode, blocks: pngBlocks}, nil
	case starts(data, "RIFF????WEBP"):
		return kind{name: "webp", title: "WebP", config: webp.DecodeConfig, decode: webp.Decode, blocks: webpBlocks, codes: bt601}, checkWebP(data)
	case starts(data, "II*\x00"), starts(data, "MM\x00*"):
		return kind{name: "tiff", title: "TIFF", config: tiff.DecodeConfig, decode: tiff.Decode, blocks: tiffBlocks}, checkTIFF(data)
	case starts(data, "????ftyp????????") && hasBrand(data, heicBrands):
		h := readHEIF(data)
		return kind{
			name: "heic", title: "HEIC", config: h.config, decode: h.decode, codes: h.codes, space: h.space, turned: true,
			blocks: func([]byte) (exif, profile []byte) { return h.exif, h.profile },
		}, nil
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

// Brands of HEIF files (ISO/IEC 23008-12, annex B; AV1 Image File Format): of single pictures in
// HEVC, which phones write, and of what no decoder here reads.
var (
	heicBrands   = []string{"heic", "heix", "heim", "heis"}
	unreadBrands = []string{"hevc", "hevx", "mif1", "msf1", "avif", "avis"}
)

// hasBrand reports whether a file's first box, ftyp, names one of the brands: its main one, a version, and
// all that it is compatible with, four bytes each.
func hasBrand(data []byte, brands []string) bool {
	size := min(binary.BigEndian.Uint32(data), uint32(len(data)))
	for at := uint32(8); at+4 <= size; at += 4 {
		if slices.Contains(brands, string(data[at:at+4])) {
			return true
		}
	}
	return false
}

func unread(data []byte) error {
	const want = "want a JPEG, HEIC, PNG, WebP or TIFF picture"
	switch {
	case len(data) == 0:
		return errors.New("found an empty file, " + want)
	case starts(data, "????ftyp????") && hasBrand(data, unreadBrands):
		return errors.New("found an AVIF picture or a series of pictures, " + want + ": save or export one as JPEG")
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
