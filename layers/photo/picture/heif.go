package picture

import (
	"errors"
	"image"
	"io"
	"slices"

	"panecore/layers/photo/picture/heic"
)

// heif is what a HEIF file says about its first picture, beside the pixels (ISO/IEC 23008-12).
// EXIF's orientation is not used: the file's own turns count, which the decoder has made
// (ibid., 6.5.10; most phones write both).
type heif struct {
	width, height int // pixels, before they are turned; 0: not said
	exif, profile []byte
	codes         yCbCr
	space         space
}

// readHEIF ignores what it can't read.
func readHEIF(data []byte) heif {
	h := heif{codes: jfif} // what counts if a file doesn't say (ISO/IEC 23000-22, 7.3.6.4)
	parts := map[string][]byte{}
	for name, content := range boxes(data) {
		if name == "meta" && len(content) >= 4 {
			for name, content := range boxes(content[4:]) {
				parts[name] = content
			}
			break
		}
	}
	for _, p := range propertiesOf(parts["iprp"], primaryItem(parts["pitm"])) {
		h.take(p)
	}
	if exif := itemContent(data, parts["iloc"], exifItem(parts["iinf"])); len(exif) >= 4 {
		f := fields{exif}
		if head := f.number(4); head <= uint64(len(f.rest)) { // where EXIF's own file begins
			h.exif = f.rest[head:]
		}
	}
	return h
}

// property describes a picture.
type property struct {
	name    string
	content []byte
}

// propertiesOf lists those of an item. A picture put together from tiles may leave its colours to
// them: these follow.
func propertiesOf(iprp []byte, item uint64) (list []property) {
	var all, colors []property
	var links []byte
	for name, content := range boxes(iprp) {
		switch name {
		case "ipco":
			for name, content := range boxes(content) {
				all = append(all, property{name, content})
				if name == "colr" {
					colors = append(colors, all[len(all)-1])
				}
			}
		case "ipma":
			links = content
		}
	}
	f := fields{links}
	version, flags := f.version()
	for range f.number(4) {
		if len(f.rest) == 0 {
			break
		}
		id := f.itemID(version >= 1)
		for range f.number(1) {
			size, mask := 1, uint64(1<<7-1)
			if flags&1 != 0 {
				size, mask = 2, 1<<15-1
			}
			if i := f.number(size) & mask; id == item && 1 <= i && i <= uint64(len(all)) {
				list = append(list, all[i-1])
			}
		}
	}
	if !slices.ContainsFunc(list, func(p property) bool { return p.name == "colr" }) {
		list = append(list, colors...)
	}
	return list
}

// take reads a property.
func (h *heif) take(p property) {
	f := fields{p.content}
	switch {
	case p.name == "ispe" && h.width == 0:
		f.version()
		h.width, h.height = int(f.number(4)), int(f.number(4))
	case p.name == "colr" && starts(p.content, "nclx???????"):
		f.number(4)
		primaries, transfer, matrix, wide := f.number(2), f.number(2), f.number(2), f.number(1)>>7 == 1
		h.codes = codesOf(matrix, wide)
		h.space = spaceOf(primaries, transfer)
	case p.name == "colr" && h.profile == nil && (starts(p.content, "prof") || starts(p.content, "rICC")):
		h.profile = p.content[4:]
	}
}

func primaryItem(pitm []byte) uint64 {
	f := fields{pitm}
	version, _ := f.version()
	return f.itemID(version >= 1)
}

// exifItem is the item that holds EXIF; 0: none.
func exifItem(iinf []byte) uint64 {
	f := fields{iinf}
	version, _ := f.version()
	f.itemID(version >= 1) // the count
	for name, content := range boxes(f.rest) {
		f := fields{content}
		version, _ := f.version()
		id := f.itemID(version >= 3)
		f.number(2) // protection
		if name == "infe" && version >= 2 && starts(f.rest, "Exif") {
			return id
		}
	}
	return 0
}

// itemContent is an item's first piece in the file; nil: there is none.
func itemContent(data, iloc []byte, item uint64) []byte {
	f := fields{iloc}
	version, _ := f.version()
	sizes := f.number(2)
	offsetSize, lengthSize, baseSize, indexSize := int(sizes>>12), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	for range f.itemID(version >= 2) {
		if len(f.rest) == 0 {
			break
		}
		id, method := f.itemID(version >= 2), uint64(0)
		if version >= 1 {
			method = f.number(2) & 15
		}
		f.number(2) // data reference
		base := f.number(baseSize)
		for i := range f.number(2) {
			if version >= 1 {
				f.number(indexSize)
			}
			offset, length := f.number(offsetSize), f.number(lengthSize)
			if id == item && i == 0 && method == 0 { // in the file itself
				return part(data, base+offset, length)
			}
			if len(f.rest) == 0 {
				break
			}
		}
	}
	return nil
}

// codesOf are the codes of a matrix of ITU-T H.273, table 4, with luma's weights of red and blue
// there; wide: of the full range.
func codesOf(matrix uint64, wide bool) yCbCr {
	switch matrix {
	case 1:
		return newCodes(0.2126, 0.0722, wide)
	case 9, 10:
		return newCodes(0.2627, 0.0593, wide)
	}
	if wide {
		return jfif
	}
	return bt601
}

// spaceOf is what the primaries and the curve of ITU-T H.273, tables 2 and 3, mean. Curves of
// television are taken for that of sRGB, by which photos so labelled are shown.
func spaceOf(primaries, transfer uint64) (s space) {
	switch primaries {
	case 1, 2:
	case 12:
		s.toSRGB = &p3ToSRGB
	default:
		s.unread = "of other primaries"
	}
	switch transfer {
	case 1, 2, 6, 13, 14, 15:
	default:
		s.unread = "of another tone curve"
	}
	return s
}

func (h *heif) config(io.Reader) (image.Config, error) {
	if h.width == 0 {
		return image.Config{}, errors.New("it doesn't say how large its picture is")
	}
	return image.Config{Width: h.width, Height: h.height}, nil
}

func (h *heif) decode(r io.Reader) (image.Image, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return heic.Decode(data)
}
