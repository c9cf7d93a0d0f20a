package shell

import (
	"errors"

	"panecore/layers"
	"panecore/layers/logbook"
)

// Fault is whose an error of the logbook is.
type Fault uint8

// The kinds of fault; all but the first are the keeper's to mend.
const (
	Failed  Fault = iota // the machine or the program
	Missing              // what was asked for is not there
	Taken                // what was to be filed is there already, or something else was filed since
	Refused              // what was given can't stand
)

// FaultOf sorts an error of the logbook and gives it in the words for the keeper, the same at
// the terminal and on the page. A wrong file is the keeper's choice, one that can't be used is
// the machine's failure.
func FaultOf(err error) (Fault, error) {
	var (
		file     *logbook.FileError
		faults   layers.Faults
		conflict *logbook.ConflictError
		missing  *logbook.NotFoundError
		taken    *logbook.TakenError
	)
	switch {
	case errors.As(err, &file):
		switch file.Trouble {
		case logbook.Missing:
			return Missing, file
		case logbook.Foreign, logbook.Newer, logbook.Exists:
			return Refused, file
		}
	case errors.As(err, &faults):
		return Refused, faults
	case errors.As(err, &conflict):
		return Taken, conflict
	case errors.As(err, &missing):
		return Missing, missing
	case errors.As(err, &taken):
		return Taken, taken
	case errors.Is(err, logbook.ErrNotLast):
		return Taken, logbook.ErrNotLast
	case errors.Is(err, logbook.ErrNothingToUndo):
		return Missing, logbook.ErrNothingToUndo
	}
	return Failed, err
}

// bookFault is an error of the logbook at path as a command ends with it.
func bookFault(path string, err error) error {
	fault, told := FaultOf(err)
	if fault == Failed {
		return err
	}
	switch told.(type) {
	case *logbook.FileError, layers.Faults: // which name their place
		return &InputError{Lines(told)}
	}
	return BadInput(path, told)
}
