package layers

import (
	"io"

	"panecore/layers/jsonio"
)

// Encode writes the tanks as a logbook document in its one canonical form: fields
// in the order of the manual, what is not given left out, a line each for a
// layer, a native substrate, a water test and an event, so that logbooks compare
// well line by line. The tanks are taken as they are; only a number or a text
// that JSON can't hold is an error.
func Encode(w io.Writer, tanks []Tank) error {
	e := jsonio.NewWriter(w)
	e.Begin('{')
	e.Text("format", DocumentFormat)
	e.Key("tanks")
	e.Begin('[')
	for i := range tanks {
		e.Next()
		tankTable.block(e, &tanks[i])
		e.Flush()
	}
	e.End(']')
	e.End('}')
	return e.Finish()
}
