package layers

import (
	"bytes"

	"github.com/go-json-experiment/json/jsontext"
)

// The parts of a tank and a core are also written by themselves, on one line
// and as they stand in a document, for a store to keep beside their other fields.

// AppendLayers appends a core's layers to buf; its error is that of [Encode].
func AppendLayers(buf []byte, layers []Layer) ([]byte, error) {
	return appendList(buf, layers, (*encoder).layer)
}

// AppendNative appends a tank's native substrates to buf; its error is that of [Encode].
func AppendNative(buf []byte, native []Native) ([]byte, error) {
	return appendList(buf, native, (*encoder).native)
}

func appendList[Entry any](buf []byte, list []Entry, write func(*encoder, *Entry)) ([]byte, error) {
	e := encoder{buf: buf}
	e.row('[', func() {
		for i := range list {
			e.next()
			write(&e, &list[i])
		}
	}, ']')
	return e.buf, e.err
}

// AppendLimits appends a tank's limits to buf; its error is that of [Encode].
func AppendLimits(buf []byte, limits Limits) ([]byte, error) {
	e := encoder{buf: buf}
	e.limitsRow(limits)
	return e.buf, e.err
}

// AppendPhoto appends what a core was read from to buf; its error is that of [Encode].
func AppendPhoto(buf []byte, photo *Photo) ([]byte, error) {
	e := encoder{buf: buf}
	e.photoRow(photo)
	return e.buf, e.err
}

// PartDecoder reads what AppendLayers, AppendNative, AppendLimits and AppendPhoto
// write. It is for one goroutine, and quicker than a Decoder for each part.
type PartDecoder struct{ decoder *Decoder }

// NewPartDecoder returns a decoder of parts.
func NewPartDecoder() PartDecoder { return PartDecoder{NewDecoder(nil, 0)} }

// Layers reads a core's layers. An error is [Faults], their places within the part.
func (p PartDecoder) Layers(text []byte) (list []Layer, err error) {
	err = p.read(text, func(d *Decoder) { list = d.readLayers() })
	return list, err
}

// Native reads a tank's native substrates; see Layers for the error.
func (p PartDecoder) Native(text []byte) (list []Native, err error) {
	err = p.read(text, func(d *Decoder) { list = readList(d, d.readNative) })
	return list, err
}

// Limits reads a tank's limits; see Layers for the error.
func (p PartDecoder) Limits(text []byte) (limits Limits, err error) {
	err = p.read(text, func(d *Decoder) { limits = d.readLimits() })
	return limits, err
}

// Photo reads what a core was read from; see Layers for the error.
func (p PartDecoder) Photo(text []byte) (photo *Photo, err error) {
	err = p.read(text, func(d *Decoder) { photo = d.readPhoto() })
	return photo, err
}

func (p PartDecoder) read(text []byte, read func(*Decoder)) error {
	d := p.decoder
	*d.source = source{held: text, given: len(text)}
	d.json.Reset(bytes.NewBuffer(text), jsontext.AllowDuplicateNames(true))
	d.faults, d.untold, d.stopped, d.err = nil, 0, false, nil
	read(d)
	d.end()
	return d.Err()
}
