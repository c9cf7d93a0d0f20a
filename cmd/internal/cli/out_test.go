package cli_test

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/programtest"
	"panecore/layers"
	"panecore/layers/logbook"
)

// A terminal never gets the bytes of a picture or a page, but one line that tells the way
// out; a pipe gets them.
func TestOut_neverOntoATerminal(t *testing.T) {
	k := newKeeper(t)
	k.run(0, "import", "../../../testdata/contract.json")
	for way, command := range map[string]string{
		"F.svg":       "timeline kettle --out -",
		"kettle.html": "report kettle --format html",
		"sheet.html":  "sheet",
	} {
		for _, terminal := range []bool{true, false} {
			w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": k.logbook})
			w.StdoutIsTerminal = terminal
			code := w.Run(strings.Fields(command)...)
			want := "panecore: standard output: found a terminal, want a file: --out " + way + "\n"
			if terminal && (code != 2 || w.Printed.Len() > 0 || w.Told.String() != want) {
				t.Errorf("%s: exit code %d, %q, %q, want 2 and %q", command, code, &w.Printed, &w.Told, want)
			}
			if !terminal && (code != 0 || w.Printed.Len() == 0) {
				t.Errorf("%s: exit code %d, %q, wrote %d bytes", command, code, &w.Told, w.Printed.Len())
			}
		}
	}
}

// The demo's pictures and pages are the same byte by byte, whatever the clock says.
func TestDemoOut_sameBytes(t *testing.T) {
	first, err := demoFiles()
	if err != nil {
		t.Fatal(err)
	}
	if len(first) != 63 {
		t.Errorf("wrote %d files, want 63", len(first))
	}
	if testing.Short() {
		t.Skip("skipped: writes the demo once more, which takes its time; run without -short")
	}
	again, err := writtenDemo(time.Date(2031, 1, 1, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(sums(first), sums(again)); diff != "" {
		t.Errorf("another day, other bytes:\n%s", diff)
	}
}

// demoFiles are the demo's pictures and pages by name, written once for all tests.
var demoFiles = sync.OnceValues(func() (map[string][]byte, error) {
	return writtenDemo(time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC))
})

// writtenDemo is what 'demo --out' writes at a time, by file name.
func writtenDemo(now time.Time) (files map[string][]byte, err error) {
	folder, err := os.MkdirTemp("", "demo")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	w := programtest.NewWorld(nil)
	w.Now = func() time.Time { return now }
	if code := w.Run("demo", "--out", folder); code != 0 {
		return nil, fmt.Errorf("exit code %d: %s", code, &w.Told)
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	files = map[string][]byte{}
	for _, entry := range entries {
		if files[entry.Name()], err = os.ReadFile(filepath.Join(folder, entry.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// sums are the SHA-256 of files by name.
func sums(files map[string][]byte) map[string]string {
	found := map[string]string{}
	for name, content := range files {
		found[name] = fmt.Sprintf("%x", sha256.Sum256(content))
	}
	return found
}

// A photo that reads otherwise than its core tells is shown, but what was read is not drawn
// onto it; one that is no picture is left out. Either is told, and the page is made.
func TestReportPage_photoThatSaysOtherwise(t *testing.T) {
	k := photographed(t)
	page := filepath.Join(t.TempDir(), "kettle.html")
	k.run(0, "report", "kettle", "--out", page)
	if want := "panecore: left out the photo of core front " + photoDay.String() + ": "; !strings.HasPrefix(k.stderr, want) {
		t.Errorf("told %q of a photo that is none, want %q", k.stderr, want)
	}
	k.run(0, "core", "remove", "kettle", "--date", photoDay.String(), "--yes")
	k.file("sand.jpg", layers.Layer{ThicknessMM: 12, Edge: &layers.Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}}, layers.Layer{ThicknessMM: 4})
	k.run(0, "report", "kettle", "--out", page, "--force")
	if want := "panecore: nothing was drawn on the photo of core front " + photoDay.String() + ": its layers are no longer those of the photo: "; !strings.HasPrefix(k.stderr, want) {
		t.Errorf("told %q, want %q", k.stderr, want)
	}
	content, err := os.ReadFile(page)
	if count := strings.Count(string(content), `<img src="data:image/jpeg`); err != nil || count != 1 {
		t.Errorf("found %d photos in the page, want 1; %v", count, err)
	}
}

// A photo whose edges and names the keeper has changed shows what was filed, and which edges the keeper set.
func TestReportPage_ownEdges(t *testing.T) {
	k := photographed(t)
	k.run(0, "core", "remove", "kettle", "--date", photoDay.String(), "--yes")
	k.run(0, "photo", filepath.Join(programtest.Photos, "sand.jpg"), "--tank", "kettle", "--station", "front", "--date", photoDay.String(),
		"--strip", "588,196,609,805", "--surface", "347", "--ruler", "183.4,93.5,183.4,1008.3,70mm")
	k.moveFirstEdge("front", -1)
	page := filepath.Join(t.TempDir(), "kettle.html")
	k.run(0, "report", "kettle", "--out", page)
	content, err := os.ReadFile(page)
	if count := strings.Count(string(content), `<img src="data:image/jpeg`); err != nil || count != 2 || !strings.Contains(string(content), "set by hand: the foot of ") {
		t.Errorf("found %d pictures in the page, want the photo and what was filed; told %q; %v", count, k.stderr, err)
	}
}

// moveFirstEdge moves the foot of the first layer of the kettle's core from a photo by mm.
func (k *keeper) moveFirstEdge(station string, mm float64) {
	k.Helper()
	book, err := logbook.Open(k.Context(), k.logbook, false)
	if err != nil {
		k.Fatal(err)
	}
	defer book.Close()
	tank, err := book.Tank(k.Context(), "kettle")
	if err != nil {
		k.Fatal(err)
	}
	for _, core := range tank.Cores {
		if core.Station == station && core.Photo != nil {
			core.Layers[0].ThicknessMM += mm
			core.Layers[1].ThicknessMM -= mm
			if err := book.AmendCore(k.Context(), programtest.NewWorld(nil).Now(), "kettle", station, core.Date, core); err != nil {
				k.Fatal(err)
			}
		}
	}
}

// file files a photo of the tests as the kettle's core, with layers that were not read from it.
func (k *keeper) file(name string, layered ...layers.Layer) {
	k.Helper()
	content, err := os.ReadFile(filepath.Join(programtest.Photos, name))
	if err != nil {
		k.Fatal(err)
	}
	book, err := logbook.Open(k.Context(), k.logbook, false)
	if err != nil {
		k.Fatal(err)
	}
	defer book.Close()
	core := layers.Core{Date: photoDay, Station: "front", Layers: layered,
		Photo: &layers.Photo{SHA256: fmt.Sprintf("%x", sha256.Sum256(content)), Surface: layers.Edge{HighestMM: -1.1, LowestMM: 1.3}}}
	picks := []byte(`{"strip": [588, 196, 609, 805], "surface": 347, "ruler": [183.4, 93.5, 183.4, 1008.3, 70]}`)
	photo := logbook.Photo{Kind: "jpeg", Width: 40, Height: 30, Picks: picks, Preview: []byte("small")}
	if _, err := book.FileCore(k.Context(), programtest.NewWorld(nil).Now(), "kettle", core, photo, content, false); err != nil {
		k.Fatal(err)
	}
}
