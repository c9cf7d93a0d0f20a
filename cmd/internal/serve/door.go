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

// door lets one browser in by a pass that is good for once. What a program is started
// with, as the browser is, every user of the machine may read; the key is not for them.
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

// keyPath is where a browser is let in that knows the key.
func keyPath(key string) string { return "/?key=" + key }

// openBrowser shows an address in the browser. Where that does not go it says so.
func openBrowser(s *shell.Shell, address string) {
	const instead = "the browser did not open: open the address above yourself"
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

// openerOf is a system's own command to open an address by.
func openerOf(system, address string) []string {
	switch system {
	case "windows":
		return []string{"rundll32", "url.dll,FileProtocolHandler", address}
	case "darwin":
		return []string{"open", address}
	}
	return []string{"xdg-open", address}
}
