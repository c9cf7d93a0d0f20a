package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// photoTruth is what is true of a photo, as testdata/photos/photos.json has it.
type photoTruth struct {
	File         string
	Picks        photoPicks
	Native, Kind string
	Layers       []drawnLayer
	Refuse       string // why it can't be read; empty: it can
}

// photoPicks is what is marked on a photo, px, and the ruler's length, mm.
type photoPicks struct {
	Strip   [4]float64
	Surface float64
	Ruler   [5]float64
	Neutral []struct{ Box [4]float64 }
}

type drawnLayer struct {
	Band  string
	TopMM float64 `json:"top_mm"`
}

func photoTruths(t *testing.T) []photoTruth { return recorded[photoTruth](t) }

// recorded is what is written down of each photo in testdata.
func recorded[T any](t *testing.T) (list []T) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(photos, "photos.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	return list
}

// args are a photo's file and picks on the command line.
func (p photoTruth) args() []string {
	ruler := p.Picks.Ruler
	args := []string{filepath.Join(photos, p.File), "--strip", joined(p.Picks.Strip[:]), "--surface", joined([]float64{p.Picks.Surface}),
		"--ruler", joined(ruler[:4]) + fmt.Sprintf(",%gmm", ruler[4]), "--native", p.Native + "," + p.Kind}
	for _, card := range p.Picks.Neutral {
		args = append(args, "--neutral", joined(card.Box[:]))
	}
	return args
}

func joined(list []float64) string {
	texts := make([]string, len(list))
	for i, number := range list {
		texts[i] = strconv.FormatFloat(number, 'g', -1, 64)
	}
	return strings.Join(texts, ",")
}

// photoAnswer is what the command prints as JSON, as far as it is looked at here.
type photoAnswer struct {
	Reliable bool
	Layers   []struct {
		drawnLayer
		Thickness struct{ Value float64 } `json:"thickness_mm"`
	}
}

func (a photoAnswer) bandAt(mm float64) string {
	band := ""
	for _, l := range a.Layers {
		if l.TopMM <= mm {
			band = l.Band
		}
	}
	return band
}

func (p photoTruth) bandAt(mm float64) string {
	band := ""
	for _, l := range p.Layers {
		if l.TopMM <= mm {
			band = l.Band
		}
	}
	return band
}

// What was drawn is read, to most of its depth; what nobody could read is refused with a
// reason, or said to be unreliable.
func TestRunPhoto_truth(t *testing.T) {
	for _, photo := range photoTruths(t) {
		t.Run(photo.File, func(t *testing.T) {
			w := newWorld(nil)
			code := w.run(append([]string{"photo", "--json"}, photo.args()...)...)
			if code == 3 && photo.Refuse != "" {
				if told := w.stderr.String(); w.stdout.Len() > 0 || strings.Count(told, "\n") != 1 || !strings.Contains(told, "; ") {
					t.Errorf("refused with %q and %d bytes of output, want one line with a reason and a help", told, w.stdout.Len())
				}
				return
			}
			var answer photoAnswer
			if err := json.Unmarshal(w.stdout.Bytes(), &answer); code != 0 || err != nil {
				t.Fatalf("exit code %d, %v: %s", code, err, &w.stderr)
			}
			if photo.Refuse != "" {
				if answer.Reliable {
					t.Errorf("%s: passed for reliable", photo.Refuse)
				}
				return
			}
			const step = 0.1 // mm
			last := answer.Layers[len(answer.Layers)-1]
			right, all := 0.0, 0.0
			for mm := step / 2; mm < last.TopMM+last.Thickness.Value; mm += step {
				all++
				if answer.bandAt(mm) == photo.bandAt(mm) {
					right++
				}
			}
			if right/all < 0.7 {
				t.Errorf("%.0f %% of the depth has the right band", 100*right/all)
			}
		})
	}
}

// Every photo that is read can be drawn.
func TestRunPhoto_overlays(t *testing.T) {
	for _, photo := range photoTruths(t) {
		if photo.Refuse != "" {
			continue
		}
		w := newWorld(nil)
		file := filepath.Join(t.TempDir(), "check.png")
		if code := w.run(append([]string{"photo", "--overlay", file}, photo.args()...)...); code != 0 {
			t.Fatalf("%s: exit code %d: %s", photo.File, code, &w.stderr)
		}
		content, err := os.ReadFile(file)
		if err != nil || !strings.HasPrefix(string(content), "\x89PNG") {
			t.Errorf("%s: %v, %.4q", photo.File, err, content)
		}
	}
}
