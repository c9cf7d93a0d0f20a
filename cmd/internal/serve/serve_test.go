package serve_test

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/programtest"
	"panecore/cmd/internal/shell"
)

func TestMain(m *testing.M) {
	testscript.Main(browsertest.Tests{M: m}, map[string]func(){
		"panecore": func() { os.Exit(cli.Run(context.Background(), shell.System(), os.Args[1:])) },
	})
}

// patience is how long a test waits for what has to come: only one that fails waits so long, and
// others may keep the machine busy.
const patience = 3 * time.Minute

// A visitor is a keeper's browser on a page that is served.
type visitor struct {
	*testing.T
	address string // as printed, with the key
	host    string
	client  *http.Client
}

// visit lets a browser in by the address that was printed.
func visit(t *testing.T, address string) *visitor {
	t.Helper()
	parsed, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	transport := &http.Transport{MaxIdleConnsPerHost: 16}
	t.Cleanup(transport.CloseIdleConnections)
	v := &visitor{t, address, parsed.Host, &http.Client{Jar: jar, Timeout: 5 * patience, Transport: transport}}
	v.get(address)
	return v
}

// get asks for a page that has to be there.
func (v *visitor) get(path string) string {
	v.Helper()
	return v.answer(v.client.Get(v.at(path)))
}

func (v *visitor) at(path string) string {
	if strings.HasPrefix(path, "http") {
		return path
	}
	return "http://" + v.host + path
}

func (v *visitor) answer(r *http.Response, err error) string {
	v.Helper()
	if err != nil {
		v.Error(err)
		return ""
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		v.Errorf("%s %s: %s, %v: %.500s", r.Request.Method, r.Request.URL.Path, r.Status, err, body)
	}
	return string(body)
}

var proofOnPage = regexp.MustCompile(`<meta name="form" content="([0-9a-f]+)">`)

// proof is what the page's forms carry.
func (v *visitor) proof() string {
	v.Helper()
	found := proofOnPage.FindStringSubmatch(v.get("/"))
	if found == nil {
		v.Fatal("found no proof on the page")
	}
	return found[1]
}

// cookie is the header by which a browser that was let in is known.
func (v *visitor) cookie() string {
	var list []string
	for _, cookie := range v.client.Jar.Cookies(&url.URL{Scheme: "http", Host: v.host, Path: "/"}) {
		list = append(list, cookie.Name+"="+cookie.Value)
	}
	return strings.Join(list, "; ")
}

// A heard buffer may be written to and read at once.
type heard struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (h *heard) Write(text []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.Write(text)
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.String()
}

// A served page is one that this process serves.
type served struct {
	*visitor
	stderr *heard
	stop   func() (code int) // Ctrl-C, and waits
}

// serve serves a page from within this process.
func serve(t *testing.T, args ...string) *served {
	t.Helper()
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": filepath.Join(t.TempDir(), "log.db")})
	printed, out := io.Pipe()
	s := &served{stderr: &heard{}}
	w.Stdout, w.Stderr = out, s.stderr
	ctx, interrupt := context.WithCancel(context.Background())
	w.Interrupted = func(context.Context) (context.Context, context.CancelFunc) { return ctx, func() {} }
	ended := make(chan int, 1)
	go func() {
		ended <- cli.Run(context.Background(), w.Env, append([]string{"serve"}, args...))
		out.Close()
	}()
	s.stop = sync.OnceValue(func() int {
		interrupt()
		return <-ended
	})
	t.Cleanup(func() { s.stop() })
	address, err := bufio.NewReader(printed).ReadString('\n')
	if err != nil {
		t.Fatalf("no address was printed: %v: %s", err, s.stderr)
	}
	s.visitor = visit(t, strings.TrimSuffix(address, "\n"))
	return s
}

// A program is a panecore of its own.
type program struct {
	*exec.Cmd
	stderr heard
}

// start starts the program; TestMain puts it on the path.
func start(t *testing.T, logbook string, args ...string) (p *program, stdout *bufio.Reader) {
	t.Helper()
	p = &program{Cmd: exec.Command("panecore", args...)}
	p.Env = append(os.Environ(), "PANECORE_LOGBOOK="+logbook)
	p.Cmd.Stderr = &p.stderr
	printed, err := p.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.Process.Kill() })
	return p, bufio.NewReader(printed)
}

// hears waits until the program has told something on standard error.
func (p *program) hears(t *testing.T, text string) {
	t.Helper()
	for deadline := time.Now().Add(patience); !strings.Contains(p.stderr.String(), text); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("told %q, want %q", p.stderr.String(), text)
		}
	}
}

