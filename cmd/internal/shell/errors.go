package shell

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// An InputError is bad usage or bad input: every fault of it, a line each.
type InputError struct{ Faults []string }

// Error is every fault, a line each.
func (e *InputError) Error() string { return strings.Join(e.Faults, "\n") }

// BadInput tells each line of err as a fault found at a place.
func BadInput(place string, err error) error {
	faults := Lines(err)
	for i := range faults {
		faults[i] = place + ": " + faults[i]
	}
	return &InputError{faults}
}

// Lines are the faults that an error tells, one a line.
func Lines(err error) []string { return strings.Split(err.Error(), "\n") }

// BadUsage is a fault of the command line, with the way to the command's help.
func BadUsage(cmd *cobra.Command, format string, args ...any) error {
	fault := fmt.Sprintf(format, args...)
	return &InputError{[]string{fmt.Sprintf("%s; see '%s --help'", fault, cmd.CommandPath())}}
}

// BadFlag words a flag's fault as every other: what was found, what is wanted.
func BadFlag(cmd *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return BadUsage(cmd, "--%s: %v", value.GetFlag().Name, value.Unwrap())
	}
	return BadUsage(cmd, "%v", err)
}

// NoArguments refuses anything behind the flags. A wrong word is taken for a
// misspelt command.
func NoArguments(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return UnknownCommand(cmd, args[0])
}

// UnknownCommand refuses a word in a command's place, with those that are near.
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

// OneArgument asks for exactly one argument and says what it should be.
func OneArgument(want string) cobra.PositionalArgs { return arguments(1, "one: "+want) }

// TwoArguments asks for exactly two arguments and says what they should be.
func TwoArguments(want string) cobra.PositionalArgs { return arguments(2, "two: "+want) }

func arguments(count int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) != count:
			return BadUsage(cmd, "found %d arguments, want %s", len(args), want)
		case slices.Contains(args, ""): // of a variable of the shell's that is not set, most likely
			return BadUsage(cmd, "found an empty argument, want %s", want)
		}
		return nil
	}
}

// An UnreadableError is a photo that can't be read honestly.
type UnreadableError struct{ Reason string }

// Error is the reason, and what would help.
func (e *UnreadableError) Error() string { return e.Reason }
