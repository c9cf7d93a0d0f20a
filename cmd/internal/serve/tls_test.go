package serve

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"io"
	"log"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"panecore/cmd/internal/shell"
)

// pairFiles are the files of a certificate that signs itself, for these names and this machine's
// addresses, good until a day.
func pairFiles(t *testing.T, until time.Time, ips []net.IP, names ...string) (certFile, keyFile string) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{
		SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "panecore"}, NotBefore: until.AddDate(-1, 0, 0), NotAfter: until,
		DNSNames: names, IPAddresses: ips, IsCA: true, BasicConstraintsValid: true,
	}
	cert, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	write := func(name, kind string, content []byte) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: content}), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	return write("cert.pem", "CERTIFICATE", cert), write("key.pem", "PRIVATE KEY", secret)
}

func testShell() *shell.Shell {
	return &shell.Shell{Env: shell.Env{Now: time.Now, Stdin: strings.NewReader(""), Stderr: io.Discard}}
}

var localhost = []net.IP{net.IPv4(127, 0, 0, 1)}

// nextYear is good for as long as a test runs.
func nextYear() time.Time { return time.Now().AddDate(0, 6, 0) }

// A certificate that can't be used is refused in a line that names the file.
func TestReadCertificate_refuses(t *testing.T) {
	cert, key := pairFiles(t, nextYear(), localhost)
	_, otherKey := pairFiles(t, nextYear(), localhost)
	old, oldKey := pairFiles(t, time.Now().AddDate(0, 0, -2), localhost)
	for _, c := range []struct{ cert, key, want string }{
		{filepath.Join(t.TempDir(), "none.pem"), key, "none.pem: found no such file, want a certificate in PEM"},
		{cert, filepath.Join(t.TempDir(), "none.pem"), "none.pem: found no such file, want the certificate's private key in PEM"},
		{cert, otherKey, "found a pair that is no use (private key does not match public key), want a certificate in PEM and"},
		{key, cert, "found a pair that is no use"},
		{"tls.go", key, "found a pair that is no use"},
		{old, oldKey, "cert.pem: found a certificate that ended on "},
	} {
		_, err := readCertificate(testShell(), c.cert, c.key)
		if _, ok := err.(*shell.InputError); !ok || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %s", c.cert, err, c.want)
		}
	}
	if _, err := readCertificate(testShell(), cert, key); err != nil {
		t.Error(err)
	}
}

// What is printed is an address for which browsers don't warn, if there is one.
func TestPlace_coveredFirst(t *testing.T) {
	hosts := []string{"192.0.2.7:8443", "198.51.100.3:8443", "127.0.0.1:8443", "localhost:8443"}
	for _, c := range []struct {
		ips             []net.IP
		names           []string
		elsewhere, here string
	}{
		{nil, []string{"tanks.example"}, "https://tanks.example:8443", "https://tanks.example:8443"},
		{nil, []string{"*.example"}, "https://192.0.2.7:8443", "https://127.0.0.1:8443"},
		{[]net.IP{net.IPv4(198, 51, 100, 3)}, []string{"localhost"}, "https://198.51.100.3:8443", "https://localhost:8443"},
		{[]net.IP{net.IPv4(192, 0, 2, 7), net.IPv4(127, 0, 0, 1)}, []string{"tanks.example"}, "https://192.0.2.7:8443", "https://127.0.0.1:8443"},
	} {
		certFile, keyFile := pairFiles(t, nextYear(), c.ips, c.names...)
		cert, err := readCertificate(testShell(), certFile, keyFile)
		if err != nil {
			t.Fatal(err)
		}
		p := place{withNames(hosts, cert.names(), 8443, securePort), "k3y", cert}
		if p.elsewhere() != c.elsewhere || p.here() != c.here {
			t.Errorf("%v, %q: %s, here %s", c.ips, c.names, p.elsewhere(), p.here())
		}
	}
	plain := place{hosts: hosts}
	if plain.elsewhere() != "http://192.0.2.7:8443" || plain.here() != "http://127.0.0.1:8443" {
		t.Errorf("%s, here %s", plain.elsewhere(), plain.here())
	}
}

// What is served over TLS is not served in old versions of it, nor without.
func TestCertificate_over(t *testing.T) {
	certFile, keyFile := pairFiles(t, nextYear(), localhost)
	cert, err := readCertificate(testShell(), certFile, keyFile)
	if err != nil {
		t.Fatal(err)
	}
	plain, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{ErrorLog: log.New(io.Discard, "", 0), Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, "page") })}
	go server.Serve(cert.over(plain))
	defer server.Close()
	roots := x509.NewCertPool()
	roots.AddCert(cert.pair.Leaf)
	ask := func(address string, config *tls.Config) (string, error) {
		config.RootCAs = roots
		transport := &http.Transport{TLSClientConfig: config}
		defer transport.CloseIdleConnections()
		answer, err := (&http.Client{Transport: transport}).Get(address)
		if err != nil {
			return "", err
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		return string(text), err
	}
	at := plain.Addr().String()
	for version, want := range map[uint16]bool{tls.VersionTLS11: false, tls.VersionTLS12: true, tls.VersionTLS13: true} {
		got, err := ask("https://"+at, &tls.Config{MinVersion: tls.VersionTLS10, MaxVersion: version})
		if (got == "page") != want || (err == nil) != want {
			t.Errorf("%s: %q, %v", tls.VersionName(version), got, err)
		}
	}
	if got, _ := ask("http://"+at, &tls.Config{}); got == "page" {
		t.Error("served without TLS")
	}
}
