package picture

import (
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf16"
)

// p3ToSRGB converts linear light from Display P3 to sRGB, which share the white D65: the
// product of the two matrices in the sample code of CSS Color Module Level 4.
var p3ToSRGB = [3][3]float64{
	{1.2249401762805598, -0.2249401762805600, 0},
	{-0.0420569547096882, 1.0420569547096880, 0},
	{-0.0196375545903344, -0.0786360455506319, 1.0982736001409663},
}

// Colorants are the red, green and blue of a colour profile, each as X, Y and Z under D50.
type colorants [3][3]float64

// From the primaries of IEC 61966-2-1 and of Display P3 (CSS Color Module Level 4), adapted to
// D50 by Bradford's matrix.
var (
	sRGBColorants = colorants{{0.4361, 0.2225, 0.0139}, {0.3851, 0.7169, 0.0971}, {0.1431, 0.0606, 0.7141}}
	p3Colorants   = colorants{{0.5151, 0.2412, -0.0011}, {0.2920, 0.6922, 0.0419}, {0.1571, 0.0666, 0.7841}}
)

// colorantTolerance is how far the colorants of a colour space differ between profiles
// (assumption: rounding; other colour spaces are at least 0.02 away).
const colorantTolerance = 0.005

func (c colorants) near(other colorants) bool {
	for i, xyz := range c {
		for j, value := range xyz {
			if math.Abs(value-other[i][j]) > colorantTolerance {
				return false
			}
		}
	}
	return true
}

// judgeProfile recognizes Display P3, and names a profile that is neither that nor sRGB. It
// ignores one that it can't read.
func judgeProfile(icc []byte) (displayP3 bool, other string) {
	if !starts(icc, iccMagic) {
		return false, ""
	}
	c := colorants{iccXYZ(iccTag(icc, "rXYZ")), iccXYZ(iccTag(icc, "gXYZ")), iccXYZ(iccTag(icc, "bXYZ"))}
	switch {
	case c.near(p3Colorants):
		return true, ""
	case c.near(sRGBColorants):
		return false, ""
	}
	name := iccText(iccTag(icc, "desc"))
	if name == "" {
		name = "without a name"
	}
	return false, name
}

// A profile (ICC.1:2022) has a header of 128 bytes with a magic at 36, the count of tags, and
// for each tag its signature, offset and size, four bytes each.
var iccMagic = strings.Repeat("?", 36) + "acsp"

const (
	iccHeader   = 128 // bytes
	iccTagEntry = 12
)

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

// iccXYZ reads the type XYZ: fixed-point numbers of 16 bits before and 16 after the point.
func iccXYZ(tag []byte) (xyz [3]float64) {
	if !starts(tag, "XYZ ????"+"????????????") {
		return xyz
	}
	for i := range xyz {
		xyz[i] = float64(int32(binary.BigEndian.Uint32(tag[8+4*i:]))) / (1 << 16)
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
