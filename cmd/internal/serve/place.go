package serve

import (
	"fmt"
	"net/netip"
	"slices"

	"panecore/cmd/internal/devices"
	"panecore/cmd/internal/shell"
)

// place is where the page is served.
type place struct {
	hosts []string // as hostsOf lists them
	key   string   // lets in who sits at this machine
}

// of is the page's address by a host.
func (p place) of(host string) string { return "http://" + host }

// here is the page's address for this machine.
func (p place) here() string {
	i := slices.IndexFunc(p.hosts, func(host string) bool {
		at, err := netip.ParseAddrPort(host)
		return err == nil && at.Addr().IsLoopback()
	})
	return p.of(p.hosts[max(i, 0)]) // without one of its own, this machine uses that of others
}

// tell prints the address to open, and says what to do with it. Where other devices may come in
// it is a link that pairs one of them.
func (p place) tell(s *shell.Shell, others *pageDevices, notice string) error {
	if others == nil {
		if _, err := fmt.Fprintln(s.Env.Stdout, p.here()+keyPath(p.key)); err != nil { // unbuffered: the command keeps running
			return fmt.Errorf("standard output: %w", err)
		}
		if notice != "" {
			s.Note(notice)
		}
		s.Note("open the address above, including its key; Ctrl-C stops the page")
		return nil
	}
	link, err := others.Folder.NewLink()
	if err != nil {
		return err
	}
	if err := devices.Print(s, s.Env.Stdout, others.at, link); err != nil { // unbuffered: the command keeps running
		return err
	}
	s.Note("open the link above on one other device, within ten minutes: it is paired by that")
	for _, host := range p.hosts[1:] {
		if isElsewhere(host) {
			s.Note("if that can't be reached, the same with " + host)
		}
	}
	s.Note(notice + " Never forward its port to the internet.")
	s.Note("on this machine open " + p.here() + keyPath(p.key) + "; Ctrl-C stops the page")
	return nil
}
