package layers

import (
	"bytes"

	"github.com/go-json-experiment/json/jsontext"
)

// A PartDecoder reads what a [Column] holds. It is for one goroutine, and quicker than a Decoder
// for each part.
type PartDecoder struct{ decoder *Decoder }

// NewPartDecoder returns a decoder of parts.
func NewPartDecoder() PartDecoder { return PartDecoder{NewDecoder(nil, 0)} }

// scanPart reads a part of a record that a store keeps as it stands in a document, but on one
// line.
func scanPart[T any](p PartDecoder, cell any, decode func(*Decoder) T) (T, error) {
	text, _ := cell.(string)
	d := p.decoder
	d.part = append(d.part[:0], text...)
	*d.source = source{held: d.part, given: len(d.part)}
	d.json.Reset(bytes.NewBuffer(d.part), jsontext.AllowDuplicateNames(true))
	d.faults, d.untold, d.stopped, d.err = nil, 0, false, nil
	value := decode(d)
	d.end()
	return value, d.Err()
}

// part is what was written of a part. Its error is that of the whole document, which is written
// before any part is kept.
func (e *encoder) part() string { return string(e.buf) }
