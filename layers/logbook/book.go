package logbook

import (
	"context"
	"iter"
	"time"

	"panecore/layers"
	"panecore/palette"
)

// Book is an open logbook. It may be used by several goroutines at once, and the
// file by several programs.
type Book struct{}

// Open opens the logbook at path. Where there is none it makes one, with the
// folders above it, if create is true. A logbook of an earlier version is brought
// up to date, each step after a verified backup beside it, named path.v1 and so on.
// What can't be opened is left as it is, with a [FileError].
func Open(ctx context.Context, path string, create bool) (*Book, error) { panic("to come") }

// Close ends the use of the logbook.
func (b *Book) Close() error { panic("to come") }

// Tank reads a tank whole, retired or not: cores by date and station, water tests
// by date and time, events by date.
func (b *Book) Tank(ctx context.Context, id string) (layers.Tank, error) { panic("to come") }

// Tanks reads every tank whole, one at a time and by id, as they stood at one
// moment; retired ones only if asked. It is what a document of the whole logbook
// is written from.
func (b *Book) Tanks(ctx context.Context, retired bool) iter.Seq2[layers.Tank, error] {
	panic("to come")
}

// A TankEntry is a line of the list of tanks.
type TankEntry struct {
	ID, Name string
	Retired  bool
	Cores    int
	Newest   layers.Date // of the cores; zero: none
}

// List lists the tanks by id; retired ones only if asked.
func (b *Book) List(ctx context.Context, retired bool) ([]TankEntry, error) { panic("to come") }

// A Change is one acknowledged write.
type Change struct {
	At   time.Time // UTC, to the second
	What string    // as in `tank "kettle": core front 2026-11-01 added`
}

// A CoreEntry is a core as it stands or stood in the logbook.
type CoreEntry struct {
	layers.Core
	Since Change // what brought it
	Until Change // what ended it; the zero Change: it stands
}

// Stands reports whether the entry is neither amended, removed nor taken back.
func (e CoreEntry) Stands() bool { return e.Until == Change{} }

// Cores lists a tank's cores by date and station; if asked also those removed,
// taken back and amended, each key's in the order in which they were written.
func (b *Book) Cores(ctx context.Context, tank string, former bool) ([]CoreEntry, error) {
	panic("to come")
}

// AddTank adds a tank with all that it holds.
func (b *Book) AddTank(ctx context.Context, at time.Time, tank layers.Tank) error { panic("to come") }

// EditTank replaces what is known of a tank besides its cores, water tests and
// events: those of the argument are not looked at.
func (b *Book) EditTank(ctx context.Context, at time.Time, tank layers.Tank) error {
	panic("to come")
}

// RetireTank marks a tank as no longer kept; nothing of it is lost.
func (b *Book) RetireTank(ctx context.Context, at time.Time, id string) error { panic("to come") }

// ReviveTank takes up a retired tank again.
func (b *Book) ReviveTank(ctx context.Context, at time.Time, id string) error { panic("to come") }

// AddCore adds a core to a tank that has none of its station and date.
func (b *Book) AddCore(ctx context.Context, at time.Time, tank string, core layers.Core) error {
	panic("to come")
}

// AmendCore puts core in the place of the one of a station and date, which may
// differ from its own. Amending to the same value changes nothing.
func (b *Book) AmendCore(ctx context.Context, at time.Time, tank, station string, date layers.Date, core layers.Core) error {
	panic("to come")
}

// RemoveCore removes the core of a station and date.
func (b *Book) RemoveCore(ctx context.Context, at time.Time, tank, station string, date layers.Date) error {
	panic("to come")
}

// AddWater adds a water test to a tank that has none of its date and time.
func (b *Book) AddWater(ctx context.Context, at time.Time, tank string, test layers.WaterTest) error {
	panic("to come")
}

// RemoveWater removes the water test of a date and time; the time is empty for a
// test without one.
func (b *Book) RemoveWater(ctx context.Context, at time.Time, tank string, date layers.Date, clock string) error {
	panic("to come")
}

// AddEvent adds an event to a tank that has none wholly equal.
func (b *Book) AddEvent(ctx context.Context, at time.Time, tank string, event layers.Event) error {
	panic("to come")
}

// RemoveEvent removes the event that equals the one given.
func (b *Book) RemoveEvent(ctx context.Context, at time.Time, tank string, event layers.Event) error {
	panic("to come")
}

// A Prototype is a colour that the keeper knows the meaning of and calls by name.
type Prototype struct {
	Tank   string // empty: it holds for every tank
	Name   string // one word of 1 to 80 characters that is no band's name and has no '#' in front
	Band   palette.Band
	Color  palette.Color
	Spread float64 // root-mean-square CIEDE2000 difference from Color, 0.5 to 20
}

// Prototypes lists the prototypes that hold for a tank, by name: its own, and those
// for every tank whose names it does not use itself. With an empty id it lists every
// prototype of the logbook, by name and tank.
func (b *Book) Prototypes(ctx context.Context, tank string) ([]Prototype, error) { panic("to come") }

// AddPrototype adds a prototype under a name that is free for its tank.
func (b *Book) AddPrototype(ctx context.Context, at time.Time, p Prototype) error { panic("to come") }

// RemovePrototype removes the prototype that a tank has under a name; with an empty
// id, the one for every tank.
func (b *Book) RemovePrototype(ctx context.Context, at time.Time, tank, name string) error {
	panic("to come")
}

// LastChange is the change that Undo would take back.
func (b *Book) LastChange(ctx context.Context) (Change, error) { panic("to come") }

// Undo takes back the last change that is not taken back yet, and returns it.
func (b *Book) Undo(ctx context.Context, at time.Time) (Change, error) { panic("to come") }

// Imported counts what an import did.
type Imported struct {
	Tanks, Cores, Water, Events int // added
	Replaced                    int // entries of any kind that took the place of another value
	Equal                       int // entries of any kind that were there already
}

// Import merges tanks into the logbook as one change, all or nothing. An entry equal
// to the logbook's is passed over; one with the same key and another value replaces
// it if replace is true, and else refuses the import with a [ConflictError]. The
// entries are a tank's setup, by id; cores, by station and date; water tests, by
// date and time; and events, by all they say. What the logbook holds besides stays.
func (b *Book) Import(ctx context.Context, at time.Time, tanks []layers.Tank, replace bool) (Imported, error) {
	panic("to come")
}

// Backup writes the logbook as it stands to a new file, which is checked before it
// gets its name, and on disk when Backup returns. It never overwrites.
func (b *Book) Backup(ctx context.Context, path string) error { panic("to come") }

// A Problem is something wrong within the logbook, and how to mend it.
type Problem struct{ Where, Found, Mend string }

func (p Problem) String() string { return p.Where + ": found " + p.Found + "; " + p.Mend }

// Check looks through the whole logbook and lists what is wrong with it.
func (b *Book) Check(ctx context.Context) ([]Problem, error) { panic("to come") }
