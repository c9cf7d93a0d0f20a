package serve

import (
	"net/netip"
	"slices"
	"strings"

	"panecore/cmd/internal/devices"
	"panecore/cmd/internal/shell"
)

// place is where the page is served.
type place struct {
	hosts []string     // as hostsOf lists them
	key   string       // lets in who sits at this machine
	cert  *certificate // nil: not encrypted
}

// of is the page's address by a host.
func (p place) of(host string) string {
	if p.cert != nil {
		return "https://" + host
	}
	return "http://" + host
}

// here is the page's address for this machine.
func (p place) here() string { return p.of(p.first(isOwn)) }

// elsewhere is the page's address for other devices.
func (p place) elsewhere() string {
	return p.of(p.first(func(host string) bool { return !isOwn(host) }))
}

// first is the first of the hosts that are wanted, those that the certificate covers before all;
// without one, the first host.
func (p place) first(wanted func(host string) bool) string {
	covered := func(host string) bool { return p.cert == nil || p.cert.covers(host) }
	for _, suits := range []func(string) bool{
		func(host string) bool { return covered(host) && wanted(host) }, // where a browser doesn't warn
		func(host string) bool { return p.cert != nil && covered(host) },
		wanted,
	} {
		if i := slices.IndexFunc(p.hosts, suits); i >= 0 {
			return p.hosts[i]
		}
	}
	return p.hosts[0]
}

// isOwn reports whether a host is this machine for itself only.
func isOwn(host string) bool {
	at, err := netip.ParseAddrPort(host)
	return err == nil && at.Addr().IsLoopback() || strings.HasPrefix(host, "localhost:")
}

// tell prints the address to open, and says what to do with it. Where other devices may come in
// it is a link that pairs one of them.
func (p place) tell(s *shell.Shell, others *pageDevices, notice string) error {
	if others == nil {
		if err := devices.Print(s.Env.Stdout, p.here()+keyPath(p.key)); err != nil { // unbuffered: the command keeps running
			return err
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
	if err := devices.Print(s.Env.Stdout, link.Address(others.at)); err != nil {
		return err
	}
	if err := devices.DrawCode(s, link.Address(others.at)); err != nil {
		return err
	}
	s.Note("open the link above on one other device, within ten minutes: it is paired by that")
	for _, host := range p.hosts {
		if isElsewhere(host) && p.of(host) != others.at {
			s.Note("if that can't be reached, the same with " + host)
		}
	}
	if p.cert != nil && !p.cert.covers(strings.TrimPrefix(others.at, "https://")) {
		s.Note("the certificate names none of this machine's addresses: browsers will warn")
	}
	s.Note(strings.TrimSpace(notice + " Never forward its port to the internet."))
	s.Note("on this machine open " + p.here() + keyPath(p.key) + "; Ctrl-C stops the page")
	return nil
}
