package picture

import (
	"encoding/binary"
	"time"
)

// Tags of TIFF 6.0 and EXIF 2.3.
const (
	tagSubfileType      = 0x00fe
	tagOrientation      = 0x0112
	tagDateTime         = 0x0132
	tagEXIF             = 0x8769 // offset of the directory of EXIF's own tags
	tagICCProfile       = 0x8773
	tagDateTimeOriginal = 0x9003
)

// readEXIF finds a photo's orientation and when it was taken, YYYY-MM-DD or empty. It ignores
// what it can't read: bad metadata don't spoil a photo.
func readEXIF(block []byte) (o orientation, taken string) {
	main := firstDirectory(block)
	o = upright
	if n := main.number(tagOrientation); 1 <= n && n <= 8 {
		o = orientation(n)
	}
	taken = directoryAt(block, main.order, main.number(tagEXIF)).day(tagDateTimeOriginal)
	if taken == "" {
		taken = main.day(tagDateTime)
	}
	return o, taken
}

// A directory is a list of entries (TIFF 6.0, section 2). The zero value is an empty one.
type directory struct {
	file    []byte // offsets count from its start
	order   binary.ByteOrder
	entries []byte
}

func firstDirectory(file []byte) directory {
	switch {
	case starts(file, "II*\x00????"):
		return directoryAt(file, binary.LittleEndian, binary.LittleEndian.Uint32(file[4:]))
	case starts(file, "MM\x00*????"):
		return directoryAt(file, binary.BigEndian, binary.BigEndian.Uint32(file[4:]))
	}
	return directory{}
}

// entrySize is the length of an entry, bytes: tag, type, count, and the value or its offset.
const entrySize = 12

// directoryAt reads as many whole entries as the file has. Offset 0 means no directory.
func directoryAt(file []byte, order binary.ByteOrder, offset uint32) directory {
	head := part(file, uint64(offset), 2)
	if head == nil || offset == 0 {
		return directory{}
	}
	rest := file[offset+2:]
	count := min(int(order.Uint16(head)), len(rest)/entrySize)
	return directory{file, order, rest[:count*entrySize]}
}

// part is size bytes of a file from offset on; nil: the file is too short.
func part(file []byte, offset, size uint64) []byte {
	if size > uint64(len(file)) || offset > uint64(len(file))-size {
		return nil
	}
	return file[offset : offset+size]
}

// Types of TIFF 6.0.
const (
	typeText      = 2
	typeShort     = 3
	typeLong      = 4
	typeUndefined = 7
)

// value is the value of an entry; nil: there is none of this type.
func (d directory) value(tag, kind uint16) []byte {
	for entry := d.entries; len(entry) > 0; entry = entry[entrySize:] {
		if d.order.Uint16(entry) != tag || d.order.Uint16(entry[2:]) != kind {
			continue
		}
		size := uint64(d.order.Uint32(entry[4:]))
		switch kind {
		case typeShort:
			size *= 2
		case typeLong:
			size *= 4
		}
		if size <= 4 { // a short value is in the entry itself
			return entry[8 : 8+size]
		}
		return part(d.file, uint64(d.order.Uint32(entry[8:])), size)
	}
	return nil
}

// number is an entry's first whole number, or 0.
func (d directory) number(tag uint16) uint32 {
	if short := d.value(tag, typeShort); len(short) >= 2 {
		return uint32(d.order.Uint16(short))
	}
	if long := d.value(tag, typeLong); len(long) >= 4 {
		return d.order.Uint32(long)
	}
	return 0
}

// day is the date, YYYY-MM-DD, of an entry such as "2026:11:01 07:30:00"; empty: no date.
func (d directory) day(tag uint16) string {
	text := part(d.value(tag, typeText), 0, uint64(len("2026:11:01")))
	day, err := time.Parse("2006:01:02", string(text))
	if err != nil {
		return ""
	}
	return day.Format("2006-01-02")
}
