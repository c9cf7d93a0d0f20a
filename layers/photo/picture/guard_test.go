package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// claim is a PNG of 72 bytes that says it is so large.
func claim(width, height uint32) []byte {
	chunk := func(name string, content []byte) []byte {
		c := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
		c = append(append(c, name...), content...)
		return binary.BigEndian.AppendUint32(c, crc32.ChecksumIEEE(c[4:]))
	}
	head := binary.BigEndian.AppendUint32(nil, width)
	head = binary.BigEndian.AppendUint32(head, height)
	head = append(head, 8, 2, 0, 0, 0) // 8 bits, RGB
	file := append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", head)...)
	file = append(file, chunk("IDAT", make([]byte, 15))...)
	return append(file, chunk("IEND", nil)...)
}

// refused checks that a file is refused in a line that begins so, for next to no memory.
func refused(t *testing.T, what string, data []byte, want string) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Decode(data)
	runtime.ReadMemStats(&after)
	if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), "\n") {
		t.Errorf("%s: got %v, want a line that begins %q", what, err, want)
	}
	if used := after.TotalAlloc - before.TotalAlloc; used > 1<<20 {
		t.Errorf("%s: took %d bytes of memory to refuse", what, used)
	}
}

func TestDecode_guards(t *testing.T) {
	if n := len(claim(1, 1)); n != 72 {
		t.Fatalf("the claims have %d bytes, want 72", n)
	}
	refused(t, "60000 x 60000", claim(60_000, 60_000), "found 60000 x 60000 pixels, want sides of at most 20000")
	refused(t, "20001 x 1", claim(20_001, 1), "found 20001 x 1 pixels, want sides of at most 20000")
	refused(t, "8001 x 8000", claim(8001, 8000), "found 8001 x 8000 pixels, want at most 64 million in all")
	refused(t, "8000 x 8000", claim(8000, 8000), "found 8000 x 8000 pixels claimed by a file of 72 bytes, want a whole file")
	refused(t, "0 x 9", claim(0, 9), "found a PNG file that is cut off or damaged (")
	frame := []byte("\xff\xc0\x00\x11\x08\x00\x25\x00\x2d") // 8 bits, 37 rows, 45 columns
	refused(t, "no column", bytes.Replace(readFile(t, "baseline-420.jpg"), frame, []byte("\xff\xc0\x00\x11\x08\x00\x25\x00\x00"), 1),
		"found a picture of 0 x 37 pixels, want one with content")
	refused(t, "too many bytes", make([]byte, MaxBytes+1), "found more than 64 MB, want at most that: ")
}

// heicOf is a HEIC picture with another size, main brand and kind of orientation property.
func heicOf(t *testing.T, width, height uint32, brand string) []byte {
	t.Helper()
	data := bytes.Clone(readFile(t, "420.heic"))
	copy(data[8:], brand)
	size := func(w, h uint32) []byte {
		return binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	}
	return bytes.Replace(data, size(45, 37), size(width, height), 1)
}

func TestDecode_heicGuards(t *testing.T) {
	refused(t, "60000 x 60000", heicOf(t, 60_000, 60_000, "heic"), "found 60000 x 60000 pixels, want sides of at most 20000")
	refused(t, "8001 x 8000", heicOf(t, 8001, 8000, "heic"), "found 8001 x 8000 pixels, want at most 64 million in all")
	refused(t, "no size", bytes.Replace(heicOf(t, 45, 37, "heic"), []byte("ispe"), []byte("gone"), -1), "found a HEIC file that is cut off or damaged (it doesn't say how large")
	if p, err := Decode(heicOf(t, 45, 37, "mif1")); err != nil || p.Width != 45 {
		t.Errorf("the brand of any HEIF file: got %v, %v", p, err)
	}
}

// The turns of a HEIC file are its own: EXIF's orientation alone turns nothing, and beside them it
// turns nothing a second time, as the variants show.
func TestDecode_heicOrientation(t *testing.T) {
	if p := decodeFile(t, "exif-only.heic"); p.Width != 45 || p.Height != 37 || p.Taken != "2026-11-01" {
		t.Errorf("got %d x %d, %q, want the pixels as they are stored and the date", p.Width, p.Height, p.Taken)
	}
}

