// Package logbook keeps tanks, their cores, water tests and events, and the
// keeper's own colour prototypes, in one SQLite file.
//
// Nothing that was acknowledged is ever lost. Every write is one transaction that
// is on disk when its method returns nil, and a row is never overwritten: it
// stands from the change that brought it until the change that ended it, so that
// former values stay readable and [Book.Undo] can take changes back.
//
// Any program that reads SQLite can read the file; schema/1.sql says how. A core is one
// row, its layers the JSON of the logbook document, since a core is read, written and
// kept whole: 100,000 cores of six layers were read in 0.33 s so and in 1.2 s from a row
// a layer, and written in 1.6 s against 3.4 s (measured on one machine). The view
// layers gives a row a layer all the same.
//
// The photo that a core was read from is kept as it is, named for its SHA-256, in a
// folder beside the file; see [PhotoFolder]. It is on disk before the change that names
// it is, and never taken away, since former values may need it: what a stopped program
// leaves there is a file too many, never one too few. [Book.Check] tells both.
//
// The time of a change, in the keeper's time zone, comes in as an argument; its day
// is also the newest date that the change may write down.
//
// Values are checked by the rules of package layers, and a fault of theirs is
// reported as [layers.Faults]. The other errors are [FileError], [NotFoundError],
// [TakenError], [ConflictError] and [ErrNothingToUndo]. All are told in one line
// or, where there are several faults, one line each.
package logbook
