package serve

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// What fails is told in one line, without the key and without what stands behind a path.
func TestPageServer_tellsWhatFails(t *testing.T) {
	const key = "an-invented-key"
	told := make(chan string, 9)
	page := http.NewServeMux()
	page.HandleFunc("/breaks", func(http.ResponseWriter, *http.Request) { panic("broken by\n" + key) })
	page.HandleFunc("/ends", func(http.ResponseWriter, *http.Request) { panic(http.ErrAbortHandler) })
	page.HandleFunc("/fails/{what}", func(w http.ResponseWriter, _ *http.Request) { http.Error(w, "no", http.StatusInternalServerError) })
	page.HandleFunc("/refuses", func(w http.ResponseWriter, _ *http.Request) { http.Error(w, "no", http.StatusForbidden) })
	server := httptest.NewUnstartedServer(nil)
	server.Config = &newPageServer(page, func(line string) { told <- line }, key).Server
	server.Start()
	defer server.Close()
	server.Client().Transport.(*http.Transport).DisableKeepAlives = true // nothing is asked for twice
	for path, want := range map[string]string{
		"/refuses?key=" + key:      "",
		"/fails/%0a%1b?key=" + key: "GET /fails/%0a%1b: failed: Internal Server Error",
		"/ends?key=" + key:         "GET /ends: the answer was cut short",
		"/breaks?key=" + key:       "http: panic serving ",
	} {
		answer, err := server.Client().Get(server.URL + path)
		if err == nil {
			answer.Body.Close()
		}
		if want == "" {
			continue
		}
		if got := <-told; !strings.HasPrefix(got, want) || strings.Contains(got, key) || strings.ContainsAny(got, "\n\x1b") {
			t.Errorf("%s: told %q, want %q", path, got, want)
		}
	}
	if len(told) > 0 {
		t.Errorf("told besides: %q", <-told)
	}
}

// However many ask, few are at work, and all are answered.
func TestInTurn_fewAtWork(t *testing.T) {
	var now, most atomic.Int32
	page := newPageServer(nil, nil, "").inTurn(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {
		n := now.Add(1)
		for seen := most.Load(); n > seen && !most.CompareAndSwap(seen, n); seen = most.Load() {
		}
		time.Sleep(time.Millisecond)
		now.Add(-1)
	}))
	var all sync.WaitGroup
	for range 100 {
		all.Go(func() { page.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/", nil)) })
	}
	all.Wait()
	if most.Load() > mostAtWork {
		t.Errorf("%d were at work at once, want at most %d", most.Load(), mostAtWork)
	}
}

// Who left before the turn came is passed over.
func TestInTurn_passesOverWhoLeft(t *testing.T) {
	working, end := make(chan struct{}), make(chan struct{})
	reached := false
	page := newPageServer(nil, nil, "").inTurn(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/late" {
			reached = true
			return
		}
		working <- struct{}{}
		<-end
	}))
	var all sync.WaitGroup
	for range mostAtWork {
		all.Go(func() { page.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest(http.MethodGet, "/", nil)) })
		<-working
	}
	left, leave := context.WithCancel(t.Context())
	leave()
	page.ServeHTTP(httptest.NewRecorder(), httptest.NewRequestWithContext(left, http.MethodGet, "/late", nil))
	close(end)
	all.Wait()
	if reached {
		t.Error("a request was answered that nobody waited for")
	}
}

// Each part of an answer has its time: a large file may take long, who stands still may not.
func TestInTurn_timeForEachPart(t *testing.T) {
	parts := 0
	page := newPageServer(nil, nil, "").inTurn(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		for range 3 {
			w.Write([]byte("part"))
			parts++
		}
	}))
	w := &deadlineWriter{ResponseWriter: httptest.NewRecorder()}
	page.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil))
	if parts != 3 || len(w.write) != 1+parts || len(w.read) != 1 {
		t.Fatalf("%d parts, %d times to write and %d to read", parts, len(w.write), len(w.read))
	}
	if !w.write[0].After(w.read[0]) {
		t.Error("who sends too slowly can't be told so")
	}
	for _, until := range w.write[1:] {
		if left := time.Until(until); left > answerTime || left < answerTime/2 {
			t.Errorf("a part has %v", left)
		}
	}
}