// startServe starts a program that serves a page, and visits it.
func startServe(t *testing.T, logbook string, args ...string) (*program, *visitor) {
	t.Helper()
	p, stdout := start(t, logbook, append([]string{"serve"}, args...)...)
	address, err := stdout.ReadString('\n')
	if err != nil {
		t.Fatalf("no address was printed: %v: %s", err, &p.stderr)
	}
	return p, visit(t, strings.TrimSuffix(address, "\n"))
}

// ask sends a request as it stands and returns the answer's status and body; zero: the
// server hung up.
func (v *visitor) ask(request string) (status int, body string) {
	v.Helper()
	c, err := net.Dial("tcp", v.host)
	if err != nil {
		v.Fatal(err)
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(patience))
	go io.WriteString(c, request)
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0, ""
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text)
}

// None of these requests shows or changes anything, and the page goes on being served.
func TestServe_withstands(t *testing.T) {
	s := serve(t, "--demo")
	let := "Host: {host}\r\nCookie: {cookie}\r\n"
	form := let + "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {length}\r\n"
	fill := strings.NewReplacer("{host}", s.host, "{cookie}", s.cookie(), "{proof}", s.proof(), "{length}", fmt.Sprint(len("form=")+len(s.proof())))
	before := s.get("/keep/export")
	attacks := map[string]string{
		"no key":                    "GET / HTTP/1.1\r\nHost: {host}\r\n\r\n",
		"another key":               "GET /?key=AAAAAAAAAAAAAAAAAAAAAAAAAA HTTP/1.1\r\nHost: {host}\r\n\r\n",
		"the proof for the key":     "GET /?key={proof} HTTP/1.1\r\nHost: {host}\r\n\r\n",
		"another name of ours":      "GET / HTTP/1.1\r\nHost: tanks.example\r\nCookie: {cookie}\r\n\r\n",
		"another port":              "GET / HTTP/1.1\r\nHost: 127.0.0.1:1\r\nCookie: {cookie}\r\n\r\n",
		"an address elsewhere":      "GET http://tanks.example/ HTTP/1.1\r\n" + let + "\r\n",
		"no host":                   "GET / HTTP/1.1\r\nCookie: {cookie}\r\n\r\n",
		"no host, as of old":        "GET / HTTP/1.0\r\nCookie: {cookie}\r\n\r\n",
		"two hosts":                 "GET / HTTP/1.1\r\nHost: tanks.example\r\n" + let + "\r\n",
		"a tunnel":                  "CONNECT tanks.example:443 HTTP/1.1\r\n" + let + "\r\n",
		"an echo":                   "TRACE / HTTP/1.1\r\n" + let + "\r\n",
		"a form elsewhere":          "POST /undo HTTP/1.1\r\n" + form + "Origin: http://tanks.example\r\n\r\nform={proof}",
		"a form in a sandbox":       "POST /undo HTTP/1.1\r\n" + form + "Origin: null\r\n\r\nform={proof}",
		"a form across sites":       "POST /undo HTTP/1.1\r\n" + form + "Sec-Fetch-Site: cross-site\r\n\r\nform={proof}",
		"a form without proof":      "POST /undo HTTP/1.1\r\n" + let + "Content-Length: 0\r\n\r\n",
		"a form of another kind":    "POST /undo HTTP/1.1\r\n" + strings.Replace(form, "x-www-form-urlencoded", "octet-stream", 1) + "\r\nform={proof}",
		"a change by looking":       "GET /undo?form={proof} HTTP/1.1\r\n" + let + "\r\n",
		"up and out":                "GET /photo/../../../../etc/passwd HTTP/1.1\r\n" + let + "\r\n",
		"up and out of our files":   "GET /static/../../../../etc/passwd HTTP/1.1\r\n" + let + "\r\n",
		"up and out, hidden":        "GET /static/%2e%2e/%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\n" + let + "\r\n",
		"up and out, well hidden":   "GET /static/..%2f..%2f..%2fetc%2fpasswd HTTP/1.1\r\n" + let + "\r\n",
		"up and out the other way":  "GET /static/..%5c..%5c..%5cetc%5cpasswd HTTP/1.1\r\n" + let + "\r\n",
		"a path of its own":         "GET //etc/passwd HTTP/1.1\r\n" + let + "\r\n",
		"our templates":             "GET /templates/layout.html HTTP/1.1\r\n" + let + "\r\n",
		"a name that ends early":    "GET /static/web.css%00.html HTTP/1.1\r\n" + let + "\r\n",
		"a photo with such a name":  "GET /photo/%00 HTTP/1.1\r\n" + let + "\r\n",
		"a tank with such a name":   "GET /tank/%00 HTTP/1.1\r\n" + let + "\r\n",
		"a tank that is a path":     "GET /tank/..%2f..%2fetc%2fpasswd HTTP/1.1\r\n" + let + "\r\n",
		"a tank that is a script":   "GET /tank/%3Cscript%3Ealert(1)%3C%2Fscript%3E HTTP/1.1\r\n" + let + "\r\n",
		"a header in a path":        "GET /tank/a%0d%0aSet-Cookie:%20x=y HTTP/1.1\r\n" + let + "\r\n",
		"a header that never ends":  "GET / HTTP/1.1\r\n" + let + "X: " + strings.Repeat("x", 1<<20) + "\r\n\r\n",
		"very many headers":         "GET / HTTP/1.1\r\n" + let + strings.Repeat("X: x\r\n", 1<<16) + "\r\n",
		"a path that never ends":    "GET /" + strings.Repeat("x", 1<<20) + " HTTP/1.1\r\n" + let + "\r\n",
		"a length and parts":        "POST /undo HTTP/1.1\r\n" + let + "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
		"two lengths":               "POST /undo HTTP/1.1\r\n" + let + "Content-Length: 5\r\nContent-Length: 6\r\n\r\nform=",
		"a length below zero":       "POST /undo HTTP/1.1\r\n" + let + "Content-Length: -1\r\n\r\n",
		"a request that is none":    "\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n",
		"a request of another kind": "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
	}
	for name, request := range attacks {
		t.Run(name, func(t *testing.T) {
			v := *s.visitor
			v.T = t
			status, body := v.ask(fill.Replace(request))
			if status == http.StatusOK || strings.Contains(body, "root:") || strings.Contains(body, "<script>alert") {
				t.Errorf("status %d: %.300s", status, body)
			}
			if status/100 == 3 { // a path put straight is no way in either
				if status, body := v.ask(fill.Replace("GET /etc/passwd HTTP/1.1\r\n" + let + "\r\n")); status != http.StatusNotFound {
					t.Errorf("status %d: %.300s", status, body)
				}
			}
		})
	}
	if after := s.get("/keep/export"); after != before || !strings.Contains(after, `"wheel-room"`) {
		t.Error("the records are others now")
	}
	if key := s.address[strings.Index(s.address, "key=")+4:]; strings.Contains(s.stderr.String(), key) {
		t.Errorf("the key was told: %s", s.stderr)
	}
}

