package serve_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

var soak = flag.Int("soak", 2, "how many times each of several users does all that can be done on the page")

// A deed is something that a keeper does on the page.
type deed struct {
	name string
	do   func()
}

const users = 4

// Used by several at once, the page has no fault, and keeps no goroutine, no file
// and no memory.
func TestServe_soak(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: does more than a hundred deeds, which takes its time; run without -short")
	}
	s := serve(t, "--demo")
	kinds := deedsOf(t, s.visitor)
	for _, kind := range kinds { // what is kept for good is there then, as the photo
		kind.do()
	}
	began := measure(s)
	var all sync.WaitGroup
	for user := range users {
		rng := rand.New(rand.NewPCG(uint64(user), 1))
		all.Go(func() {
			for range *soak {
				for _, i := range rng.Perm(len(kinds)) {
					if t.Failed() {
						return
					}
					kinds[i].do()
				}
			}
		})
	}
	all.Wait()
	ended := measure(s)
	t.Logf("%d users did each of %d deeds %d times", users, len(kinds), *soak)
	t.Logf("goroutines %d, then %d; open files %d, then %d, of the database %d, then %d; heap %.1f MB, then %.1f MB",
		began.goroutines, ended.goroutines, began.files, ended.files, began.database, ended.database, began.heapMB, ended.heapMB)
	if ended.goroutines > began.goroutines || ended.files > began.files || ended.database > 2*users+1 {
		t.Error("goroutines or files are left open")
	}
	if ended.heapMB > began.heapMB+mostGrown {
		t.Errorf("the heap has grown by more than %d MB", mostGrown)
	}
	if told := s.stderr.String(); strings.Contains(told, "failed") || strings.Contains(told, "panic") {
		t.Errorf("told: %s", told)
	}
}

// mostGrown is how much larger the heap may be after a soak, MB (assumption: what pools keep
// or give back at any moment; the decoded photo alone has three).
const mostGrown = 8

// use is what a process holds.
type use struct {
	goroutines int
	files      int // open, but those of the database
	database   int // SQLite keeps two for each that reads at once, to be used again, and one for all
	heapMB     float64
}

// measure waits until the connections that nobody uses any more are gone.
func measure(s *served) use {
	s.client.CloseIdleConnections()
	least := use{goroutines: 1 << 30, files: 1 << 30, database: 1 << 30}
	for range 20 {
		time.Sleep(50 * time.Millisecond)
		files, database := openFiles()
		least.goroutines, least.files, least.database = min(least.goroutines, runtime.NumGoroutine()), min(least.files, files), min(least.database, database)
	}
	var memory runtime.MemStats
	runtime.GC()
	runtime.GC() // pools are emptied by the second
	runtime.ReadMemStats(&memory)
	least.heapMB = float64(memory.HeapAlloc) / (1 << 20)
	return least
}

// openFiles counts the files that this process has open; none where the system does not
// list them.
func openFiles() (files, database int) {
	list, _ := os.ReadDir("/proc/self/fd")
	for _, one := range list {
		if to, _ := os.Readlink("/proc/self/fd/" + one.Name()); strings.Contains(filepath.Base(to), "logbook.db") {
			database++
		} else {
			files++
		}
	}
	return files, database
}

// changeOnPage is the change that the page's undo takes back.
var changeOnPage = regexp.MustCompile(`name="change" value="([0-9]+)"`)

