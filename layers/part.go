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

// on makes ready to read a part: a list or an object by itself.
func (p PartDecoder) on(text string) *Decoder {
	d := p.decoder
	d.part = append(d.part[:0], text...)
	*d.source = source{held: d.part, given: len(d.part)}
	d.json.Reset(bytes.NewBuffer(d.part), jsontext.AllowDuplicateNames(true))
	d.faults, d.untold, d.stopped, d.err = nil, 0, false, nil
	return d
}

// end is what was wrong with the part.
func (p PartDecoder) end() error {
	p.decoder.end()
	return p.decoder.Err()
}
