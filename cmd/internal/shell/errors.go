package shell

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panecore/layers"
	"panecore/layers/logbook"
)

// An InputError is bad usage or bad input: all its faults.
type InputError struct{ Faults []string }

// Error is every fault, one per line.
func (e *InputError) Error() string { return strings.Join(e.Faults, "\n") }

// BadInput makes each line of err a fault at a place.
func BadInput(place string, err error) error {
	faults := Lines(err)
	for i := range faults {
		faults[i] = place + ": " + faults[i]
	}
	return &InputError{faults}
}

// Lines are the lines of an error, each a fault.
func Lines(err error) []string { return strings.Split(err.Error(), "\n") }

// BadUsage is a fault of the command line, which points to the command's help.
func BadUsage(cmd *cobra.Command, format string, args ...any) error {
	fault := fmt.Sprintf(format, args...)
	return &InputError{[]string{fmt.Sprintf("%s; see '%s --help'", fault, cmd.CommandPath())}}
}

// BadFlag words a flag's fault like any other: what was found and what is wanted.
func BadFlag(cmd *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return BadUsage(cmd, "--%s: %v", value.GetFlag().Name, value.Unwrap())
	}
	return BadUsage(cmd, "%v", err)
}

// NoArguments refuses arguments. A word is taken for a misspelt command.
func NoArguments(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return UnknownCommand(cmd, args[0])
}

// UnknownCommand refuses a word in place of a command, and suggests similar ones.
func UnknownCommand(cmd *cobra.Command, word string) error {
	cmd.SuggestionsMinimumDistance = 2 // letters; cobra's own default
	if near := cmd.SuggestionsFor(word); len(near) > 0 {
		return BadUsage(cmd, "found %q (did you mean %s?), want a command", word, strings.Join(near, " or "))
	}
	if cmd.HasAvailableSubCommands() {
		return BadUsage(cmd, "found %q, want a command", word)
	}
	return BadUsage(cmd, "found %q, want no argument", word)
}

// OneArgument asks for exactly one argument: want says what it is.
func OneArgument(want string) cobra.PositionalArgs { return arguments(1, "one: "+want) }

// TwoArguments asks for exactly two arguments: want says what they are.
func TwoArguments(want string) cobra.PositionalArgs { return arguments(2, "two: "+want) }

// SomeArguments asks for one argument or more: want says what each is.
func SomeArguments(want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		return arguments(max(1, len(args)), "one or more: "+want)(cmd, args)
	}
}

func arguments(count int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) != count:
			return BadUsage(cmd, "found %d arguments, want %s", len(args), want)
		case slices.Contains(args, ""): // most likely a shell variable that is not set
			return BadUsage(cmd, "found an empty argument, want %s", want)
		}
		return nil
	}
}

// An UnreadableError is a photo that can't be read honestly.
type UnreadableError struct{ Reason string }

// Error is the reason, and what would help.
func (e *UnreadableError) Error() string { return e.Reason }

// Fault is a kind of error of the logbook.
type Fault uint8

// The kinds of fault. The keeper can mend all but the first.
const (
	Failed  Fault = iota // the machine or the program
	Missing              // it is not there
	Taken                // it is there already, or something else was saved since
	Refused              // the input is not valid
)

// FaultOf is the kind of an error of the logbook, and the error in words for the keeper, the same
// at the terminal and on the page. A wrong file is the keeper's choice; one that can't be used is
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

// bookFault is an error of the logbook at path as a command reports it.
func bookFault(path string, err error) error {
	fault, worded := FaultOf(err)
	if fault == Failed {
		return err
	}
	switch worded.(type) {
	case *logbook.FileError, layers.Faults: // which name their place
		return &InputError{Lines(worded)}
	}
	return BadInput(path, worded)
}
