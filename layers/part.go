package layers

// A PartDecoder reads what a [Column] holds. It is for one goroutine, and quicker than a Decoder
// for each part.
type PartDecoder struct{ decoder *Decoder }

// NewPartDecoder returns a decoder of parts.
func NewPartDecoder() PartDecoder { return PartDecoder{NewDecoder(nil, 0)} }

// readPart reads a part of a record: a list or an object by itself.
func readPart[T any](p PartDecoder, text string, decode func(*Decoder) T) (T, error) {
	d := p.decoder
	d.in.Reset(text)
	value := decode(d)
	d.in.End()
	return value, d.Err()
}