// Who sends a byte a second is hung up on, and a connection is not kept for one who says nothing.
func TestServe_hangsUpOnWhoIsSlow(t *testing.T) {
	t.Parallel()
	s := serve(t)
	c, err := net.Dial("tcp", s.host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	sent := make(chan int)
	go func() {
		count := 0
		for _, b := range []byte("GET / HTTP/1.1\r\nX-Slow: " + strings.Repeat("x", int(patience/time.Second))) {
			if _, err := c.Write([]byte{b}); err != nil {
				break
			}
			count++
			time.Sleep(time.Second)
		}
		sent <- count
	}()
	c.SetReadDeadline(time.Now().Add(patience))
	if answer, err := io.ReadAll(c); errors.Is(err, os.ErrDeadlineExceeded) {
		t.Errorf("it was heard out, answer %.100q", answer)
	}
	c.Close()
	t.Logf("sent %d bytes", <-sent)
}

// A file that is too large is refused, and what is left of it is not read.
func TestServe_refusesWhatIsTooLarge(t *testing.T) {
	t.Parallel()
	s := serve(t)
	const most, more = 64 << 20, 1 << 30 // more than lies in buffers on the way
	for name, length := range map[string]int64{"told": most + more, "in parts": -1} {
		body := &counted{}
		body.left.Store(most + more)
		r, err := http.NewRequest(http.MethodPost, s.at("/photo"), io.NopCloser(body))
		if err != nil {
			t.Fatal(err)
		}
		r.ContentLength = length
		r.Header.Set("X-Panecore-Form", s.proof())
		r.Header.Set("Accept", "application/json")
		answer, err := s.client.Do(r)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		told, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode != http.StatusRequestEntityTooLarge || !strings.Contains(string(told), "64 MB") || body.left.Load() == 0 {
			t.Errorf("%s: %s, %d bytes left to send: %s", name, answer.Status, body.left.Load(), told)
		}
	}
}

// counted is a body of so many bytes.
type counted struct{ left atomic.Int64 }

func (c *counted) Read(into []byte) (int, error) {
	n := min(len(into), int(c.left.Load()))
	c.left.Add(int64(-n))
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

// goroutines waits for as many as there were before, or tells which there are besides.
func goroutines(t *testing.T, before int) {
	t.Helper()
	for deadline := time.Now().Add(patience); runtime.NumGoroutine() > before; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(deadline) {
			stacks := make([]byte, 1<<20)
			t.Fatalf("%d goroutines, were %d:\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
	}
}

// Ctrl-C ends the server at once, whoever holds a connection, and nothing stays behind.
func TestServe_stops(t *testing.T) {
	before := runtime.NumGoroutine()
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	for range 3 {
		s := serve(t, "--demo")
		s.get("/") // a connection that is kept
		silent, err := net.Dial("tcp", s.host)
		if err != nil {
			t.Fatal(err)
		}
		s.get("/") // the server has heard of it
		began := time.Now()
		if code := s.stop(); code != 0 {
			t.Errorf("exit code %d: %s", code, s.stderr)
		}
		if took := time.Since(began); took > 4*time.Second { // a second less than it would wait for requests
			t.Errorf("took %v", took)
		} else {
			t.Logf("took %v", took)
		}
		silent.Close()
		s.client.CloseIdleConnections()
		if c, err := net.Dial("tcp", s.host); err == nil {
			c.Close()
			t.Error("somebody still listens")
		}
	}
	goroutines(t, before)
	if left, _ := filepath.Glob(filepath.Join(temp, "*")); len(left) > 0 {
		t.Errorf("left %q", left)
	}
}

// The system's ways to end a program end it cleanly.
func TestServe_stopsBySignal(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no signals to send")
	}
	for _, sent := range []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP} {
		if signal.Ignored(sent) { // as below nohup, where the program outlives it by design
			t.Logf("%v is ignored where this test runs: not sent", sent)
			continue
		}
		temp := t.TempDir()
		t.Setenv("TMPDIR", temp)
		p, v := startServe(t, filepath.Join(temp, "never.db"), "--demo")
		if left, _ := filepath.Glob(filepath.Join(temp, "panecore-demo-*", "logbook.db")); len(left) != 1 {
			t.Errorf("the demo's logbook is at %q", left)
		}
		if !strings.Contains(v.get("/"), "Invented records: no such tanks, no such keeper.") {
			t.Error("the page does not say that its records are invented")
		}
		if err := p.Process.Signal(sent); err != nil {
			t.Fatal(err)
		}
		if err := p.Wait(); err != nil {
			t.Errorf("%v: %v: %s", sent, err, &p.stderr)
		}
		if left, _ := filepath.Glob(filepath.Join(temp, "*")); len(left) > 0 {
			t.Errorf("%v: left %q", sent, left)
		}
	}
}

// A port that is taken is told in one line.
func TestServe_portTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	logbook := filepath.Join(t.TempDir(), "log.db")
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": logbook})
	w.Interrupted = context.WithCancel
	code := w.Run("serve", "--addr", taken.Addr().String())
	want := fmt.Sprintf("panecore: %s: found it in use by another program, want a free port: port 0 takes any\n", taken.Addr())
	if code != 1 || w.Printed.Len() > 0 || w.Told.String() != want {
		t.Errorf("exit code %d, %q, want 1 and %q", code, &w.Told, want)
	}
	if _, err := os.Stat(logbook); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("it made a logbook all the same: %v", err)
	}
}

