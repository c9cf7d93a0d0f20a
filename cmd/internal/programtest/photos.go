package programtest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Photos is the folder of the photos for tests, from a package of the program.
const Photos = "../../../testdata/photos"

// PhotoTruth is what is true of a photo, as testdata/photos/photos.json has it.
type PhotoTruth struct {
	File         string
	Picks        PhotoPicks
	Native, Kind string
	Layers       []DrawnLayer
	Refuse       string // why it can't be read; empty: it can
}

// PhotoPicks is what is marked on a photo, px, and the ruler's length, mm.
type PhotoPicks struct {
	Strip   [4]float64
	Surface float64
	Ruler   [5]float64
	Neutral []struct{ Box [4]float64 }
}

// DrawnLayer is a layer of a bed that was drawn.
type DrawnLayer struct {
	Band  string
	TopMM float64 `json:"top_mm"`
}

// PhotoTruths are what is true of each photo in testdata.
func PhotoTruths(t *testing.T) []PhotoTruth { return Recorded[PhotoTruth](t) }

// Recorded is what is written down of each photo in testdata.
func Recorded[T any](t *testing.T) (list []T) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(Photos, "photos.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// Path is where the photo stands.
func (p PhotoTruth) Path() string { return filepath.Join(Photos, p.File) }

// Args are a photo's file and picks on the command line.
func (p PhotoTruth) Args() []string {
	ruler := p.Picks.Ruler
	args := []string{p.Path(), "--strip", Joined(p.Picks.Strip[:]), "--surface", Joined([]float64{p.Picks.Surface}),
		"--ruler", Joined(ruler[:4]) + fmt.Sprintf(",%gmm", ruler[4]), "--native", p.Native + "," + p.Kind}
	for _, card := range p.Picks.Neutral {
		args = append(args, "--neutral", Joined(card.Box[:]))
	}
	return args
}

// Joined are numbers with commas between them.
func Joined(list []float64) string {
	texts := make([]string, len(list))
	for i, number := range list {
		texts[i] = strconv.FormatFloat(number, 'g', -1, 64)
	}
	return strings.Join(texts, ",")
}
