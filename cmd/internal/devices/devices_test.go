package devices

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// A hall is a folder of devices, with a clock that the test moves.
type hall struct {
	*testing.T
	*Folder
	clock *time.Time
}

func newHall(t *testing.T) hall {
	t.Helper()
	clock := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	return hall{t, In(filepath.Join(t.TempDir(), "log.db.devices"), func() time.Time { return clock }), &clock}
}

func (h hall) link() string {
	h.Helper()
	link, err := h.NewLink()
	if err != nil {
		h.Fatal(err)
	}
	return link.Key
}

// pair lets a device in.
func (h hall) pair() string {
	h.Helper()
	key, _, err := h.Pair(h.link(), "")
	if err != nil {
		h.Fatal(err)
	}
	return key
}

func (h hall) list() []Device {
	h.Helper()
	list, err := h.List()
	if err != nil {
		h.Fatal(err)
	}
	return list
}

func (h hall) knows(key string) bool {
	known, _ := h.Seen(key)
	return known
}

// A link lets in one device, whatever else is tried before and after.
func TestPair_once(t *testing.T) {
	h := newHall(t)
	if _, _, err := h.Pair("", ""); !errors.Is(err, ErrLink) {
		t.Errorf("without any link: %v", err)
	}
	link := h.link()
	for _, wrong := range []string{"", link[:len(link)-1], link + "A", strings.ToLower(link), "../link"} {
		if _, _, err := h.Pair(wrong, ""); !errors.Is(err, ErrLink) {
			t.Errorf("%q: %v", wrong, err)
		}
	}
	key, device, err := h.Pair(link, "")
	if err != nil || !h.knows(key) || key == link {
		t.Fatalf("not let in: %v", err)
	}
	if list := h.list(); len(list) != 1 || list[0] != device {
		t.Errorf("listed %v, want %v", list, device)
	}
	if _, _, err := h.Pair(link, ""); !errors.Is(err, ErrLink) {
		t.Errorf("again: %v", err)
	}
}

func TestPair_inTime(t *testing.T) {
	h := newHall(t)
	old := h.link()
	link := h.link()
	if _, _, err := h.Pair(old, ""); !errors.Is(err, ErrLink) {
		t.Errorf("by a link that another took the place of: %v", err)
	}
	*h.clock = h.clock.Add(linkTime)
	if _, ok := h.Link(); ok {
		t.Error("the link is still offered")
	}
	if _, _, err := h.Pair(link, ""); !errors.Is(err, ErrLink) {
		t.Errorf("too late: %v", err)
	}
}

