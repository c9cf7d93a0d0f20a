package picture

import (
	"encoding/binary"
	"slices"
	"strings"
	"unicode"
	"unicode/utf16"
)

// A profile (ICC.1:2022) has a header of 128 bytes with its colour space at 16 and a magic at 36,
// the count of tags, and for each tag its signature, offset and size, four bytes each.
var iccMagic = strings.Repeat("?", 36) + "acsp"

const (
	iccHeader   = 128 // bytes
	iccTagEntry = 12
)

// iccSpace is the colour space of the profile's values, as in "RGB ".
func iccSpace(icc []byte) string { return string(icc[16:20]) }

// iccTag is the content of a tag; nil: there is none.
func iccTag(icc []byte, signature string) []byte {
	head := part(icc, iccHeader, 4)
	if head == nil {
		return nil
	}
	table := icc[iccHeader+4:]
	for range min(uint64(binary.BigEndian.Uint32(head)), uint64(len(table)/iccTagEntry)) {
		if string(table[:4]) == signature {
			return part(icc, uint64(binary.BigEndian.Uint32(table[4:])), uint64(binary.BigEndian.Uint32(table[8:])))
		}
		table = table[iccTagEntry:]
	}
	return nil
}

// iccNumber is a fixed-point number of 16 bits before and 16 after the point.
func iccNumber(b []byte) float64 { return float64(int32(binary.BigEndian.Uint32(b))) / (1 << 16) }

// iccXYZ reads the type XYZ.
func iccXYZ(tag []byte) (xyz [3]float64) {
	if !starts(tag, "XYZ ????"+"????????????") {
		return xyz
	}
	for i := range xyz {
		xyz[i] = iccNumber(tag[8+4*i:])
	}
	return xyz
}

// longestName is how much of a profile's name is kept, letters (assumption: it fits in a line).
const longestName = 60

// iccText reads the types desc, of older profiles, and mluc, in its first language.
func iccText(tag []byte) string {
	var text []rune
	switch {
	case starts(tag, "desc????????"):
		text = []rune(string(part(tag, 12, uint64(binary.BigEndian.Uint32(tag[8:])))))
	case starts(tag, "mluc????????????"+"????????????"):
		packed := part(tag, uint64(binary.BigEndian.Uint32(tag[24:])), uint64(binary.BigEndian.Uint32(tag[20:])))
		var units []uint16
		for ; len(packed) >= 2; packed = packed[2:] {
			units = append(units, binary.BigEndian.Uint16(packed))
		}
		text = utf16.Decode(units)
	}
	text = slices.DeleteFunc(text, func(r rune) bool { return !unicode.IsPrint(r) })
	return strings.TrimSpace(string(text[:min(len(text), longestName)]))
}