// The browser is started with an address that lets it in, and no one else who reads it.
func TestServe_opensTheBrowser(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		t.Skip("the system's opener can't be stood in for")
	}
	folder := t.TempDir()
	heard := filepath.Join(folder, "heard")
	script := "#!/bin/sh\necho \"$1\" > " + heard + ".part && mv " + heard + ".part " + heard + "\n"
	if err := os.WriteFile(filepath.Join(folder, "xdg-open"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", folder+string(filepath.ListSeparator)+os.Getenv("PATH"))
	_, v := startServe(t, filepath.Join(folder, "log.db"), "--open")
	var address []byte
	for deadline := time.Now().Add(patience); address == nil && time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		address, _ = os.ReadFile(heard)
	}
	pass := strings.TrimSpace(string(address))
	if !strings.HasPrefix(pass, "http://"+v.host+"/?key=") || pass == v.address {
		t.Fatalf("opened %q of the server at %s", pass, v.host)
	}
	visit(t, pass)
	answer, err := http.Get(pass)
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusForbidden {
		t.Errorf("again: %s", answer.Status)
	}
}

// Without a browser the page is there all the same.
func TestServe_withoutBrowser(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		t.Skip("the system's opener can't be stood in for")
	}
	program, err := exec.LookPath("panecore")
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", filepath.Dir(program))
	p, v := startServe(t, filepath.Join(t.TempDir(), "log.db"), "--open")
	v.get("/")
	p.hears(t, "panecore: the browser could not be started: open the address above yourself\n")
}
