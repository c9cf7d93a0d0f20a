package pen

import (
	"bytes"
	"image/png"
	"math"
	"testing"
)

// A PNG file tells how large it is printed, and is read all the same.
func TestWritePNG_sizeInPrint(t *testing.T) {
	f := NewFigure("words", 118.3)
	f.Height = 40
	f.Text(Margin, 20, "words", Usual)
	var file bytes.Buffer
	if err := f.WritePNG(&file, 8); err != nil {
		t.Fatal(err)
	}
	chunk := []byte("\x00\x00\x00\x09pHYs\x00\x00\x1f\x40\x00\x00\x1f\x40\x01") // 8000 pixels a metre
	if at := bytes.Index(file.Bytes(), chunk); at != pngHead {
		t.Errorf("the size in print stands at %d, want it behind the head of %d bytes", at, pngHead)
	}
	read, err := png.Decode(&file)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := read.Bounds().Dx(), int(math.Ceil(8*f.Width)); got != want {
		t.Errorf("read back %d pixels wide, want %d", got, want)
	}
}
