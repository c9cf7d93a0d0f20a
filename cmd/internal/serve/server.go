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

// Limits for a caller (assumptions: a large photo over a home network, and the longest reading of
// one, take only part of this time).
const (
	headerTime  = 5 * time.Second  // to send a request's header
	requestTime = 2 * time.Minute  // to send the whole of it
	answerTime  = time.Minute      // to make an answer, and to receive each part of it
	idleTime    = 60 * time.Second // between two requests
	mostHeader  = 16 << 10         // bytes
)

// mostAtWork is how many requests are answered at once; others wait (assumption: a few tabs and a
// phone, each of which can keep a processor busy for part of a second).
const mostAtWork = 8

// stopGrace is how long requests may take to finish when the server stops (assumption).
const stopGrace = 5 * time.Second

// pageServer serves a page.
type pageServer struct {
	http.Server
	turns chan struct{} // one for each request at work
	mu    sync.Mutex
	fresh map[net.Conn]bool // connections that have sent nothing yet: browsers open some in advance
}

// newPageServer serves a page, and notes each failure in a line without the key.
func newPageServer(page http.Handler, note func(string), key string) *pageServer {
	p := &pageServer{turns: make(chan struct{}, mostAtWork), fresh: map[net.Conn]bool{}}
	p.Server = http.Server{
		Handler:           notingFailures(p.inTurn(page), note),
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       requestTime,
		WriteTimeout:      requestTime + answerTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    mostHeader,
		ErrorLog:          log.New(firstLine{note, key}, "", 0),
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

// run serves until the context ends, and then lets requests that have begun finish.
func (p *pageServer) run(ctx context.Context, listener net.Listener) error {
	ended := make(chan error, 1)
	go func() { ended <- p.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	listener.Close()
	<-ended // no more connections
	p.closeFresh()
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopGrace)
	defer cancel()
	if p.Shutdown(grace) == nil {
		return nil
	}
	p.Close()
	for range mostAtWork { // wait for handlers to remove their files
		p.turns <- struct{}{}
	}
	return nil
}

// closeFresh closes the unused connections, for which Shutdown would wait.
func (p *pageServer) closeFresh() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for c := range p.fresh {
		c.Close()
	}
}

// inTurn limits the requests answered at once. Each one's time begins with its turn; otherwise many
// at once would all be too late.
func (p *pageServer) inTurn(page http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		select {
		case p.turns <- struct{}{}:
			defer func() { <-p.turns }()
		case <-r.Context().Done():
			return // nobody is waiting
		}
		steady := &steadyWriter{w, http.NewResponseController(w)}
		steady.control.SetReadDeadline(time.Now().Add(requestTime))
		steady.control.SetWriteDeadline(time.Now().Add(requestTime + answerTime))
		page.ServeHTTP(steady, r)
	})
}

// steadyWriter gives each part of an answer its own time: a large file may take long over a slow
// network, but not without progress.
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

// notingFailures notes requests at which the server failed, without their queries.
func notingFailures(page http.Handler, note func(string)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		seen, asked := &statusWriter{ResponseWriter: w}, r.Method+" "+r.URL.EscapedPath()
		defer func() {
			stopped := recover()
			switch {
			case stopped == http.ErrAbortHandler:
				note(asked + ": the answer was cut short")
			case seen.status >= http.StatusInternalServerError:
				note(asked + ": failed: " + http.StatusText(seen.status))
			}
			if stopped != nil {
				panic(stopped) // for package http, which logs it unless it is ErrAbortHandler
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

// firstLine notes the first line of each text it gets, without the key.
type firstLine struct {
	note func(string)
	key  string
}

func (f firstLine) Write(text []byte) (int, error) {
	line, _, _ := strings.Cut(string(text), "\n")
	f.note(strings.ReplaceAll(line, f.key, "(key)"))
	return len(text), nil
}
