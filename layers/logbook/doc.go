// Package logbook keeps tanks, their cores, water tests and events, and the
// keeper's own colour prototypes, in one SQLite file.
//
// Nothing that was acknowledged is ever lost. Every write is one transaction that
// is on disk when its method returns nil, and a row is never overwritten: it
// stands from the change that brought it until the change that ended it, so that
// former values stay readable and [Book.Undo] can take changes back.
//
// The time of a change, in the keeper's time zone, comes in as an argument; its day
// is also the newest date that the change may write down.
//
// Values are checked by the rules of package layers, and a fault of theirs is
// reported as [layers.Faults]. The other errors are [FileError], [NotFoundError],
// [TakenError], [ConflictError] and [ErrNothingToUndo]. All are told in one line
// or, where there are several faults, one line each.
package logbook
