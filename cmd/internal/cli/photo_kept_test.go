package cli_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/programtest"
	"panecore/reports"
)

// The same photo and picks give the same bytes, whether or not others are read beside them.
func TestRunPhoto_sameBytes(t *testing.T) {
	list := programtest.PhotoTruths(t)[:4]
	outputs := func() map[string]string {
		out := map[string]string{}
		for _, p := range list {
			w := programtest.NewWorld(nil)
			w.Run(append([]string{"photo", "--json"}, p.Args()...)...)
			out[p.File] = w.Printed.String() + w.Told.String()
		}
		return out
	}
	first := outputs()
	beside := make(chan map[string]string)
	go func() { beside <- outputs() }()
	if diff := cmp.Diff(first, outputs()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(first, <-beside); diff != "" {
		t.Error(diff)
	}
}

// A toldBed is what the command says of a photo.
type toldBed struct {
	Reliable bool
	Layers   []struct {
		Band        string
		TopMM       float64          `json:"top_mm"`
		Thickness   reports.Estimate `json:"thickness_mm"`
		Hex         string
		Probability float64
	}
	Mulm *reports.Estimate `json:"mulm_mm"`
	Oxic *reports.Estimate `json:"oxic_depth_mm"`
}

// What is filed from a photo is told again by the logbook, and by what another logbook makes of its
// export: the same layers, names, probabilities and intervals.
func TestRunPhoto_keptAlike(t *testing.T) {
	k := newKeeper(t)
	k.run(0, "tank", "add", "hall", "--native", "#d5c8a5,sand")
	k.run(0, "photo", filepath.Join(programtest.Photos, "sand.jpg"), "--tank", "hall", "--station", "front", "--date", "2026-05-01", "--json",
		"--strip", "588,196,609,805", "--surface", "347", "--ruler", "183.4,93.5,183.4,1008.3,70mm", "--neutral", "1359,651,154,95")
	k.toldAlike()
}

// A tank that was taught tells the same at the photo and later; the names that the keeper gave to the first
// photo name the second, and stay when the first is read again.
func TestRunPhoto_taughtAlike(t *testing.T) {
	k := newKeeper(t)
	grey := filepath.Join(programtest.Photos, "grey.jpg")
	k.run(0, "tank", "add", "hall", "--native", "#dfd8c3,sand")
	k.run(0, "photo", grey, "--tank", "hall", "--station", "front", "--date", "2026-05-01",
		"--strip", "839,324,367,738", "--surface", "324", "--ruler", "1421.8,188,1423.5,1081.9,80mm", "--neutral", "83,267,162,87")
	k.run(0, "core", "amend", "hall", "--date", "2026-05-01", "--name", "1=mulm-light", "--name", "2=mulm-dark")
	k.run(0, "photo", grey, "--tank", "hall", "--date", "2026-05-01")
	k.run(0, "photo", grey, "--tank", "hall", "--date", "2026-06-01", "--json")
	var names []string
	for _, l := range k.toldAlike().Layers {
		names = append(names, l.Band)
	}
	if diff := cmp.Diff([]string{"mulm-light", "mulm-dark", "native", "grey", "native"}, names); diff != "" {
		t.Error(diff)
	}
}

// toldAlike compares what was just printed of a photo of the tank hall with what the logbook and its export tell.
func (k *keeper) toldAlike() (read toldBed) {
	k.Helper()
	if err := json.Unmarshal([]byte(k.stdout), &read); err != nil {
		k.Fatal(err)
	}
	if len(read.Layers) < 3 {
		k.Fatalf("read %d layers", len(read.Layers))
	}
	findings := func(text string) toldBed {
		k.Helper()
		var told struct {
			Tanks []struct{ Cores []toldBed }
		}
		if err := json.Unmarshal([]byte(text), &told); err != nil {
			k.Fatal(err)
		}
		core := told.Tanks[0].Cores[0]
		core.Reliable = read.Reliable // only the photo itself tells
		return core
	}
	k.run(0, "report", "hall", "--format", "json")
	if diff := cmp.Diff(read, findings(k.stdout)); diff != "" {
		k.Errorf("the photo told (-), the logbook tells (+):\n%s", diff)
	}
	k.run(0, "export", "hall")
	document := filepath.Join(k.TempDir(), "hall.json")
	if err := os.WriteFile(document, []byte(k.stdout), 0o666); err != nil {
		k.Fatal(err)
	}
	k.run(0, "interpret", document, "--json")
	if diff := cmp.Diff(read, findings(k.stdout)); diff != "" {
		k.Errorf("the photo told (-), its export tells (+):\n%s", diff)
	}
	return read
}
