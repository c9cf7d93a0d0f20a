package serve

import (
	"context"
	"log"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

// What a caller may take of the server (assumptions: a large photo over a home's network,
// and the longest reading of one, take a part of it).
const (
	headerTime  = 5 * time.Second  // to send a request's header
	requestTime = 2 * time.Minute  // to send the whole of it
	answerTime  = time.Minute      // to work out an answer, and to take each part of it
	idleTime    = 60 * time.Second // between two requests
	mostHeader  = 16 << 10         // bytes
)

// mostAtWork is how many requests are answered at once; the others wait (assumption: a few
// tabs and a phone, each of which can keep a core busy for a part of a second).
const mostAtWork = 8

// stopGrace is how long requests may take to end when the server stops (assumption).
const stopGrace = 5 * time.Second

// pageServer serves a page.
type pageServer struct {
	http.Server
	turns chan struct{} // of the requests at work
	mu    sync.Mutex
	fresh map[net.Conn]bool // connections that have sent nothing yet: browsers keep some ready
}

// newPageServer serves a page and tells what fails, a line each and never with the key.
func newPageServer(page http.Handler, tell func(string), key string) *pageServer {
	p := &pageServer{turns: make(chan struct{}, mostAtWork), fresh: map[net.Conn]bool{}}
	p.Server = http.Server{
		Handler:           telling(p.inTurn(page), tell),
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       requestTime,
		WriteTimeout:      requestTime + answerTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    mostHeader,
		ErrorLog:          log.New(firstLine{tell, key}, "", 0),
		ConnState:         p.keepFresh,
	}
	return p
}

func (p *pageServer) keepFresh(c net.Conn, state http.ConnState) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if state == http.StateNew {
		p.fresh[c] = true
	} else {
		delete(p.fresh, c)
	}
}

// run serves until the context ends, and then lets the requests that have begun end.
func (p *pageServer) run(ctx context.Context, listener net.Listener) error {
	ended := make(chan error, 1)
	go func() { ended <- p.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	listener.Close()
	<-ended // no other connection comes
	p.closeFresh()
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopGrace)
	defer cancel()
	if p.Shutdown(grace) == nil {
		return nil
	}
	p.Close()
	for range mostAtWork { // what is at work puts its files away
		p.turns <- struct{}{}
	}
	return nil
}

// closeFresh closes what Shutdown would wait for.
func (p *pageServer) closeFresh() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for c := range p.fresh {
		c.Close()
	}
}

// inTurn answers few requests at once, and gives each its time from when its turn comes:
// many would all be late together.
func (p *pageServer) inTurn(page http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		select {
		case p.turns <- struct{}{}:
			defer func() { <-p.turns }()
		case <-r.Context().Done():
			return // nobody waits any more
		}
		steady := &steadyWriter{w, http.NewResponseController(w)}
		steady.control.SetReadDeadline(time.Now().Add(requestTime))
		steady.control.SetWriteDeadline(time.Now().Add(requestTime + answerTime))
		page.ServeHTTP(steady, r)
	})
}

// steadyWriter gives each part of an answer its time: a large file may take long over a slow
// network, who stands still may not.
type steadyWriter struct {
	http.ResponseWriter
	control *http.ResponseController
}

func (w *steadyWriter) Write(part []byte) (int, error) {
	w.control.SetWriteDeadline(time.Now().Add(answerTime))
	return w.ResponseWriter.Write(part)
}

// Unwrap is for [http.ResponseController].
func (w *steadyWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// telling tells of requests that the server failed at, without what stands behind the
// path.
func telling(page http.Handler, tell func(string)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		seen, asked := &statusWriter{ResponseWriter: w}, r.Method+" "+r.URL.EscapedPath()
		defer func() {
			stopped := recover()
			switch {
			case stopped == http.ErrAbortHandler:
				tell(asked + ": the answer broke off")
			case seen.status >= http.StatusInternalServerError:
				tell(asked + ": failed: " + http.StatusText(seen.status))
			}
			if stopped != nil {
				panic(stopped) // which the server tells of, but for the first
			}
		}()
		page.ServeHTTP(seen, r)
	})
}

// statusWriter remembers an answer's status.
type statusWriter struct {
	http.ResponseWriter
	status int
}

func (w *statusWriter) WriteHeader(status int) {
	w.status = status
	w.ResponseWriter.WriteHeader(status)
}

// Unwrap is for [http.ResponseController].
func (w *statusWriter) Unwrap() http.ResponseWriter { return w.ResponseWriter }

// firstLine tells the first line of each text written to it, without the key.
type firstLine struct {
	tell func(string)
	key  string
}

func (f firstLine) Write(text []byte) (int, error) {
	line, _, _ := strings.Cut(string(text), "\n")
	f.tell(strings.ReplaceAll(line, f.key, "(key)"))
	return len(text), nil
}
