package scene

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var (
	dump = flag.String("dump", "", "write every scene's JPEG and truth.json into this folder")
	only = flag.String("only", "", "dump only scenes whose name matches this pattern")
)

func TestScenes_dump(t *testing.T) {
	if *dump == "" {
		t.Skip("no -dump")
	}
	records := map[string]record{}
	for _, s := range Scenes() {
		if ok, _ := filepath.Match(*only, s.Name); *only != "" && !ok {
			continue
		}
		photo := s.Render()
		records[s.Name+".jpg"] = s.record(photo.Truth)
		if err := os.WriteFile(filepath.Join(*dump, s.Name+".jpg"), photo.JPEG, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := json.MarshalIndent(records, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*dump, "truth.json"), text, 0o644); err != nil {
		t.Fatal(err)
	}
}
