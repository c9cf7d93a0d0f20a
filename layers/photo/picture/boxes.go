package picture

import (
	"encoding/binary"
	"iter"
)

// boxes lists the boxes of a HEIF file or of a box: length, name, content (ISO/IEC 14496-12, 4.2). It
// ends at one that does not fit.
func boxes(data []byte) iter.Seq2[string, []byte] {
	return func(yield func(string, []byte) bool) {
		for len(data) >= 8 {
			head, size := uint64(8), uint64(binary.BigEndian.Uint32(data))
			switch {
			case size == 0: // up to the end
				size = uint64(len(data))
			case size == 1 && len(data) >= 16:
				head, size = 16, binary.BigEndian.Uint64(data[8:])
			}
			if size < head || size > uint64(len(data)) || !yield(string(data[4:8]), data[head:size]) {
				return
			}
			data = data[size:]
		}
	}
}

// fields reads numbers from a box, most significant byte first. Past the end all are 0.
type fields struct{ rest []byte }

func (f *fields) number(bytes int) (n uint64) {
	if bytes > len(f.rest) {
		f.rest = nil
		return 0
	}
	for _, b := range f.rest[:bytes] {
		n = n<<8 | uint64(b)
	}
	f.rest = f.rest[bytes:]
	return n
}

// version reads the head of a full box: its version and flags.
func (f *fields) version() (version, flags uint64) { return f.number(1), f.number(3) }

// itemID is a number of two bytes, or of four in later versions of a box.
func (f *fields) itemID(long bool) uint64 {
	if long {
		return f.number(4)
	}
	return f.number(2)
}
