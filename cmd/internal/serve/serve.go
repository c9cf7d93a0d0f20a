// Package serve serves the logbook as a local page: it listens, lets the browser in, and gives
// reports/web its store and its photo reader.
package serve

import (
	"context"
	"crypto/rand"
	"io"
	"net"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/demo"
	"panecore/cmd/internal/devices"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/web"
)

type options struct {
	address string // host:port; empty: any free port of this machine
	lan     bool   // let other devices on the network in
	open    bool   // show it in the browser
	demo    bool   // show the built-in records

	certFile, keyFile string
	cert              *certificate // nil: not encrypted
}

// NewCommand serves the page until it is interrupted.
func NewCommand(s *shell.Shell) *cobra.Command {
	var o options
	cmd := &cobra.Command{
		Use:     "serve",
		GroupID: shell.GroupProgram,
		Short:   "Open the logbook as a page in the browser",
		Long: `Serves a page for the whole job: read a photo by clicking on it, enter a core,
see the bed, the advice and what stirring or siphoning would do. It prints the
address to open, with a key that is new each time, and runs until Ctrl-C. Other
commands can use the same logbook meanwhile.

Only this machine can reach the page, unless --lan opens it to the network, for
a phone at the tank for example. It then prints a link, and on a terminal a code
to scan, that pairs one device within ten minutes. A paired device keeps its key
until it is shut out, on the page or by 'panecore device'; give a port to
--addr, so that its bookmark holds. Without a certificate of yours (--tls-cert,
--tls-key) what is sent is not encrypted: anyone on the network who listens can
read it, keys too. Never forward the port to the internet. Nothing is ever
fetched from elsewhere.

With --demo the page shows invented records, in a folder that is removed at the
end.`,
		Example: `  panecore serve --open
  panecore serve --demo
  panecore serve --lan --addr :8080
  panecore serve --lan --addr :8443 --tls-cert cert.pem --tls-key key.pem`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			at, err := o.check(cmd, s)
			if err != nil {
				return err
			}
			return run(cmd.Context(), s, o, at)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.StringVar(&o.address, "addr", "", "listen on `HOST:PORT` of this machine (default 127.0.0.1:0, where 0 is any free port)")
	flags.BoolVar(&o.open, "open", false, "open the page in the browser")
	flags.BoolVar(&o.lan, "lan", false, "let in paired devices on the network")
	flags.StringVar(&o.certFile, "tls-cert", "", "encrypt with the certificate in `FILE` (PEM)")
	flags.StringVar(&o.keyFile, "tls-key", "", "the certificate's private key, in `FILE` (PEM)")
	flags.BoolVar(&o.demo, "demo", false, "show invented records; changes are lost at the end")
	return cmd
}

// check refuses flags that contradict each other, and returns where to listen.
func (o *options) check(cmd *cobra.Command, s *shell.Shell) (at listenAt, err error) {
	switch {
	case s.JSON:
		return at, shell.BadUsage(cmd, "found --json, which has no effect on a page")
	case o.demo && s.Logbook != "":
		return at, shell.BadUsage(cmd, "found both --demo and --logbook, want one of them")
	}
	if at, err = parseListenAt(o.address, o.lan); err != nil {
		return at, shell.BadUsage(cmd, "--addr: %v", err)
	}
	if (o.certFile == "") != (o.keyFile == "") {
		return at, shell.BadUsage(cmd, "found only one of --tls-cert and --tls-key, want both or neither")
	}
	if o.certFile != "" {
		o.cert, err = readCertificate(s, o.certFile, o.keyFile)
	}
	return at, err
}

func run(ctx context.Context, s *shell.Shell, o options, at listenAt) error {
	ctx, stop := s.Env.Interrupted(ctx)
	defer stop()
	listener, err := at.listen(ctx)
	if err != nil {
		return err
	}
	defer listener.Close()
	s = shared(s)
	serve := func(book *logbook.Book) error { return serveBook(ctx, s, book, listener, o) }
	if o.demo {
		return demo.InBook(ctx, s, serve)
	}
	return s.InBook(ctx, true, serve)
}

// The notices on the page and at the terminal.
const (
	demoNotice = "Invented records: no such tanks, no such keeper. What you enter is gone when panecore stops."
	lanNotice  = "Open to this network, and not encrypted: what is sent can be read there."
)

// newestDay is the day of a logbook's newest record; zero if it has none, or can't be read, which
// the page then says.
func newestDay(ctx context.Context, book *logbook.Book) (day layers.Date) {
	tanks, err := shell.AllTanks(ctx, book, false)
	if err != nil {
		return 0
	}
	for _, tank := range tanks {
		day = max(day, reports.Newest(tank))
	}
	return day
}

// serveBook serves the page of a logbook until the context ends.
func serveBook(ctx context.Context, s *shell.Shell, book *logbook.Book, listener net.Listener, o options) error {
	var invented, notice string
	asOf := s.Today
	if o.demo { // judged as of its newest record, whatever the clock says
		invented, notice = demoNotice, demoNotice
		asOf = func() layers.Date { return newestDay(ctx, book) }
	}
	if o.lan && o.cert == nil {
		notice = strings.TrimSpace(notice + " " + lanNotice)
	}
	hosts, err := o.cert.hostsOf(listener.Addr().(*net.TCPAddr))
	if err != nil {
		return err
	}
	key := rand.Text() // at least 128 bits
	options := web.Options{
		Store: newPageStore(s, book, invented, asOf), Photos: pagePhotoReader{}, Drafts: draftFolder{book.Beside("drafts"), s.Note}, Today: s.Today, AsOf: asOf, Units: s.Units,
		Key: key, Hosts: hosts, Notice: notice, Encrypted: o.cert != nil,
	}
	at := place{hosts, key, o.cert}
	var others *pageDevices // nil: no other device may come in
	if o.lan {
		folder := devices.Beside(s, book)
		end, err := folder.Serve(at.elsewhere())
		if err != nil {
			return err
		}
		defer end()
		others = &pageDevices{folder, s, at.elsewhere(), o.demo}
		options.Devices = others
	}
	page, err := web.New(options)
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(ctx)
	var warming sync.WaitGroup
	defer warming.Wait() // before the logbook is closed
	defer stop()
	warming.Go(func() { keepWarm(ctx, page) })
	door := newDoor(page, key)
	if err := at.tell(s, others, notice); err != nil {
		return err
	}
	if o.open {
		openBrowser(s, at.here()+keyPath(door.pass))
	}
	if o.cert != nil {
		listener = o.cert.over(listener)
	}
	return newPageServer(door, s.Note, key).run(ctx, listener)
}

// warmEvery is how often the page judges what has changed since without being asked: a new day, or
// another program's changes (assumption: seldom enough to cost nothing).
const warmEvery = 10 * time.Minute

// keepWarm has the page judge the tanks before somebody asks for them, until the context ends.
func keepWarm(ctx context.Context, page *web.Page) {
	for {
		page.Warm(ctx)
		select {
		case <-time.After(warmEvery):
		case <-ctx.Done():
			return
		}
	}
}

// shared is the shell for several goroutines, of which one at a time writes a note.
func shared(s *shell.Shell) *shell.Shell {
	copied := *s
	copied.Env.Stderr = &sharedWriter{to: s.Env.Stderr}
	return &copied
}

type sharedWriter struct {
	mu sync.Mutex
	to io.Writer
}

func (w *sharedWriter) Write(text []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.to.Write(text)
}
