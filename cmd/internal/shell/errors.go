package shell

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// An InputError is bad usage or bad input: all its faults.
type InputError struct{ Faults []string }

// Error is every fault, a line each.
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