// deadlineWriter keeps the deadlines that are set.
type deadlineWriter struct {
	http.ResponseWriter
	read, write []time.Time
}

func (w *deadlineWriter) SetReadDeadline(at time.Time) error {
	w.read = append(w.read, at)
	return nil
}

func (w *deadlineWriter) SetWriteDeadline(at time.Time) error {
	w.write = append(w.write, at)
	return nil
}

// A server that stops has put away what its requests had begun, whoever does not let go.
func TestPageServer_waitsForWork(t *testing.T) {
	t.Parallel() // for as long as requests have to end
	begun, ended := make(chan struct{}), false
	p := newPageServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		close(begun)
		<-r.Context().Done() // the connection is closed
		time.Sleep(50 * time.Millisecond)
		ended = true
	}), func(string) {}, "")
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	go func() {
		if response, err := http.Get("http://" + listener.Addr().String()); err == nil {
			response.Body.Close()
		}
	}()
	go func() {
		<-begun
		stop()
	}()
	if err := p.run(ctx, listener); err != nil {
		t.Fatal(err)
	}
	if !ended {
		t.Error("a request was still at work")
	}
}

func TestFirstLine_keepsTheKey(t *testing.T) {
	var got string
	n, err := io.WriteString(firstLine{func(line string) { got = line }, "k3y"}, "bad request /?key=k3y from k3y\ngoroutine 1\n")
	if want := "bad request /?key=(key) from (key)"; got != want || n != 43 || err != nil {
		t.Errorf("told %q, %d, %v, want %q", got, n, err, want)
	}
}

// A handler reaches what is behind the writer that it gets, as to do without a deadline.
func TestStatusWriter_unwraps(t *testing.T) {
	w := &statusWriter{ResponseWriter: httptest.NewRecorder()}
	if err := http.NewResponseController(w).Flush(); err != nil {
		t.Error(err)
	}
	if err := http.NewResponseController(w).SetWriteDeadline(zipDay); !errors.Is(err, http.ErrNotSupported) {
		t.Error(err) // a recorder has none
	}
}

func TestOpenerOf(t *testing.T) {
	for system, want := range map[string][]string{
		"linux":   {"xdg-open", "http://x"},
		"freebsd": {"xdg-open", "http://x"},
		"darwin":  {"open", "http://x"},
		"windows": {"rundll32", "url.dll,FileProtocolHandler", "http://x"},
	} {
		if got := openerOf(system, "http://x"); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", system, got, want)
		}
	}
}

// The pass opens the door once, and the key always.
func TestDoor_opensOnce(t *testing.T) {
	d := newDoor(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusForbidden) }), "k3y")
	ask := func(method, path string) (int, string) {
		w := httptest.NewRecorder()
		d.ServeHTTP(w, httptest.NewRequest(method, path, nil))
		return w.Code, w.Header().Get("Location")
	}
	for _, path := range []string{"/", "/?key=", "/?key=k3y", keyPath(d.pass + "x"), "/?pass=" + d.pass} {
		if code, to := ask(http.MethodGet, path); code != http.StatusForbidden {
			t.Errorf("%s: status %d, to %q", path, code, to)
		}
	}
	if code, _ := ask(http.MethodPost, keyPath(d.pass)); code != http.StatusForbidden {
		t.Errorf("a change by the pass: status %d", code)
	}
	if code, to := ask(http.MethodGet, keyPath(d.pass)); code != http.StatusSeeOther || to != keyPath("k3y") {
		t.Errorf("status %d, to %q", code, to)
	}
	if code, to := ask(http.MethodGet, keyPath(d.pass)); code != http.StatusForbidden {
		t.Errorf("again: status %d, to %q", code, to)
	}
}
