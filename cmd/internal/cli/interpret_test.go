package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
)

// Every bad document of testdata/bad gives its faults, a line each behind the
// file's name, and nothing else.
func TestRunInterpret_badDocuments(t *testing.T) {
	documents, err := filepath.Glob("../../../testdata/bad/*.json")
	if err != nil || len(documents) < 60 {
		t.Fatalf("found %d bad documents, want 60 or more (%v)", len(documents), err)
	}
	for _, path := range documents {
		t.Run(filepath.Base(path), func(t *testing.T) {
			faults, err := os.ReadFile(strings.TrimSuffix(path, ".json") + ".want")
			if err != nil {
				t.Fatal(err)
			}
			var want strings.Builder
			for line := range strings.Lines(string(faults)) {
				want.WriteString("panecore: " + path + ": " + line)
			}
			w := programtest.NewWorld(nil)
			if code := w.Run("interpret", path); code != 2 || w.Printed.Len() > 0 || w.Told.String() != want.String() {
				t.Errorf("exit code %d, output %q, faults\n%swant 2, none and\n%s", code, &w.Printed, &w.Told, &want)
			}
		})
	}
}
