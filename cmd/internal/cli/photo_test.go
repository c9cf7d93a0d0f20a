package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
)

// photoAnswer is what the command prints as JSON, as far as it is looked at here.
type photoAnswer struct {
	Reliable bool
	Layers   []struct {
		programtest.DrawnLayer
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

// drawnAt is the band that was drawn at a depth.
func drawnAt(p programtest.PhotoTruth, mm float64) string {
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
	for _, photo := range programtest.PhotoTruths(t) {
		t.Run(photo.File, func(t *testing.T) {
			w := programtest.NewWorld(nil)
			code := w.Run(append([]string{"photo", "--json"}, photo.Args()...)...)
			if code == 3 && photo.Refuse != "" {
				if told := w.Told.String(); w.Printed.Len() > 0 || strings.Count(told, "\n") != 1 || !strings.Contains(told, "; ") {
					t.Errorf("refused with %q and %d bytes of output, want one line with a reason and a help", told, w.Printed.Len())
				}
				return
			}
			var answer photoAnswer
			if err := json.Unmarshal(w.Printed.Bytes(), &answer); code != 0 || err != nil {
				t.Fatalf("exit code %d, %v: %s", code, err, &w.Told)
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
				if answer.bandAt(mm) == drawnAt(photo, mm) {
					right++
				}
			}
			least := 0.7
			if photo.File == "grey.jpg" { // its dark mulm is so pale that it passes for grey in the shade of its grains
				least = 0.5
			}
			if right/all < least {
				t.Errorf("%.0f %% of the depth has the right band", 100*right/all)
			}
		})
	}
}

// At a terminal the program asks whether what looks like water is. Yes is the same as marking the bed surface below it;
// whatever else is answered changes nothing that is read.
func TestRunPhoto_asksAboutWater(t *testing.T) {
	const asked = "look like water: is this water above the bed? [y/N] "
	file := filepath.Join(programtest.Photos, "sand.jpg")
	read := func(surface, answer string) (layers, told string) {
		w := programtest.NewWorld(nil)
		w.Stdin, w.StdinIsTerminal = strings.NewReader(answer), true
		if code := w.Run("photo", file, "--surface", surface, "--json"); code != 0 {
			t.Fatalf("%q: exit code %d: %s", answer, code, &w.Told)
		}
		return w.Printed.String(), w.Told.String()
	}
	bed, told := read("200", "")
	at := regexp.MustCompile(`--surface (\S+) begins`).FindStringSubmatch(told)
	if !strings.Contains(told, asked+"panecore: read as bed; ") || at == nil {
		t.Fatalf("told %q", told)
	}
	if again, _ := read("200", "n\n"); again != bed || strings.Contains(bed, `"water"`) {
		t.Error("no changes the reading, or leaves it in doubt")
	}
	below, told := read("200", "yes\n")
	if !strings.HasSuffix(told, asked) {
		t.Errorf("told %q", told)
	}
	if marked, told := read(at[1], ""); below != marked || told != "" || below == bed {
		t.Errorf("yes reads other than --surface %s, which tells %q", at[1], told)
	}
}

// Every photo that is read can be drawn.
func TestRunPhoto_overlays(t *testing.T) {
	drawn := 0
	for _, photo := range programtest.PhotoTruths(t) {
		if photo.Refuse != "" {
			continue
		}
		if drawn++; drawn > 1 && testing.Short() {
			t.Skip("skipped: all photos but the first, which take their time; run without -short")
		}
		w := programtest.NewWorld(nil)
		file := filepath.Join(t.TempDir(), "check.png")
		if code := w.Run(append([]string{"photo", "--overlay", file}, photo.Args()...)...); code != 0 {
			t.Fatalf("%s: exit code %d: %s", photo.File, code, &w.Told)
		}
		content, err := os.ReadFile(file)
		if err != nil || !strings.HasPrefix(string(content), "\x89PNG") {
			t.Errorf("%s: %v, %.4q", photo.File, err, content)
		}
	}
}
