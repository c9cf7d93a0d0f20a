package serve_test

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"panecore/cmd/internal/programtest"
)

// tells waits until something is told on standard error, and is what a pattern finds in it.
func (s *served) tells(t *testing.T, pattern string) string {
	t.Helper()
	sought := regexp.MustCompile(pattern)
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		if found := sought.FindStringSubmatch(s.stderr.String()); found != nil {
			return found[len(found)-1]
		}
	}
	t.Fatalf("told %q, want %s", s.stderr.String(), pattern)
	return ""
}

// status is that of an answer to a browser that asks for the overview.
func (v *visitor) status(at string) int {
	v.Helper()
	answer, err := v.client.Get(at)
	if err != nil {
		v.Fatal(err)
	}
	answer.Body.Close()
	return answer.StatusCode
}

// lanPort serves a logbook to the network at one port, which is free at first.
func lanPort(t *testing.T, logbook, port string) (*served, string) {
	t.Helper()
	s := serve(t, "--logbook", logbook, "--lan", "--addr", ":"+port)
	_, port, err := net.SplitHostPort(s.host)
	if err != nil {
		t.Fatal(err)
	}
	return s, port
}

// The first to open the link that is printed is paired, stays so when the page is served again, and
// is shut out at once by a command.
func TestServe_pairedDevice(t *testing.T) {
	t.Parallel()
	logbook := filepath.Join(t.TempDir(), "log.db")
	s, port := lanPort(t, logbook, "0")
	s.tells(t, "not encrypted: what is sent can be read there. Never forward its port to the internet")
	id := s.tells(t, `paired: .* \(([0-9a-f]{8})\); to shut it out`)
	if page := s.get("/"); !strings.Contains(page, "not encrypted: what is sent can be read there") {
		t.Error("the page does not tell that it is not encrypted")
	}
	if stranger := (&visitor{T: t, client: &http.Client{}}); stranger.status(s.address) != http.StatusForbidden {
		t.Error("a second device was let in by the same link")
	}
	if code := s.stop(); code != 0 {
		t.Fatalf("exit code %d", code)
	}

	next := &served{}
	next, _ = lanPort(t, logbook, port) // visited as another device
	phone := &visitor{T: t, host: next.host, client: s.client}
	if proof := phone.proof(); proof != s.visitor.proof() { // the page that it had open goes on working
		t.Error("the forms that were open don't work any more")
	}
	book := stand{logbook: logbook}
	if list := book.says(t, "device", "list", "--json"); strings.Count(list, `"first_seen": "2026-11-25"`) != 2 || !strings.Contains(list, id) {
		t.Errorf("listed %s", list)
	}
	book.says(t, "device", "revoke", id)
	if got := phone.status(phone.at("/")); got != http.StatusForbidden {
		t.Errorf("who was shut out: status %d", got)
	}
	next.get("/")
	address := strings.TrimSpace(book.says(t, "device", "add"))
	if got := phone.status(address); got != http.StatusOK || !strings.HasPrefix(address, "http://"+next.host) {
		t.Errorf("paired again by %s: status %d", address, got)
	}
}

// Who sits at the machine needs no pairing, and lets in and shuts out on the page.
func TestServe_hostsDevices(t *testing.T) {
	t.Parallel()
	s, port := lanPort(t, filepath.Join(t.TempDir(), "log.db"), "0")
	own := s.tells(t, `on this machine open (http://127.0.0.1:\S+);`)
	keeper := visit(t, own)
	page := keeper.get("/devices")
	id := s.tells(t, `paired: .* \(([0-9a-f]{8})\)`)
	if !strings.Contains(keeper.get("/"), `href="/devices"`) || !strings.Contains(page, id) {
		t.Errorf("no page about devices: %s", page)
	}
	keeper.send("/devices/link", keeper.proof(), url.Values{})
	link := regexp.MustCompile(`<code class="link">(http://[^<]+\?key=[^<]+)</code>`).FindStringSubmatch(keeper.get("/devices"))
	if link == nil {
		t.Fatal("no new link on the page")
	}
	visit(t, link[1])
	keeper.send("/devices/"+id+"/revoke", keeper.proof(), url.Values{})
	if got := s.status(s.at("/")); got != http.StatusForbidden {
		t.Errorf("who was shut out: status %d", got)
	}
	s.tells(t, "shut out: ")
	visit(t, "http://"+net.JoinHostPort("localhost", port)+own[strings.Index(own, "/?key="):])
	// The server's own key is of no use on the network.
	if s.host != net.JoinHostPort("127.0.0.1", port) {
		if status, body := s.ask(fmt.Sprintf("GET / HTTP/1.1\r\nHost: %s\r\n\r\n", s.host)); status != http.StatusForbidden {
			t.Errorf("who has no key got in: status %d: %.300s", status, body)
		}
	}
}