// A blank sheet is the densest picture there is, and not taken for a false claim.
func TestDecode_blank(t *testing.T) {
	var file bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&file, image.NewGray(image.Rect(0, 0, 4000, 3000))); err != nil {
		t.Fatal(err)
	}
	if p, err := Decode(file.Bytes()); err != nil || p.Width != 4000 || p.Height != 3000 {
		t.Errorf("got %v, %v from %d bytes", p, err, file.Len())
	}
}

// A line of pixels, or a single one, is a picture.
func TestDecode_thin(t *testing.T) {
	for _, size := range []image.Point{{1, 1}, {1, 9}, {9, 1}} {
		var file bytes.Buffer
		if err := png.Encode(&file, image.NewGray(image.Rectangle{Max: size})); err != nil {
			t.Fatal(err)
		}
		if p, err := Decode(file.Bytes()); err != nil || p.Width != size.X || p.Height != size.Y {
			t.Errorf("%v: got %v, %v", size, p, err)
		}
	}
}

func TestDecode_otherKinds(t *testing.T) {
	const kinds = "want a JPEG, HEIC, PNG, WebP or TIFF picture"
	precision := bytes.Replace(readFile(t, "baseline-420.jpg"), []byte("\xff\xc0\x00\x11\x08"), []byte("\xff\xc0\x00\x11\x0c"), 1)
	// The first directory of a raw file: one entry, NewSubfileType 1.
	raw := []byte("II*\x00\x08\x00\x00\x00" + "\x01\x00" + "\xfe\x00\x04\x00\x01\x00\x00\x00\x01\x00\x00\x00" + "\x00\x00\x00\x00")
	for _, c := range []struct {
		what, want string
		data       []byte
	}{
		{"nothing", "found an empty file, " + kinds, nil},
		{"HEIF", "found an AVIF picture or a series of pictures, " + kinds + ": save or export one as JPEG", []byte("\x00\x00\x00\x14ftypmif1\x00\x00\x00\x00mif1")},
		{"AVIF", "found an AVIF picture or a series of pictures, ", []byte("\x00\x00\x00\x20ftypavif\x00\x00\x00\x00avifmif1")},
		{"video", `found a file that begins with "\x00\x00\x00 ftyp", ` + kinds, []byte("\x00\x00\x00\x20ftypmp42")},
		{"text", `found a file that begins with "depth,co", ` + kinds, []byte("depth,colour\n")},
		{"one byte", `found a file that begins with "\xff", ` + kinds, []byte("\xff")},
		{"raw", "found a camera's raw file, want a picture made from it: export it as JPEG", raw},
		{"12 bits", "found a kind of JPEG that panecore can't read (unsupported JPEG feature: precision), want 8 bits per colour", precision},
	} {
		refused(t, c.what, c.data, c.want)
	}
}

// Files cut off at half their length, and wherever a 16th ends: an error in one line.
func TestDecode_cutOff(t *testing.T) {
	for _, v := range variants {
		whole := readFile(t, v.file)
		for n := range 16 {
			if _, err := Decode(whole[:len(whole)*n/16]); err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("%s: more than a line: %v", v.file, err)
			}
		}
		_, err := Decode(whole[:len(whole)/2])
		want := "found a " + map[string]string{".jpg": "JPEG", ".png": "PNG", ".webp": "WebP", ".tif": "TIFF", ".heic": "HEIC"}[filepath.Ext(v.file)] +
			" file that is cut off or damaged ("
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: got %v, want a line that begins %q", v.file, err, want)
		}
	}
}

func TestDecode_bytesAreFree(t *testing.T) {
	data := readFile(t, "none.tif") // not packed: its pixels stand in the file as in memory
	p, err := Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	before, after := make([]Light, p.Width), make([]Light, p.Width)
	p.Row(before, 0, 5)
	clear(data)
	p.Row(after, 0, 5)
	for x := range before {
		if before[x] != after[x] {
			t.Fatalf("the picture changed with the bytes it was read from")
		}
	}
}
