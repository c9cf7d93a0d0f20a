package serve

import (
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"strings"

	"panecore/cmd/internal/shell"
)

// certificate is what the page is served with over TLS.
type certificate struct{ pair tls.Certificate }

const wantCertificate, wantKey = "a certificate in PEM", "the certificate's private key in PEM"

// readCertificate reads a certificate and its key. What is wrong with them is a shell.InputError
// of one line.
func readCertificate(s *shell.Shell, certFile, keyFile string) (*certificate, error) {
	cert, err := readAll(s, certFile, wantCertificate)
	if err != nil {
		return nil, err
	}
	key, err := readAll(s, keyFile, wantKey)
	if err != nil {
		return nil, err
	}
	pair, err := tls.X509KeyPair(cert, key)
	if err != nil {
		return nil, shell.BadInput(certFile+" and "+keyFile, fmt.Errorf("found a pair that is no use (%s), want %s and %s",
			strings.TrimPrefix(err.Error(), "tls: "), wantCertificate, wantKey))
	}
	if s.Env.Now().After(pair.Leaf.NotAfter) {
		return nil, shell.BadInput(certFile, fmt.Errorf("found a certificate that ended on %s, want one that is good today", pair.Leaf.NotAfter.Format("2006-01-02")))
	}
	return &certificate{pair}, nil
}

func readAll(s *shell.Shell, file, awaited string) ([]byte, error) {
	opened, name, err := s.Open(file, awaited)
	if err != nil {
		return nil, err
	}
	defer opened.Close()
	text, err := io.ReadAll(opened)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return text, nil
}

// over is a listener that encrypts. It speaks HTTP/1.1 only, for whose connections the server's
// limits were made.
func (c *certificate) over(plain net.Listener) net.Listener {
	return tls.NewListener(plain, &tls.Config{
		Certificates: []tls.Certificate{c.pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"},
	})
}

// covers reports whether a browser takes the certificate for that of a host.
func (c *certificate) covers(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = strings.Trim(host, "[]")
	}
	return c.pair.Leaf.VerifyHostname(name) == nil
}

// names are the host names that the certificate stands for. One with an asterisk could be any.
func (c *certificate) names() (list []string) {
	for _, name := range c.pair.Leaf.DNSNames {
		if !strings.Contains(name, "*") {
			list = append(list, strings.ToLower(name))
		}
	}
	return list
}

// hostsOf are the hosts of an address that is served with the certificate; nil is without one.
func (c *certificate) hostsOf(at *net.TCPAddr) ([]string, error) {
	if c == nil {
		return hostsOf(at, nil, webPort)
	}
	return hostsOf(at, c.names(), securePort)
}
