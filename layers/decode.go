package layers

import (
	"fmt"
	"io"
	"iter"
	"slices"
	"strconv"

	"panecore/layers/jsonio"
)

// A Fault is one thing wrong with a document or with what was typed.
type Fault = jsonio.Fault

// Faults lists what is wrong with a document.
type Faults = jsonio.Faults

// MaxFaults is how many faults of one document are told.
const MaxFaults = jsonio.MaxFaults

// OneOf lists words to choose from, as in "a, b or c".
func OneOf[Word ~string](words []Word) string { return jsonio.OneOf(words) }

// Texts are words as plain texts.
func Texts[Word ~string](words []Word) []string {
	list := make([]string, len(words))
	for i, word := range words {
		list[i] = string(word)
	}
	return list
}

// Nearest is the known name that a mistyped one may stand for, or "".
func Nearest(name string, known []string) string { return jsonio.Nearest(name, known) }

// DocumentFormat names the logbook document and its version.
const DocumentFormat = "panecore/1"

// documentSketch is what is wanted where the whole document is something else.
const documentSketch = `a logbook document, {"format": "` + DocumentFormat + `", "tanks": […]}`

var documentFields = jsonio.Fields{Required: 2, Names: []string{"format", "tanks"}}

// Decoder reads a logbook document tank by tank. It is for one goroutine.
type Decoder struct {
	in    *jsonio.Reader
	today Date
	bands []string

	tank     Tank            // the tank at hand
	index    int             // its place in the list
	twin     bool            // an earlier tank has the same id
	cores    []Core          // the cores of the tank at hand
	layers   []Layer         // the layers of the core at hand
	tankAt   map[string]int  // the first tank of each id
	coreAt   map[reading]int // the first core of each reading of the tank at hand
	stations map[string]string
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
		today:    today,
		tankAt:   map[string]int{},
		coreAt:   map[reading]int{},
		stations: map[string]string{},
		bands:    bandNames(),
	}
	d.in = jsonio.NewReader(r, documentSketch, d.namesOf)
	return d
}

// namesOf words the place of a tank by its id, and of a core by its station and date, which may
// stand behind the fault.
func (d *Decoder) namesOf(steps []string) (names, rest []string) {
	if len(steps) < 2 || steps[0] != "tanks" || !jsonio.IsIndex(steps[1]) {
		return nil, steps
	}
	names, steps = append(names, d.tankName(steps[1])), steps[2:]
	if len(steps) < 2 || steps[0] != "cores" || !jsonio.IsIndex(steps[1]) {
		return names, steps
	}
	return append(names, d.coreName(steps[1])), steps[2:]
}

func (d *Decoder) tankName(index string) string {
	if d.tank.ID == "" || d.twin {
		return "tanks[" + index + "]"
	}
	return fmt.Sprintf("tank %q", d.tank.ID)
}

func (d *Decoder) coreName(index string) string {
	if i, err := strconv.Atoi(index); err == nil && i < len(d.cores) {
		core := &d.cores[i]
		known := core.Station != "" && core.Date != 0
		if first, ok := d.coreAt[reading{core.Station, core.Date}]; known && (!ok || first == i) {
			return "core " + core.Station + " " + core.Date.String()
		}
	}
	return "cores[" + index + "]"
}

// Decode reads a whole logbook document; see [Decoder] for its error.
func Decode(r io.Reader, today Date) ([]Tank, error) {
	d := NewDecoder(r, today)
	tanks := slices.Collect(d.Tanks())
	if err := d.Err(); err != nil {
		return nil, err
	}
	return tanks, nil
}

// Err is what was wrong, once Tanks has ended: nil, [Faults], or the error of
// the reader underneath, wrapped.
func (d *Decoder) Err() error {
	err := d.in.Err()
	if _, ok := err.(Faults); ok || err == nil {
		return err
	}
	return fmt.Errorf("reading the logbook document: %w", err)
}

// Tanks yields the tanks as they are read, so that work on them can begin before
// the document ends; what they lead to stands only if Err is nil afterwards.
// From the first fault on no tank is yielded, but reading goes on to find the
// others. It can be ranged over once.
func (d *Decoder) Tanks() iter.Seq[Tank] {
	return func(yield func(Tank) bool) {
		for document := d.in.Object(&documentFields); d.in.Next(&document); {
			switch documentFields.Names[document.At] {
			case "format":
				jsonio.Choose(d.in, []string{DocumentFormat})
			case "tanks":
				if !d.readTanks(yield) {
					return
				}
			}
		}
		d.in.End()
	}
}

// readTanks reads the list of tanks and reports whether more is wanted.
func (d *Decoder) readTanks(yield func(Tank) bool) bool {
	if !d.in.List() {
		return true
	}
	for index := 0; d.in.More(); index++ {
		d.index = index
		tankTable.read(d, &d.tank)
		d.checkSetUp(index)
		d.checkNative(index)
		d.in.Settle()
		tank := d.tank
		d.tank, d.twin = Tank{}, false
		d.cores = d.cores[:0]
		clear(d.coreAt)
		clear(d.stations)
		if !d.in.Stopped() && d.in.Faultless() && !yield(tank) {
			return false
		}
	}
	return true
}
