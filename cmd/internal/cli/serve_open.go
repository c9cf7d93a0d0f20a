package cli

import (
	"os/exec"
	"runtime"
)

// openBrowser shows an address in the browser. Where that does not go it says so.
func (s *shell) openBrowser(address string) {
	words := openerOf(runtime.GOOS, address)
	cmd := exec.Command(words[0], words[1:]...)
	if err := cmd.Start(); err != nil {
		s.note("the browser did not open: open the address yourself")
		return
	}
	go func() {
		if cmd.Wait() != nil {
			s.note("the browser did not open: open the address yourself")
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