// On a terminal the link is a code to scan as well; elsewhere it is only the link.
func TestServe_codeOnTerminal(t *testing.T) {
	t.Parallel()
	logbook := filepath.Join(t.TempDir(), "log.db")
	lanPort(t, logbook, "0")
	for _, terminal := range []bool{true, false} {
		w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": logbook, "LANG": "en_US.UTF-8", "TERM": "xterm-256color"})
		w.StderrIsTerminal, w.StdoutIsTerminal = terminal, terminal
		if code := w.Run("device", "add"); code != 0 {
			t.Fatalf("exit code %d: %s", code, &w.Told)
		}
		at, err := url.Parse(strings.TrimSuffix(w.Printed.String(), "\n"))
		if err != nil || at.Query().Get("key") == "" {
			t.Errorf("printed %q: %v", w.Printed.String(), err)
		}
		if code := w.Told.String(); strings.Contains(code, "\x1b[38;5;231;48;5;16m████ ▄▄▄▄▄ █") != terminal || !terminal && code != "" {
			t.Errorf("terminal %v: told %q", terminal, code)
		}
	}
}

// A photo that was sent and marked is there for the next server over the same logbook, until it is
// thrown away.
func TestServe_draftOutlastsTheServer(t *testing.T) {
	t.Parallel()
	s, truth := hallAnd(t, "buff-sand.jpg")
	photo, err := os.ReadFile(truth.Path())
	if err != nil {
		t.Fatal(err)
	}
	var sent struct{ Address string }
	s.script("/photo", s.proof(), "application/octet-stream", photo, &sent)
	s.script(sent.Address+"/read", s.proof(), "application/json", []byte(`{"tank":"hall","station":"front","date":"2026-05-01","picks":{},"surface_mm":0,"note":"half done"}`), &struct{}{})
	s = anew(t, s)
	if page := s.get("/photo"); !strings.Contains(page, sent.Address) || !strings.Contains(page, "hall, front") {
		t.Errorf("it is not on the list: %s", page)
	}
	if state := s.get(sent.Address + "/state"); !strings.Contains(state, `"note":"half done"`) {
		t.Errorf("its state is %s", state)
	}
	s.send(sent.Address+"/drop", s.proof(), url.Values{})
	s = anew(t, s)
	if page := s.get("/photo"); strings.Contains(page, sent.Address) {
		t.Error("it is back though it was thrown away")
	}
	if left, err := os.ReadDir(s.logbook + ".drafts"); err != nil || len(left) > 0 {
		t.Errorf("left %v, %v", left, err)
	}
}

// With a certificate what is printed, kept and noted is that of an encrypted page.
func TestServe_encrypted(t *testing.T) {
	t.Parallel()
	certFile, keyFile := filepath.Join(t.TempDir(), "cert.pem"), filepath.Join(t.TempDir(), "key.pem")
	server := httptest.NewUnstartedServer(nil)
	server.StartTLS() // for its certificate, which the standard library has for tests
	pair := server.TLS.Certificates[0]
	server.Close()
	secret, err := x509.MarshalPKCS8PrivateKey(pair.PrivateKey)
	if err != nil {
		t.Fatal(err)
	}
	for file, block := range map[string]*pem.Block{certFile: {Type: "CERTIFICATE", Bytes: pair.Certificate[0]}, keyFile: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(file, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p, stdout := start(t, filepath.Join(t.TempDir(), "log.db"), "serve", "--lan", "--tls-cert", certFile, "--tls-key", keyFile)
	address, err := stdout.ReadString('\n')
	if err != nil || !strings.HasPrefix(address, "https://") {
		t.Fatalf("printed %q, %v: %s", address, err, &p.stderr)
	}
	p.hears(t, "panecore: Never forward its port to the internet.\npanecore: on this machine open https://127.0.0.1:")
	roots := x509.NewCertPool()
	roots.AddCert(server.Certificate())
	transport := &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}
	defer transport.CloseIdleConnections()
	own := regexp.MustCompile(`https://127.0.0.1:[^;]+`).FindString(p.stderr.String())
	answer, err := transport.RoundTrip(httptest.NewRequest("GET", own, nil))
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	if list := answer.Cookies(); len(list) != 1 || !list[0].Secure {
		t.Errorf("%s: kept %v", answer.Status, list)
	}
}
