package picture

import (
	"bytes"
	"encoding/binary"
	"testing"
)

// An entry of a directory for tests: text, or numbers of a type.
type entry struct {
	tag, kind uint16
	text      string
	numbers   []uint32
}

// exifBlock lays out a directory at 8, EXIF's own behind it, and then the longer values.
func exifBlock(order binary.AppendByteOrder, main, own []entry) []byte {
	block := []byte("MM\x00*\x00\x00\x00\x08")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		block = []byte("II*\x00\x08\x00\x00\x00")
	}
	ownAt := 8 + 2 + entrySize*(len(main)+1) + 4
	values := ownAt + 2 + entrySize*len(own) + 4
	main = append(main[:len(main):len(main)], entry{tag: tagEXIF, kind: typeLong, numbers: []uint32{uint32(ownAt)}})
	var long []byte
	for _, entries := range [][]entry{main, own} {
		block = order.AppendUint16(block, uint16(len(entries)))
		for _, e := range entries {
			value, count := []byte(e.text+"\x00"), len(e.text)+1
			if e.text == "" {
				value, count = nil, len(e.numbers)
				for _, n := range e.numbers {
					if e.kind == typeShort {
						value = order.AppendUint16(value, uint16(n))
					} else {
						value = order.AppendUint32(value, n)
					}
				}
			}
			block = order.AppendUint32(order.AppendUint16(order.AppendUint16(block, e.tag), e.kind), uint32(count))
			if len(value) <= 4 {
				block = append(block, append(value, 0, 0, 0, 0)[:4]...)
				continue
			}
			block = order.AppendUint32(block, uint32(values+len(long)))
			long = append(long, value...)
		}
		block = order.AppendUint32(block, 0) // no next directory
	}
	return append(block, long...)
}

func orient(n uint32) entry { return entry{tag: tagOrientation, kind: typeShort, numbers: []uint32{n}} }

func changed(text string) entry { return entry{tag: tagDateTime, kind: typeText, text: text} }

func taken(text string) entry { return entry{tag: tagDateTimeOriginal, kind: typeText, text: text} }

func TestReadEXIF(t *testing.T) {
	const first, second = "2026:11:01 07:30:00", "2026:11:02 08:00:00"
	for _, c := range []struct {
		what      string
		main, own []entry
		lies      orientation
		day       string
	}{
		{"nothing", nil, nil, 1, ""},
		{"both dates", []entry{orient(6), changed(second)}, []entry{taken(first)}, 6, "2026-11-01"},
		{"DateTime alone", []entry{changed(second)}, nil, 1, "2026-11-02"},
		{"DateTimeOriginal blank", []entry{changed(second)}, []entry{taken("    :  :     :  :  ")}, 1, "2026-11-02"},
		{"a clock never set", []entry{orient(3)}, []entry{taken("0000:00:00 00:00:00")}, 3, ""},
		{"30 February", nil, []entry{taken("2026:02:30 07:30:00")}, 1, ""},
		{"29 February", nil, []entry{taken("2028:02:29 07:30:00")}, 1, "2028-02-29"},
		{"other signs", nil, []entry{taken("2026-11-01 07:30:00")}, 1, ""},
		{"a day without a time", nil, []entry{taken("2026:11:01")}, 1, "2026-11-01"},
		{"cut short", nil, []entry{taken("2026:11")}, 1, ""},
		{"orientation 0", []entry{orient(0)}, nil, 1, ""},
		{"orientation 9", []entry{orient(9)}, nil, 1, ""},
		{"orientation 256 + 6", []entry{orient(256 + 6)}, nil, 1, ""},
		{"a long orientation", []entry{{tag: tagOrientation, kind: typeLong, numbers: []uint32{8}}}, nil, 8, ""},
		{"orientation as text", []entry{{tag: tagOrientation, kind: typeText, text: "6"}}, nil, 1, ""},
	} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			lies, day := readEXIF(exifBlock(order, c.main, c.own))
			if lies != c.lies || day != c.day {
				t.Errorf("%s, %v: got orientation %d and date %q, want %d and %q", c.what, order, lies, day, c.lies, c.day)
			}
		}
	}
}

// A broken label costs no photo: whatever byte of it is spoilt, the pixels stay the same,
// or turned.
func TestDecode_brokenEXIF(t *testing.T) {
	whole := readFile(t, "orientation-1.jpg")
	at := bytes.Index(whole, []byte(exifHead))
	size := int(binary.BigEndian.Uint16(whole[at-2:])) - 2
	for i := range size {
		for _, spoilt := range []byte{0, 0xff, whole[at+i] ^ 0x10} {
			data := bytes.Clone(whole)
			data[at+i] = spoilt
			p, err := Decode(data)
			if err != nil || p.Width*p.Height != 45*37 {
				t.Fatalf("byte %d as %d: got %v, %v", i, spoilt, p, err)
			}
		}
	}
}

// A directory that points at itself is read once.
func TestReadEXIF_loop(t *testing.T) {
	block := exifBlock(binary.LittleEndian, []entry{orient(6)}, nil)
	binary.LittleEndian.PutUint32(block[8+2+entrySize+8:], 8) // where EXIF's own directory stands
	if lies, day := readEXIF(block); lies != 6 || day != "" {
		t.Errorf("got orientation %d and date %q, want 6 and none", lies, day)
	}
}
