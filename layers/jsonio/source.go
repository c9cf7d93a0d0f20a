package jsonio

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"
)

const (
	// maxDocument is the size of the largest document in bytes (assumption: ten
	// times what the largest fish room fills in ten years).
	maxDocument = 128 << 20
	// maxText is the length of the longest text, number or run of blanks in bytes
	// (assumption: a note of 4,000 characters, each escaped, fits in).
	maxText = 64 << 10

	piece  = 4 << 10             // bytes handed out at a time, so that maxText holds to within one
	tail   = maxText + 2*piece   // bytes kept behind, to find the place of a fault in
	window = 2*tail + (64 << 10) // bytes held
)

// ByteOrderMark opens files that some editors save; it means nothing in UTF-8.
const ByteOrderMark = "\ufeff"

// source feeds a document to the JSON reader in pieces. It refuses what is too
// large before memory fills. It keeps the last bytes, in which every fault lies,
// so that lines and columns need be counted only where one is told.
type source struct {
	r      io.Reader
	taken  func() int64 // how many bytes the JSON reader has taken in as tokens
	held   []byte       // the last bytes read
	given  int          // how many of held are handed out
	start  int64        // the offset of held[0] in the document
	origin position     // the place of held[0]
}

// position is a place in the document, counted from 0 in characters.
type position struct{ line, column int }

func (p position) String() string { return fmt.Sprintf("line %d, column %d", p.line+1, p.column+1) }

// after is the place behind text that begins at p.
func (p position) after(text []byte) position {
	if newlines := bytes.Count(text, []byte{'\n'}); newlines > 0 {
		p = position{line: p.line + newlines}
		text = text[bytes.LastIndexByte(text, '\n')+1:]
	}
	for _, b := range text { // not RuneCount, which miscounts a character cut in two
		if utf8.RuneStart(b) {
			p.column++
		}
	}
	return p
}

func (s *source) Read(p []byte) (int, error) {
	offset := s.start + int64(s.given)
	if offset > maxDocument {
		return 0, Fault{WholeDocument, "more than 128 MiB", "at most 128 MiB: split it by tanks"}
	}
	if taken := s.taken(); offset-taken > maxText {
		return 0, Fault{s.at(taken).String(), "a text, a number or blanks longer than 64 KiB", "something shorter"}
	}
	if s.given == len(s.held) {
		if err := s.fill(); err != nil {
			return 0, err
		}
	}
	n := copy(p[:min(len(p), piece)], s.held[s.given:])
	s.given += n
	return n, nil
}

// fill reads on, after making room where there is none.
func (s *source) fill() error {
	least := 1
	switch {
	case s.held == nil:
		s.held = make([]byte, 0, window)
		least = len(ByteOrderMark)
	case len(s.held) == cap(s.held):
		gone := len(s.held) - tail
		s.origin = s.origin.after(s.held[:gone])
		s.start += int64(gone)
		s.held = s.held[:copy(s.held, s.held[gone:])]
		s.given -= gone
	}
	old := len(s.held)
	n, err := io.ReadAtLeast(s.r, s.held[old:cap(s.held)], least)
	s.held = s.held[:old+n]
	if old == 0 && s.start == 0 && bytes.HasPrefix(s.held, []byte(ByteOrderMark)) {
		s.held = s.held[:copy(s.held, s.held[len(ByteOrderMark):])]
	}
	if n > 0 {
		return nil
	}
	return err
}

// from is what has been read from an offset on.
func (s *source) from(offset int64) []byte { return s.held[offset-s.start:] }

// at is the place of an offset that is still held.
func (s *source) at(offset int64) position { return s.origin.after(s.held[:offset-s.start]) }
