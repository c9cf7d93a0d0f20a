package serve

import (
	"crypto/rand"
	"crypto/subtle"
	"net/http"
	"os/exec"
	"runtime"
	"sync/atomic"

	"panecore/cmd/internal/shell"
)

// door lets one browser in by a pass that is good for one use. Every user of the machine can read
// the arguments that a browser is started with, so the key must not be among them.
type door struct {
	page      http.Handler
	key, pass string
	used      atomic.Bool
}

func newDoor(page http.Handler, key string) *door {
	return &door{page: page, key: key, pass: rand.Text()}
}

func (d *door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	shown := r.URL.Query().Get("key")
	if r.Method == http.MethodGet && subtle.ConstantTimeCompare([]byte(shown), []byte(d.pass)) == 1 && d.used.CompareAndSwap(false, true) {
		w.Header().Set("Cache-Control", "no-store")
		w.Header().Set("Referrer-Policy", "no-referrer")
		http.Redirect(w, r, keyPath(d.key), http.StatusSeeOther)
		return
	}
	d.page.ServeHTTP(w, r)
}

// keyPath is the path that lets a browser in by a key.
func keyPath(key string) string { return "/?key=" + key }

// openBrowser shows an address in the browser, or says that it could not.
func openBrowser(s *shell.Shell, address string) {
	const instead = "the browser could not be started: open the address above yourself"
	words := openerOf(runtime.GOOS, address)
	cmd := exec.Command(words[0], words[1:]...)
	if cmd.Start() != nil {
		s.Note(instead)
		return
	}
	go func() {
		if cmd.Wait() != nil {
			s.Note(instead)
		}
	}()
}

// openerOf is a system's command to open an address.
func openerOf(system, address string) []string {
	switch system {
	case "windows":
		return []string{"rundll32", "url.dll,FileProtocolHandler", address}
	case "darwin":
		return []string{"open", address}
	}
	return []string{"xdg-open", address}
}