// deedsOf are all that a keeper does on the page of the demo, each by itself.
func deedsOf(t *testing.T, v *visitor) (kinds []deed) {
	t.Helper()
	proof := v.proof()
	add := func(name string, do func()) { kinds = append(kinds, deed{name, do}) }
	look := func(name, path string) { add(name, func() { v.get(path) }) }
	look("overview", "/")
	for _, tank := range []string{"wheel-room", "sack-hoist"} {
		look("tank", "/tank/"+tank)
	}
	look("form of a tank", "/tank/wheel-room/edit")
	look("form of a core", "/tank/wheel-room/read")
	look("rehearsal", "/tank/wheel-room/rehearse?method=stir&share=20&to=15&part=1")
	look("report", "/tank/sack-hoist/report")
	look("keep", "/keep")
	look("export", "/keep/export")
	look("backup", "/keep/backup")
	look("style", "/static/web.css")
	add("preview of a core", func() {
		depth := fmt.Sprintf("%dmm", 5+rand.IntN(20))
		r := v.request(http.MethodPost, "/tank/wheel-room/preview", proof, "application/x-www-form-urlencoded", []byte(url.Values{
			"station": {"front"}, "date": {"2026-11-02"}, "thickness": {depth, "40mm"}, "hex": {"#8b5e3c", "#d9cba6"},
			"band": {"", ""}, "layer_note": {"", ""}, "was": {"", ""},
		}.Encode()))
		v.answer(v.client.Do(r))
	})
	var mu sync.Mutex
	add("water test and undo", func() {
		mu.Lock() // undo takes back the last change of anyone
		defer mu.Unlock()
		v.send("/tank/wheel-room/water", proof, url.Values{"date": {"2026-11-03"}, "time": {"07:30"}, "ph": {"7.2"}})
		v.send("/undo", proof, url.Values{"change": {changeOnPage.FindStringSubmatch(v.get("/keep"))[1]}})
	})
	add("photo", func() { v.readPhoto(proof, rand.Float64()) })
	return kinds
}

func (v *visitor) request(method, path, proof, kind string, body []byte) *http.Request {
	v.Helper()
	r, err := http.NewRequest(method, v.at(path), bytes.NewReader(body))
	if err != nil {
		v.Fatal(err)
	}
	r.Header.Set("X-Panecore-Form", proof)
	r.Header.Set("Content-Type", kind)
	return r
}

// readPhoto sends the demo's photo and has it read with an edge so many mm lower, as the
// page's script does: who is told to wait asks again.
func (v *visitor) readPhoto(proof string, lower float64) {
	v.Helper()
	file, err := os.ReadFile("../demo/photo.jpg")
	if err != nil {
		v.Fatal(err)
	}
	var sent struct{ Address string }
	v.script("/photo", proof, "image/jpeg", file, &sent)
	if sent.Address == "" {
		v.Error("the photo was not taken")
		return
	}
	picks := map[string]any{
		"ruler": map[string]any{"from": []float64{1397.6, 111.3}, "to": []float64{1398.6, 1025}, "length": "70mm"},
		"cards": []any{map[string]any{"box": []float64{90, 809, 166, 109}}},
		"strip": []float64{360, 355, 630, 715}, "surface": 355,
	}
	cuts := []any{map[string]any{"bottom_mm": 18 + lower}, map[string]any{"bottom_mm": 36}, map[string]any{"bottom_mm": 50}}
	question, err := json.Marshal(map[string]any{"tank": "sack-hoist", "station": "front", "date": "2026-11-01", "picks": picks, "cuts": cuts})
	if err != nil {
		v.Fatal(err)
	}
	var found struct{ Read struct{ Layers []any } }
	v.script(sent.Address+"/read", proof, "application/json", question, &found)
	if len(found.Read.Layers) != len(cuts) {
		v.Errorf("%d layers were read, want %d", len(found.Read.Layers), len(cuts))
	}
}

// script sends what a script sends and reads the answer.
func (v *visitor) script(path, proof, kind string, body []byte, into any) {
	v.Helper()
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		r := v.request(http.MethodPost, path, proof, kind, body)
		r.Header.Set("Accept", "application/json")
		answer, err := v.client.Do(r)
		if err != nil {
			v.Error(err)
			return
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		switch {
		case err == nil && answer.StatusCode == http.StatusAccepted:
			continue // another photo is decoded
		case err != nil || answer.StatusCode != http.StatusOK:
			v.Errorf("%s: %s, %v: %s", path, answer.Status, err, text)
		default:
			if err := json.Unmarshal(text, into); err != nil {
				v.Error(err)
			}
		}
		return
	}
	v.Errorf("%s: told to wait for %v", path, patience)
}
