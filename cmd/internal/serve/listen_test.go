package serve

import (
	"net"
	"net/netip"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestParseListenAt(t *testing.T) {
	for _, c := range []struct {
		text string
		lan  bool
		want string // an address, or the beginning of a fault
	}{
		{"", false, "127.0.0.1:0"},
		{"", true, ":0"},
		{"127.0.0.1:8080", false, "127.0.0.1:8080"},
		{"127.3.2.1:80", false, "127.3.2.1:80"},
		{"localhost:0", false, "127.0.0.1:0"},
		{"[::1]:65535", false, "[::1]:65535"},
		{"[::ffff:127.0.0.1]:1", false, "127.0.0.1:1"},
		{":8080", true, ":8080"},
		{"0.0.0.0:8080", true, "0.0.0.0:8080"},
		{"192.0.2.7:8080", true, "192.0.2.7:8080"},
		{"[2001:db8::7]:8080", true, "[2001:db8::7]:8080"},

		{"8080", false, `found "8080", want HOST:PORT`},
		{"127.0.0.1", false, `found "127.0.0.1", want HOST:PORT`},
		{"::1:80", false, `found "::1:80", want HOST:PORT`},
		{"127.0.0.1:", false, `found port "", want a number from 0 to 65535`},
		{"127.0.0.1:-1", false, `found port "-1", want a number`},
		{"127.0.0.1:65536", false, `found port "65536", want a number`},
		{"127.0.0.1:http", false, `found port "http", want a number`},
		{"mill.example:80", false, `found host "mill.example", want localhost or a numeric address`},
		{"127.1:80", false, `found host "127.1", want localhost`},
		{"[fe80::1%eth0]:80", true, `found host "fe80::1%eth0", want localhost`},
		{":8080", false, `found ":8080", which other devices on the network can reach, want an address of this machine only, as in 127.0.0.1:8080, or --lan, which lets in devices that are paired`},
		{"0.0.0.0:0", false, `found "0.0.0.0:0", which other devices`},
		{"[::]:0", false, `found "[::]:0", which other devices`},
		{"192.0.2.7:8080", false, `found "192.0.2.7:8080", which other devices`},
		{"[::ffff:192.0.2.7]:8080", false, `found "[::ffff:192.0.2.7]:8080", which other devices`},
		{"localhost:0", true, `found "localhost:0", which no other device can reach, and --lan, want one of them`},
	} {
		at, err := parseListenAt(c.text, c.lan)
		got := at.String()
		if err != nil {
			got = err.Error()
		}
		if got != c.want && (err == nil || !strings.HasPrefix(got, c.want)) {
			t.Errorf("%q, lan %v: %s, want %s", c.text, c.lan, got, c.want)
		}
	}
}

// What other devices of the network reach is never listened at unless that is told.
func FuzzParseListenAt(f *testing.F) {
	for _, text := range []string{"127.0.0.1:0", ":80", "[::ffff:7f00:1]:1", "0:0", "[::]:8", "127.0.0.1 :8", "localhost.:1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		at, err := parseListenAt(text, false)
		if err == nil && !at.address.IsLoopback() {
			t.Errorf("%q: listens at %s", text, at)
		}
		if err != nil && (!strings.HasPrefix(err.Error(), "found ") || strings.ContainsAny(err.Error(), "\n\r")) {
			t.Errorf("%q: refused as %q", text, err)
		}
	})
}

func hostsAt(at netip.AddrPort, own []net.Addr) []string {
	return withNames(hostsAmong(at, own, netip.Addr{}), nil, at.Port(), webPort)
}

func TestHostsAmong(t *testing.T) {
	var own []net.Addr
	for _, text := range []string{"127.0.0.1/8", "::1/128", "192.0.2.7/24", "2001:db8::7/64", "fe80::7/64", "198.51.100.3/24"} {
		ip, network, err := net.ParseCIDR(text)
		if err != nil {
			t.Fatal(err)
		}
		own = append(own, &net.IPNet{IP: ip, Mask: network.Mask})
	}
	for at, want := range map[string][]string{
		"127.0.0.1:4321": {"127.0.0.1:4321", "localhost:4321"},
		"127.3.2.1:4321": {"127.3.2.1:4321"}, // localhost is another
		"[::1]:4321":     {"[::1]:4321", "localhost:4321"},
		"192.0.2.7:4321": {"192.0.2.7:4321"},
		"0.0.0.0:4321":   {"192.0.2.7:4321", "198.51.100.3:4321", "127.0.0.1:4321", "localhost:4321"},
		"[::]:4321": {"192.0.2.7:4321", "198.51.100.3:4321", "[2001:db8::7]:4321", "127.0.0.1:4321", "[::1]:4321",
			"localhost:4321"},
		"127.0.0.1:80": {"127.0.0.1:80", "localhost:80", "127.0.0.1", "localhost"},
		"[::1]:80":     {"[::1]:80", "localhost:80", "[::1]", "localhost"},
	} {
		if diff := cmp.Diff(want, hostsAt(netip.MustParseAddrPort(at), own)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", at, diff)
		}
	}
}

// The address by which this machine reaches others stands first, not one that only its own boxes
// reach.
func TestHostsAmong_theWayOutFirst(t *testing.T) {
	var own []net.Addr
	for _, ip := range []string{"127.0.0.1", "172.17.0.1", "192.168.1.20"} {
		own = append(own, &net.IPNet{IP: net.ParseIP(ip), Mask: net.CIDRMask(24, 32)})
	}
	for first, want := range map[netip.Addr]string{
		netip.MustParseAddr("192.168.1.20"): "192.168.1.20:80", netip.MustParseAddr("198.51.100.1"): "172.17.0.1:80", {}: "172.17.0.1:80",
	} {
		if got := hostsAmong(netip.MustParseAddrPort("0.0.0.0:80"), own, first); got[0] != want || len(got) != len(hostsAmong(netip.MustParseAddrPort("0.0.0.0:80"), own, netip.Addr{})) {
			t.Errorf("%v: %q, want %s first", first, got, want)
		}
	}
}

func TestIsElsewhere(t *testing.T) {
	for host, want := range map[string]bool{
		"192.168.1.20:4321": true, "172.17.0.1:4321": true, "127.0.0.1:4321": false, "localhost:4321": false, "[fe80::1]:4321": false, "192.168.1.20": false,
	} {
		if isElsewhere(host) != want {
			t.Errorf("%s: told %v", host, !want)
		}
	}
}
