package figure

import (
	"bytes"
	"image"
	"testing"

	"panecore/layers"
	"panecore/layers/tag"
	"panecore/reports/figure/pen"
)

// drawnTags draws two tags whose modules are 1.5 mm, whole pixels in the stored picture: other programs round the edges
// of small squares in their own ways.
func drawnTags(measured float64) *pen.Figure {
	f, err := Tags([]tag.Tag{{Tank: "kettle", Station: "front", SizeMM: 55}, {Tank: "Weir", Station: "Süd", SizeMM: 55}}, measured, layers.MM)
	if err != nil {
		panic(err)
	}
	return f
}

func TestTags_refusesWhatNoTagHolds(t *testing.T) {
	for _, bad := range []tag.Tag{{Tank: "", Station: "front", SizeMM: 40}, {Tank: "kettle", Station: "front", SizeMM: 5}} {
		if _, err := Tags([]tag.Tag{bad}, checkLine, layers.MM); err == nil {
			t.Errorf("%v: drawn, want it refused", bad)
		}
	}
}

// A printer that makes 100 mm 95 mm long makes a sheet drawn for it true.
func TestTags_measuredPrintTrue(t *testing.T) {
	const pxPerMM = 10
	length := func(f *pen.Figure) (longest int) {
		var b bytes.Buffer
		if err := f.WritePNG(&b, pxPerMM); err != nil {
			t.Fatal(err)
		}
		img, _, err := image.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		for y := range img.Bounds().Dy() {
			run := 0
			for x := range img.Bounds().Dx() {
				if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
					run++
					longest = max(longest, run)
				} else {
					run = 0
				}
			}
		}
		return longest
	}
	if got := length(drawnTags(100)); got < 997 || got > 1004 {
		t.Errorf("found the longest line %d px, want 1000", got)
	}
	if got := float64(length(drawnTags(95))) * 0.95; got < 997 || got > 1004 {
		t.Errorf("found the longest line %.0f px at 95 %%, want 1000", got)
	}
}
