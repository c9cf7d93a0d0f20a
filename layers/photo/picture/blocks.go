package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// A photo's metadata are in blocks of its file: EXIF, which is a small TIFF file of its own,
// and an ICC colour profile. Each kind of file keeps them in its own place. A missing or
// broken block is nil.

const exifHead = "Exif\x00\x00"

// jpegBlocks walks the segments before the pixels: a marker, a length that counts itself, the
// content (ITU-T T.81, B.1.1). A profile may be in several parts, in order (ICC.1:2022, B.4).
func jpegBlocks(data []byte) (exif, profile []byte) {
	const profileHead = "ICC_PROFILE\x00"
	rest := data[2:]
	for len(rest) >= 4 && rest[0] == 0xff {
		marker, size := rest[1], 2+int(binary.BigEndian.Uint16(rest[2:]))
		if marker == 0xff { // a fill byte
			rest = rest[1:]
			continue
		}
		if marker == 0xda || size < 4 || size > len(rest) { // the pixels begin
			break
		}
		content := rest[4:size]
		rest = rest[size:]
		switch {
		case marker == 0xe1 && exif == nil && starts(content, exifHead):
			exif = content[len(exifHead):]
		case marker == 0xe2 && starts(content, profileHead+"??"):
			profile = append(profile, content[len(profileHead)+2:]...)
		}
	}
	return exif, profile
}

// pngBlocks walks the chunks: length, name, content, checksum (PNG 3rd edition, 5.3).
func pngBlocks(data []byte) (exif, profile []byte) {
	for rest := data[8:]; len(rest) >= 8; {
		content := part(rest, 8, uint64(binary.BigEndian.Uint32(rest)))
		if content == nil {
			break
		}
		switch string(rest[4:8]) {
		case "eXIf":
			exif = content
		case "iCCP":
			profile = unpackedProfile(content)
		}
		rest = rest[min(8+len(content)+4, len(rest)):]
	}
	return exif, profile
}

// maxProfile is how much of a packed profile is read, bytes (assumption: those of cameras and
// screens have a few thousand).
const maxProfile = 1 << 20

// unpackedProfile reads the content of an iCCP chunk: a name, a zero, the packing method, the
// packed profile.
func unpackedProfile(content []byte) []byte {
	_, packed, ok := bytes.Cut(content, []byte{0})
	if !ok || len(packed) == 0 {
		return nil
	}
	unpack, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return nil
	}
	profile, _ := io.ReadAll(io.LimitReader(unpack, maxProfile)) // a cut one may still be readable
	return profile
}

// webpBlocks walks the chunks: name, length, content, padded to an even length (RFC 9649, 2.3).
func webpBlocks(data []byte) (exif, profile []byte) {
	for rest := data[12:]; len(rest) >= 8; {
		content := part(rest, 8, uint64(binary.LittleEndian.Uint32(rest[4:])))
		if content == nil {
			break
		}
		switch string(rest[:4]) {
		case "EXIF":
			exif = bytes.TrimPrefix(content, []byte(exifHead)) // some write it as in JPEG
		case "ICCP":
			profile = content
		}
		rest = rest[min(8+len(content)+len(content)%2, len(rest)):]
	}
	return exif, profile
}

// tiffBlocks takes the whole file for EXIF, which is a TIFF file itself.
func tiffBlocks(data []byte) (exif, profile []byte) {
	return data, firstDirectory(data).value(tagICCProfile, typeUndefined)
}
