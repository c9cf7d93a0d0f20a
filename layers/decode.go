package layers

import (
	"errors"
	"fmt"
	"io"
	"iter"

	"github.com/go-json-experiment/json/jsontext"
)

// DocumentFormat names the logbook document and its version.
const DocumentFormat = "panecore/1"

// documentSketch is what is wanted where the whole document is something else.
const documentSketch = `a logbook document, {"format": "` + DocumentFormat + `", "tanks": […]}`

var documentFields = fields{2, []string{"format", "tanks"}}

// Decoder reads a logbook document tank by tank. It is for one goroutine.
type Decoder struct {
	json   *jsontext.Decoder
	source *source
	today  Date
	bands  []string

	tank     Tank            // the tank at hand
	index    int             // its place in the list
	twin     bool            // an earlier tank has the same id
	cores    []Core          // the cores of the tank at hand
	layers   []Layer         // the layers of the core at hand
	text     []byte          // the last text that held escapes
	part     []byte          // the part at hand, where no document is read
	tankAt   map[string]int  // the first tank of each id
	coreAt   map[reading]int // the first core of each reading of the tank at hand
	stations map[string]string

	remarks []remark
	faults  Faults
	untold  int // faults past MaxFaults
	stopped bool
	err     error // the reader's own
}

// reading is what sets a tank's cores apart.
type reading struct {
	station string
	date    Date
}

// NewDecoder reads a logbook document from r; today is the newest date a record
// may bear.
func NewDecoder(r io.Reader, today Date) *Decoder {
	d := &Decoder{
		source:   &source{r: r},
		today:    today,
		tankAt:   map[string]int{},
		coreAt:   map[reading]int{},
		stations: map[string]string{},
		bands:    bandNames(),
	}
	d.json = jsontext.NewDecoder(d.source, jsontext.AllowDuplicateNames(true)) // next finds them
	d.source.taken = d.json.InputOffset
	return d
}

// Decode reads a whole logbook document; see [Decoder] for its error.
func Decode(r io.Reader, today Date) ([]Tank, error) {
	d := NewDecoder(r, today)
	var tanks []Tank
	for tank := range d.Tanks() {
		tanks = append(tanks, tank)
	}
	if err := d.Err(); err != nil {
		return nil, err
	}
	return tanks, nil
}

// Err is what was wrong, once Tanks has ended: nil, [Faults], or the error of
// the reader underneath, wrapped.
func (d *Decoder) Err() error {
	switch {
	case d.err != nil:
		return d.err
	case d.faultless():
		return nil
	}
	faults := d.faults
	if d.untold > 0 {
		faults = append(faults, Fault{Found: fmt.Sprintf("further faults: %d", d.untold)})
	}
	return faults
}

// Tanks yields the tanks as they are read, so that work on them can begin before
// the document ends; what they lead to stands only if Err is nil afterwards.
// From the first fault on no tank is yielded, but reading goes on to find the
// others. It can be ranged over once.
func (d *Decoder) Tanks() iter.Seq[Tank] {
	return func(yield func(Tank) bool) {
		for document := d.object(&documentFields); d.next(&document); {
			switch documentFields.names[document.at] {
			case "format":
				choose(d, []string{DocumentFormat})
			case "tanks":
				if !d.readTanks(yield) {
					return
				}
			}
		}
		d.end()
	}
}

// readTanks reads the list of tanks and reports whether more is wanted.
func (d *Decoder) readTanks(yield func(Tank) bool) bool {
	if !d.list() {
		return true
	}
	for index := 0; d.more(); index++ {
		d.readTank(index)
		d.settle()
		tank := d.tank
		d.forget()
		if !d.stopped && d.faultless() && !yield(tank) {
			return false
		}
	}
	return true
}

// forget makes ready for another tank.
func (d *Decoder) forget() {
	d.tank, d.twin = Tank{}, false
	d.cores = d.cores[:0]
	clear(d.coreAt)
	clear(d.stations)
}

// end sees to it that nothing follows the document.
func (d *Decoder) end() {
	if !d.stopped {
		offset := d.json.InputOffset()
		_, err := d.json.ReadToken()
		_, syntax := errors.AsType[*jsontext.SyntacticError](err)
		switch {
		case err == nil || syntax:
			offset += int64(blanks(d.source.from(offset)))
			d.halt(Fault{d.source.at(offset).String(), token(d.source.from(offset)), "nothing after the document"})
		case err != io.EOF:
			d.stop(err)
		}
	}
	d.settle()
}
