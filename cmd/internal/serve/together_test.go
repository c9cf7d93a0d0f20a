package serve_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"panecore/cmd/internal/programtest"
	"panecore/layers"
)

// send sends a form of the page, which has to be taken.
func (v *visitor) send(path, proof string, form url.Values) {
	v.Helper()
	form.Set("form", proof)
	v.answer(v.client.PostForm(v.at(path), form)) // the page that it is sent on to
}

// command runs a program of its own and returns what it prints.
func command(t *testing.T, logbook string, args ...string) string {
	t.Helper()
	cmd := exec.Command("panecore", args...)
	cmd.Env = append(os.Environ(), "PANECORE_LOGBOOK="+logbook)
	var told bytes.Buffer
	cmd.Stderr = &told
	out, err := cmd.Output()
	if err != nil {
		t.Errorf("%q: %v: %s", args, err, &told)
	}
	return string(out)
}

// Two servers, two tabs on each, and the commands write to one logbook at once: all that
// was acknowledged is there, and the logbook is sound.
func TestServe_together(t *testing.T) {
	const each = 12
	logbook := filepath.Join(t.TempDir(), "log.db")
	command(t, logbook, "tank", "add", "kettle", "--flow", "still")
	var all sync.WaitGroup
	tab := 0
	for range 2 {
		_, v := startServe(t, logbook)
		proof := v.proof()
		for range 2 {
			tab++
			day := fmt.Sprintf("2026-05-%02d", tab)
			all.Go(func() {
				for i := range each {
					v.send("/tank/kettle/water", proof, url.Values{"date": {day}, "time": {fmt.Sprintf("%02d:00", i)}, "ph": {"7.4"}})
					v.get("/tank/kettle")
				}
			})
		}
	}
	all.Go(func() {
		for i := range each {
			command(t, logbook, "core", "add", "kettle", "12mm #8b5e3c", "40mm #d9cba6", "--date", fmt.Sprintf("2026-06-%02d", i+1), "--station", "front")
		}
	})
	all.Wait()
	tank := wholeExport(t, logbook)[0]
	if len(tank.Water) != tab*each || len(tank.Cores) != each {
		t.Errorf("water tests: %d, want %d; cores: %d, want %d", len(tank.Water), tab*each, len(tank.Cores), each)
	}
	if said := command(t, logbook, "check"); said != "" {
		t.Errorf("check: %s", said)
	}
}

func wholeExport(t *testing.T, logbook string) []layers.Tank {
	t.Helper()
	today, err := layers.ParseDate("2100-01-01")
	if err != nil {
		t.Fatal(err)
	}
	tanks, err := layers.Decode(strings.NewReader(command(t, logbook, "export")), today)
	if err != nil || len(tanks) == 0 {
		t.Fatalf("%d tanks, %v", len(tanks), err)
	}
	return tanks
}

// What the page gives to keep is what the commands give: the document to the letter, and
// a copy that is sound and holds the photos.
func TestServe_givesToKeep(t *testing.T) {
	logbook := filepath.Join(t.TempDir(), "log.db")
	command(t, logbook, "import", "../demo/logbook.json")
	truth := programtest.PhotoTruths(t)[0]
	command(t, logbook, append([]string{"photo", "--tank", "wheel-room", "--station", "pane", "--date", "2026-11-01"}, withoutNative(truth.Args())...)...)
	_, v := startServe(t, logbook)
	document := v.get("/keep/export")
	if want := command(t, logbook, "export"); document != want {
		t.Errorf("%d bytes of document, want the %d of export", len(document), len(want))
	}
	packed := v.get("/keep/backup")
	archive, err := zip.NewReader(strings.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.CopyFS(folder, archive); err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(folder, "logbook.db")
	if said := command(t, copied, "check"); said != "" {
		t.Errorf("check of the copy: %s", said)
	}
	if got := command(t, copied, "export"); got != document {
		t.Error("the copy holds other records")
	}
	if photos, _ := filepath.Glob(copied + ".photos/*"); len(photos) != 1 {
		t.Errorf("the copy has the photos %q, want one", photos)
	}
}

func withoutNative(args []string) (kept []string) {
	for i := 0; i < len(args); i++ {
		if args[i] == "--native" {
			i++
			continue
		}
		kept = append(kept, args[i])
	}
	return kept
}

// Two hundred requests at once are all answered. The race detector makes each ten times as
// long.
func TestServe_manyAtOnce(t *testing.T) {
	before := runtime.NumGoroutine()
	s := serve(t, "--demo")
	kinds := deedsOf(t, s.visitor)
	var all sync.WaitGroup
	count := 200
	if programtest.Racing || testing.Short() {
		count = 3 * len(kinds)
	}
	for i := range count {
		all.Go(func() { kinds[i%len(kinds)].do() })
	}
	all.Wait()
	if code := s.stop(); code != 0 || strings.Contains(s.stderr.String(), "failed") {
		t.Errorf("exit code %d: %s", code, s.stderr)
	}
	s.client.CloseIdleConnections()
	goroutines(t, before)
}

// Of several who remove the same entry at once one does, and the others are told in the page's
// own words that it is gone: each looks and changes before the next one looks.
func TestServe_removesOnce(t *testing.T) {
	const days, callers = 6, 8
	commands := [][]string{{"tank", "add", "kettle"}}
	for day := range days {
		date := fmt.Sprintf("2026-05-%02d", day+1)
		commands = append(commands, []string{"event", "add", "kettle", "stir", "--date", date}, []string{"water", "add", "kettle", "--date", date, "--ph", "7.4"})
	}
	s := standing(t, commands...)
	proof := s.proof()
	for kind, gone := range map[string]string{"event": "the event is no longer there", "water": "the water test is no longer there"} {
		form := regexp.MustCompile(`(?s)action="/tank/kettle/` + kind + `/remove".*?name="seen" value="([^"]+)"`)
		marks := form.FindAllStringSubmatch(s.get("/tank/kettle"), -1)
		if len(marks) != days {
			t.Fatalf("%s: found %d forms to remove one, want %d", kind, len(marks), days)
		}
		for _, mark := range marks {
			var all sync.WaitGroup
			var done, refused atomic.Int32
			for range callers {
				all.Go(func() {
					answer, err := s.client.PostForm(s.at("/tank/kettle/"+kind+"/remove"), url.Values{"form": {proof}, "seen": {mark[1]}})
					if err != nil {
						t.Error(err)
						return
					}
					defer answer.Body.Close()
					body, _ := io.ReadAll(answer.Body)
					switch told := string(body); {
					case answer.StatusCode == http.StatusOK:
						done.Add(1)
					case answer.StatusCode == http.StatusNotFound && strings.Contains(told, gone):
						refused.Add(1)
					default:
						t.Errorf("%s: %s: %.300s", kind, answer.Status, told)
					}
				})
			}
			all.Wait()
			if done.Load() != 1 || refused.Load() != callers-1 {
				t.Errorf("%s: removed by %d and refused to %d, want 1 and %d", kind, done.Load(), refused.Load(), callers-1)
			}
		}
	}
}
