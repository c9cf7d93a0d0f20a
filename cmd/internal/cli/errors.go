package cli

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// An inputError is bad usage or bad input: every fault of it, a line each.
type inputError struct{ faults []string }

func (e *inputError) Error() string { return strings.Join(e.faults, "\n") }

// badInput tells each line of err as a fault found at a place.
func badInput(place string, err error) error {
	faults := lines(err)
	for i := range faults {
		faults[i] = place + ": " + faults[i]
	}
	return &inputError{faults}
}

// lines are the faults that an error tells, one a line.
func lines(err error) []string { return strings.Split(err.Error(), "\n") }

// badUsage is a fault of the command line, with the way to the command's help.
func badUsage(cmd *cobra.Command, format string, args ...any) error {
	fault := fmt.Sprintf(format, args...)
	return &inputError{[]string{fmt.Sprintf("%s; see '%s --help'", fault, cmd.CommandPath())}}
}

// badFlag words a flag's fault as every other: what was found, what is wanted.
func badFlag(cmd *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return badUsage(cmd, "--%s: %v", value.GetFlag().Name, value.Unwrap())
	}
	return badUsage(cmd, "%v", err)
}

// noArguments refuses anything behind the flags. A wrong word is taken for a
// misspelt command.
func noArguments(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return unknownCommand(cmd, args[0])
}

func unknownCommand(cmd *cobra.Command, word string) error {
	cmd.SuggestionsMinimumDistance = 2 // letters; cobra's own default
	if near := cmd.SuggestionsFor(word); len(near) > 0 {
		return badUsage(cmd, "found %q (did you mean %s?), want a command", word, strings.Join(near, " or "))
	}
	if cmd.HasAvailableSubCommands() {
		return badUsage(cmd, "found %q, want a command", word)
	}
	return badUsage(cmd, "found %q, want no argument", word)
}

// oneArgument asks for exactly one argument and says what it should be.
func oneArgument(want string) cobra.PositionalArgs { return arguments(1, "one: "+want) }

// twoArguments asks for exactly two arguments and says what they should be.
func twoArguments(want string) cobra.PositionalArgs { return arguments(2, "two: "+want) }

func arguments(count int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) != count:
			return badUsage(cmd, "found %d arguments, want %s", len(args), want)
		case slices.Contains(args, ""): // of a variable of the shell's that is not set, most likely
			return badUsage(cmd, "found an empty argument, want %s", want)
		}
		return nil
	}
}

// An unreadableError is a photo that can't be read honestly.
type unreadableError struct{ reason string }

func (e *unreadableError) Error() string { return e.reason }
