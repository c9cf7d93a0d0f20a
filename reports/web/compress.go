package web

import (
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"
	"sync"
)

// leastCompressed is how much of an answer is worth it, bytes (assumption: about what one packet
// of a network holds anyway).
const leastCompressed = 1000

// compressed sends answers that are text in gzip (RFC 1952) to callers who take it.
//
// How long a compressed answer is tells something about what is in it, and the proof that forms
// carry is in every page: somebody who can have a browser ask for many pages with texts of his
// choice in them, and sees how long the answers are, could guess it letter by letter. But pages
// elsewhere get no answer that has it, since browsers don't send them our cookie (SameSite=Strict).
func compressed(next http.Handler) http.Handler {
	writers := &sync.Pool{New: func() any { // each takes 0.8 MB to make
		zip, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed) // an error only for an unknown level
		return zip
	}}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		c := &compressor{ResponseWriter: w, writers: writers, wanted: r.Method == http.MethodGet || r.Method == http.MethodPost}
		c.wanted = c.wanted && r.Header.Get("Range") == "" && takesGzip(r.Header.Values("Accept-Encoding"))
		next.ServeHTTP(c, r)
		c.end() // not after a panic: the answer was cut short, and must not look whole
	})
}

// compressor writes an answer, compressed if it turns out to be worth it.
type compressor struct {
	http.ResponseWriter
	writers *sync.Pool
	wanted  bool         // the caller takes it
	status  int          // to be sent before the first byte; 0: none, or it was
	begun   bool         // something was sent
	zip     *gzip.Writer // nil: it is sent as it is
}

// WriteHeader waits for the first byte, by which it is known what is sent.
func (c *compressor) WriteHeader(status int) {
	if c.begun {
		c.ResponseWriter.WriteHeader(status)
		return
	}
	c.status = status
}

func (c *compressor) Write(part []byte) (int, error) {
	if !c.begun {
		c.begin(len(part))
	}
	if c.zip != nil {
		return c.zip.Write(part)
	}
	return c.ResponseWriter.Write(part)
}

// begin sends the header of an answer whose first part has a length.
func (c *compressor) begin(length int) {
	c.begun = true
	head := c.Header()
	if isText(head.Get("Content-Type")) {
		head.Add("Vary", "Accept-Encoding")
		if c.wanted && length >= leastCompressed {
			head.Set("Content-Encoding", "gzip")
			head.Del("Content-Length")
			head.Del("Accept-Ranges")
			c.zip = c.writers.Get().(*gzip.Writer)
			c.zip.Reset(c.ResponseWriter)
		}
	}
	if c.status != 0 {
		c.ResponseWriter.WriteHeader(c.status)
	}
}

// end sends what is left.
func (c *compressor) end() {
	switch {
	case !c.begun:
		c.begin(0)
	case c.zip != nil:
		c.zip.Close() // only the connection can fail
		c.writers.Put(c.zip)
	}
}

// Unwrap is for [http.ResponseController].
func (c *compressor) Unwrap() http.ResponseWriter { return c.ResponseWriter }

// isText reports whether a kind of content gets much smaller: pictures and archives are compressed
// already.
func isText(kind string) bool {
	kind, _, _ = strings.Cut(kind, ";")
	switch kind = strings.ToLower(strings.TrimSpace(kind)); kind {
	case "application/json", "application/javascript", "image/svg+xml":
		return true
	}
	return strings.HasPrefix(kind, "text/")
}

// takesGzip reports whether a caller takes gzip (RFC 9110, 12.5.3): by its name or else among all
// others, and not with a weight of 0.
func takesGzip(accepted []string) bool {
	takes, named := false, false
	for part := range strings.SplitSeq(strings.Join(accepted, ","), ",") {
		name, weight, _ := strings.Cut(part, ";")
		switch name = strings.ToLower(strings.TrimSpace(name)); {
		case name == "gzip":
			takes, named = isWanted(weight), true
		case name == "*" && !named:
			takes = isWanted(weight)
		}
	}
	return takes
}

// isWanted reports whether a weight, as in q=0.5, is none or above 0.
func isWanted(weight string) bool {
	key, value, given := strings.Cut(weight, "=")
	if !given || !strings.EqualFold(strings.TrimSpace(key), "q") {
		return true
	}
	q, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	return err == nil && q > 0
}