// Of many who open a link at once, one is let in.
func TestPair_atOnce(t *testing.T) {
	h := newHall(t)
	link := h.link()
	var in atomic.Int32
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if _, _, err := h.Pair(link, ""); err == nil {
				in.Add(1)
			} else if !errors.Is(err, ErrLink) {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if in.Load() != 1 || len(h.list()) != 1 {
		t.Errorf("%d were let in, %d are listed", in.Load(), len(h.list()))
	}
}

// One device too many is not let in, and its link stays good for when there is room.
func TestPair_most(t *testing.T) {
	h := newHall(t)
	for range mostDevices {
		h.pair()
	}
	link := h.link()
	if _, _, err := h.Pair(link, ""); !errors.Is(err, ErrFull) {
		t.Error(err)
	}
	h.Revoke(h.list()[0].ID)
	if _, _, err := h.Pair(link, ""); err != nil {
		t.Error(err)
	}
}

// A device stays paired when another program opens the folder, and is shut out of all at once by
// any of them; who looks in meanwhile does not bring it back.
func TestRevoke_everywhere(t *testing.T) {
	h := newHall(t)
	key, other := h.pair(), h.pair()
	next := In(h.path, h.now)
	if known, _ := next.Seen(key); !known {
		t.Fatal("forgotten")
	}
	id := sumOf(key)[:shortID]
	if _, found, err := next.Revoke("none"); found || err != nil {
		t.Errorf("another id: %v, %v", found, err)
	}
	if device, found, err := next.Revoke(id); !found || err != nil || device.ID != id {
		t.Errorf("not revoked: %v, %v, %v", device, found, err)
	}
	*h.clock = h.clock.Add(48 * time.Hour)
	for range 2 { // whoever asks makes no file
		if h.knows(key) || len(h.list()) != 1 {
			t.Error("it is let in though it was shut out")
		}
	}
	if !h.knows(other) {
		t.Error("the other one is shut out with it")
	}
	if _, found, _ := h.Revoke(id); found {
		t.Error("found again")
	}
}

// The days on which a device was seen are those of the keeper's clock.
func TestSeen_days(t *testing.T) {
	h := newHall(t)
	key := h.pair()
	if _, anew := h.Seen(key); anew {
		t.Error("seen anew on the day it was paired")
	}
	*h.clock = time.Date(2026, 11, 28, 0, 30, 0, 0, time.FixedZone("", 2*60*60)) // the 27th in UTC
	if _, anew := h.Seen(key); !anew {
		t.Error("not noted")
	}
	if _, anew := h.Seen(key); anew {
		t.Error("noted twice")
	}
	if d := h.list()[0]; d.First.String() != "2026-11-25" || d.Last.String() != "2026-11-28" {
		t.Errorf("first seen %s, last seen %s", d.First, d.Last)
	}
}

// What is stored lets nobody in, and nobody else of the machine reads it.
func TestFolder_keepsSecrets(t *testing.T) {
	h := newHall(t)
	key := h.pair()
	h.link()
	err := filepath.WalkDir(h.path, func(path string, entry fs.DirEntry, err error) error {
		info, statErr := entry.Info()
		if err != nil || statErr != nil {
			return errors.Join(err, statErr)
		}
		if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: mode %v", path, info.Mode())
		}
		if entry.IsDir() {
			return nil
		}
		text, err := os.ReadFile(path)
		if strings.Contains(string(text)+path, key) {
			t.Errorf("%s has the key: %s", path, text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if h.knows(sumOf(key)) {
		t.Error("what is stored is a key")
	}
}

func TestServing(t *testing.T) {
	h := newHall(t)
	end, err := h.Serve("http://192.0.2.7:8080")
	if err != nil || h.Serving() != "http://192.0.2.7:8080" {
		t.Fatalf("%q, %v", h.Serving(), err)
	}
	h.link()
	end()
	if _, ok := h.Link(); ok || h.Serving() != "" {
		t.Errorf("after the end: %q, link %v", h.Serving(), ok)
	}
}

// No text is the key of a device, wherever it leads.
func FuzzSeen(f *testing.F) {
	for _, text := range []string{"", ".", "../../etc/passwd", "link", "serving", "\x00", strings.Repeat("A", 5000)} {
		f.Add(text)
	}
	folder := In(f.TempDir(), func() time.Time { return time.Unix(0, 0) })
	link, err := folder.NewLink()
	if err != nil {
		f.Fatal(err)
	}
	key, _, err := folder.Pair(link.Key, "")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if known, _ := folder.Seen(text); known && text != key {
			t.Errorf("%q is let in", text)
		}
	})
}

func TestNameOf(t *testing.T) {
	for agent, want := range map[string]string{
		"": "device",
		"Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1": "iPhone, Safari",
		"Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) CriOS/131.0 Mobile/15E148 Safari/604.1":  "iPhone, Chrome",
		"Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/131.0.0.0 Mobile Safari/537.36":                         "Android phone, Chrome",
		"Mozilla/5.0 (Android 15; Tablet; rv:132.0) Gecko/132.0 Firefox/132.0":                                                                    "Android tablet, Firefox",
		"Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) SamsungBrowser/26.0 Chrome/122.0.0.0 Mobile Safari/537.36":     "Android phone, Samsung Internet",
		"Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/131.0.0.0 Safari/537.36 Edg/131.0.0.0":           "Windows computer, Edge",
		"Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Safari/605.1.15":                   "Mac, Safari",
		"Mozilla/5.0 (X11; Linux x86_64; rv:132.0) Gecko/20100101 Firefox/132.0":                                                                  "Linux computer, Firefox",
		"curl/8.5.0": "device",
	} {
		if got := nameOf(agent); got != want {
			t.Errorf("%q is named %q, want %q", agent, got, want)
		}
	}
}
