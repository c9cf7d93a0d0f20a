package serve

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"slices"
	"strconv"
	"syscall"
)

// listenAt is where the page is served: an address of this machine, or the zero one for all of
// them, and a port, 0 for any free one.
type listenAt struct {
	address netip.Addr
	port    uint16
}

const wantListen = "HOST:PORT, as in 127.0.0.1:8080, where port 0 is any free one"

// parseListenAt reads where to listen. Only with lan may other devices reach the address.
func parseListenAt(text string, lan bool) (at listenAt, err error) {
	if text == "" {
		if !lan {
			at.address = loopback
		}
		return at, nil
	}
	host, port, err := net.SplitHostPort(text)
	if err != nil {
		return at, fmt.Errorf("found %q, want %s", text, wantListen)
	}
	number, err := strconv.ParseUint(port, 10, 16)
	if err != nil {
		return at, fmt.Errorf("found port %q, want a number from 0 to 65535", port)
	}
	at.port = uint16(number)
	switch host {
	case "":
	case "localhost":
		at.address = loopback
	default:
		if at.address, err = netip.ParseAddr(host); err != nil || at.address.Zone() != "" {
			return at, fmt.Errorf("found host %q, want localhost or a numeric address, as in 127.0.0.1", host)
		}
		at.address = at.address.Unmap()
	}
	switch own := at.address.IsLoopback(); {
	case own && lan:
		return at, fmt.Errorf("found %q, which no other device can reach, and --lan, want one of them", text)
	case !own && !lan:
		return at, fmt.Errorf("found %q, which other devices on the network can reach, want an address of this machine only, as in %s:%d, "+
			"or --lan, which lets in devices that are paired",
			text, loopback, at.port)
	}
	return at, nil
}

var loopback = netip.AddrFrom4([4]byte{127, 0, 0, 1})

func (at listenAt) String() string {
	host := ""
	if at.address.IsValid() {
		host = at.address.String()
	}
	return net.JoinHostPort(host, strconv.Itoa(int(at.port)))
}

func (at listenAt) listen(ctx context.Context) (net.Listener, error) {
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", at.String())
	var cause syscall.Errno
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("%s: found it in use by another program, want a free port: port 0 takes any", at)
	case errors.As(err, &cause):
		return nil, fmt.Errorf("%s: can't listen there: %w", at, cause)
	}
	return listener, err
}

// hostsOf are the host names by which a browser may call an address, the one to print first. names
// are those that stand for this machine beside its addresses, usual is the port that browsers
// leave out.
func hostsOf(at *net.TCPAddr, names []string, usual uint16) ([]string, error) {
	own, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	return withNames(hostsAmong(at.AddrPort(), own, outgoing()), names, at.AddrPort().Port(), usual), nil
}

// outgoing is the address that this machine has on the network where it reaches all others; zero
// where there is none. To ask for the way sends nothing.
func outgoing() netip.Addr {
	anywhere := net.UDPAddrFromAddrPort(netip.MustParseAddrPort("192.0.2.1:9")) // an address that nobody has (RFC 5737)
	way, err := net.DialUDP("udp4", nil, anywhere)
	if err != nil {
		return netip.Addr{}
	}
	defer way.Close()
	return way.LocalAddr().(*net.UDPAddr).AddrPort().Addr().Unmap()
}

// hostsAmong is hostsOf on a machine with the addresses own, of which first stands before the
// others.
func hostsAmong(at netip.AddrPort, own []net.Addr, first netip.Addr) []string {
	bound := at.Addr().Unmap()
	addresses := []netip.Addr{bound}
	if bound.IsUnspecified() {
		addresses = reachable(own, bound.Is4())
		if i := slices.Index(addresses, first); i > 0 {
			addresses = slices.Insert(slices.Delete(addresses, i, i+1), 0, first)
		}
	}
	var hosts []string
	add := func(host string) {
		hosts = append(hosts, net.JoinHostPort(host, strconv.Itoa(int(at.Port()))))
	}
	for _, address := range addresses {
		add(address.String())
	}
	if slices.ContainsFunc(addresses, func(a netip.Addr) bool { return a == loopback || a == netip.IPv6Loopback() }) {
		add("localhost")
	}
	return hosts
}

// withNames adds names, and hosts without their port if it is the usual one.
func withNames(hosts, names []string, port, usual uint16) []string {
	for _, name := range names {
		hosts = append(hosts, net.JoinHostPort(name, strconv.Itoa(int(port))))
	}
	if port == usual {
		for _, host := range hosts {
			bare, _, _ := net.SplitHostPort(host) // as joined above
			if address, err := netip.ParseAddr(bare); err == nil && address.Is6() {
				bare = "[" + bare + "]"
			}
			hosts = append(hosts, bare)
		}
	}
	return hosts
}

// isElsewhere reports whether to print a host for other devices: an IPv4 address that is not this
// machine's only. IPv6 addresses are too long to type.
func isElsewhere(host string) bool {
	at, err := netip.ParseAddrPort(host)
	return err == nil && at.Addr().Is4() && !at.Addr().IsLoopback()
}

// The ports that browsers leave out, without and with TLS (RFC 9110, 4.2.1 and 4.2.2).
const webPort, securePort = 80, 443

// reachable are the addresses that a browser can call, first those that other devices can too, the
// shorter ones before the longer.
func reachable(own []net.Addr, only4 bool) []netip.Addr {
	var list []netip.Addr
	for _, address := range own {
		prefix, err := netip.ParsePrefix(address.String())
		if err != nil {
			continue
		}
		if a := prefix.Addr().Unmap(); !a.IsLinkLocalUnicast() && (a.Is4() || !only4) {
			list = append(list, a)
		}
	}
	last := func(a netip.Addr) int {
		if a.IsLoopback() {
			return 1
		}
		return 0
	}
	slices.SortFunc(list, func(a, b netip.Addr) int {
		return cmp.Or(last(a)-last(b), a.Compare(b)) // which puts IPv4 before IPv6
	})
	return list
}
