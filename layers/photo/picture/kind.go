package picture

import (
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
	"golang.org/x/image/webp"
)

// A kind is a format of picture files that is read.
type kind struct {
	name, title string
	config      func(io.Reader) (image.Config, error)
	decode      func(io.Reader) (image.Image, error)
	blocks      func(data []byte) (exif, profile []byte)
}

// kindOf tells a file's kind by its first bytes.
func kindOf(data []byte) (kind, error) {
	switch {
	case starts(data, "\xff\xd8\xff"):
		return kind{"jpeg", "JPEG", jpeg.DecodeConfig, jpeg.Decode, jpegBlocks}, nil
	case starts(data, "\x89PNG\r\n\x1a\n"):
		return kind{"png", "PNG", png.DecodeConfig, png.Decode, pngBlocks}, nil
	case starts(data, "RIFF????WEBP"):
		return kind{"webp", "WebP", webp.DecodeConfig, webp.Decode, webpBlocks}, nil
	case starts(data, "II*\x00"), starts(data, "MM\x00*"):
		return kind{"tiff", "TIFF", tiff.DecodeConfig, tiff.Decode, tiffBlocks}, nil
	}
	return kind{}, unreadKind(data)
}

// starts reports whether data begins with a magic, in which ? is any byte.
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

func unreadKind(data []byte) error {
	switch {
	case len(data) == 0:
		return errors.New("found an empty file, want a JPEG, PNG, WebP or TIFF picture")
	case starts(data, "????ftyp"):
		return fmt.Errorf("found a HEIC, HEIF or AVIF photo, want JPEG, PNG, WebP or TIFF: save or export it as JPEG, or set the phone's camera to the most compatible format")
	}
	return fmt.Errorf("found a file that begins with %q, want a JPEG, PNG, WebP or TIFF picture", data[:min(len(data), 8)])
}

// explain words what a decoder had to say.
func (k kind) explain(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return fmt.Errorf("found a %s file that is cut off, want a whole one: copy it again", k.title)
	}
	return fmt.Errorf("found a %s file that can't be read (%w), want a whole 8-bit one: save it anew as JPEG", k.title, err)
}
