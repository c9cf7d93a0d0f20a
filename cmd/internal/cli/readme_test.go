package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
	"panecore/reports/figure/likeness"
)

// readmePictures is the folder of the README's pictures: files of 'demo --out' as they are,
// and pictures of the local page.
const readmePictures = "../../../testdata/readme"

// The README shows its pictures, and those of the demo are what the program draws. Renewed
// with -update.
func TestReadme_picturesAreFresh(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	stored, err := filepath.Glob(filepath.Join(readmePictures, "*.png"))
	if err != nil || len(stored) < 4 {
		t.Fatalf("%d pictures in %s, want 4 or more: %v", len(stored), readmePictures, err)
	}
	drawn := t.TempDir()
	if w := programtest.NewWorld(nil); w.Run("demo", "--out", drawn) != 0 {
		t.Fatal(&w.Told)
	}
	for _, path := range stored {
		name := filepath.Base(path)
		if !strings.Contains(string(readme), "](testdata/readme/"+name+")") {
			t.Errorf("%s is not shown in the README", name)
		}
		if strings.HasPrefix(name, "serve-") { // of the local page, held fresh beside the server
			continue
		}
		got, err := os.ReadFile(filepath.Join(drawn, name))
		if err != nil {
			t.Fatal(err)
		}
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if off, err := likeness.Differing(got, want); err != nil || off > 0.0005 {
			t.Errorf("%s is stale: %.2f %% of its pixels differ (%v); renew it with -update and look at it", name, 100*off, err)
		}
	}
}
