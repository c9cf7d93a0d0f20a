package layers

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "renew the golden files")

func TestDecode_badDocuments(t *testing.T) {
	documents, err := filepath.Glob("../testdata/bad/*.json")
	if err != nil || len(documents) < 60 {
		t.Fatalf("found %d bad documents, want 60 or more (%v)", len(documents), err)
	}
	for _, path := range documents {
		t.Run(filepath.Base(path), func(t *testing.T) {
			document, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			_, err = Decode(bytes.NewReader(document), today)
			if _, ok := errors.AsType[Faults](err); !ok {
				t.Fatalf("got %v, want faults", err)
			}
			golden := strings.TrimSuffix(path, ".json") + ".want"
			got := err.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
}
