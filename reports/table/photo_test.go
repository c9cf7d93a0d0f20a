package table

import (
	"errors"
	"io"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// readPhoto is the first core of healthy, as a photo might have given it.
func readPhoto() reports.PhotoCore {
	core := healthy().Cores[0]
	core.Layers[1] = layer(12, 4, "#b4552a", palette.Rust, 0.55)
	core.Layers[1].Alternatives = []reports.Alternative{{Band: palette.Native, Probability: 0.41}}
	core.Reliable = true
	return reports.PhotoCore{Core: core, Photo: reports.Photo{
		PxPerMM: 13.064, RollDegrees: -1.24, GlareShare: 0.083,
		Correction: reports.Correction{Cards: 1, Gain: [3]float64{1.02, 0.994, 1.0113}, ExposureEV: 0.384, ExposureDoubt: 0.15},
		Surface:    reports.Relief{ErrorMM: 0.2, HighestMM: -1.1, LowestMM: 1.3},
		Warnings:   []string{"layer 2: 64 % of it is hidden by glare"},
	}}
}

func TestWritePhoto_golden(t *testing.T) {
	doubtful := readPhoto()
	doubtful.Reliable = false
	doubtful.Station, doubtful.Date = "", 0
	doubtful.Photo.Correction = reports.Correction{Gain: [3]float64{1, 1, 1}, ExposureEV: -0.2, ExposureDoubt: 0.6}
	next := []string{"Check it: --overlay FILE.png draws the reading onto the photo."}
	for name, test := range map[string]struct {
		read    reports.PhotoCore
		options Options
	}{
		"photo_80.txt":          {readPhoto(), Options{Width: 80}},
		"photo_60_ascii_in.txt": {doubtful, Options{Width: 60, ASCII: true, Units: layers.Inches}},
	} {
		golden(t, name, drawn(t, func(w io.Writer) error { return WritePhoto(w, "front.jpg", test.read, next, test.options) }))
	}
}

// What other photos taught is told with how the photo was read.
func TestWritePhoto_taught(t *testing.T) {
	read := readPhoto()
	read.Photo.TaughtBy = &reports.TaughtBy{Photos: 5, OfStation: 3}
	text := drawn(t, func(w io.Writer) error { return WritePhoto(w, "f.jpg", read, nil, Options{Width: 100}) })
	if want := "\n  names    Starts from what 5 photos of this tank taught, 3 of them of this place.\n"; !strings.Contains(text, want) {
		t.Errorf("lacks %q:\n%s", want, text)
	}
}

func TestPhotoTitle(t *testing.T) {
	for want, core := range map[string]reports.Core{
		"f.jpg":                         {},
		"f.jpg: read 2026-11-01":        {Reliable: true, Date: date("2026-11-01")},
		"f.jpg: front, read 2026-11-01": {Reliable: true, Station: "front", Date: date("2026-11-01")},
	} {
		if got := photoTitle("f.jpg", core); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestWriteSwatch(t *testing.T) {
	swatch := reports.Swatch{
		Hex: hex("#8b5e3c"), Lab: [3]float64{43.2, 14.96, -26.8}, Spread: 6.13, MaskedShare: 0.021,
		Bands:    []reports.Meaning{{Band: palette.MulmLight, Probability: 0.61}, {Band: palette.Native, Kind: "gravel", Probability: 0.2}},
		Warnings: []string{"no card"},
	}
	want := `  #8b5e3c by itself may mean mulm-light 61 %, native (gravel) 20 %
  L* 43.2, a* 15.0, b* -26.8; its grains differ from it by 6.1 CIEDE2000; 2 %
  left out as glare

Warnings
  * no card
`
	if got := drawn(t, func(w io.Writer) error { return WriteSwatch(w, swatch, Options{Width: 80, ASCII: true}) }); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// What a file is called can't act on the terminal.
func TestWritePhoto_controlCharacters(t *testing.T) {
	text := drawn(t, func(w io.Writer) error { return WritePhoto(w, "a\x1b[2Jb\n.jpg", readPhoto(), nil, Options{Width: 80}) })
	if strings.Contains(text, "\x1b") || !strings.HasPrefix(text, "ab .jpg: front") {
		t.Errorf("got %.40q", text)
	}
}

func TestWritePhoto_writerFails(t *testing.T) {
	broken := errors.New("no paper")
	for name, write := range map[string]func(io.Writer) error{
		"photo":  func(w io.Writer) error { return WritePhoto(w, "f.jpg", readPhoto(), nil, Options{}) },
		"swatch": func(w io.Writer) error { return WriteSwatch(w, reports.Swatch{}, Options{}) },
	} {
		if err := write(failing{broken}); !errors.Is(err, broken) {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
