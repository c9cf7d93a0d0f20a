// Package cli is the program's entrance: the root of all commands, help, exit codes, and the
// commands that show findings. Each command has a file, which parses its arguments, calls the
// rooms below and prints what they return.
package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"syscall"

	"github.com/olekukonko/tablewriter/pkg/twwidth"

	"panecore/cmd/internal/shell"
)

// The exit codes, as in the help topic exit-codes.
const (
	exitDone   = 0
	exitFailed = 1 // the machine or the program
	exitInput  = 2 // the command line or what was read
	exitUnread = 3 // a photo that can't be read honestly
	exitDue    = 4 // tanks that are due for a reading
)

// Run runs the program with the arguments after its name and returns the exit code.
func Run(ctx context.Context, env shell.Env, args []string) int {
	twwidth.SetEastAsian(false) // else tables differ with the locale they are drawn in
	out := bufio.NewWriter(env.Stdout)
	err := newRootCommand(env, out, args).ExecuteContext(ctx)
	// The buffer keeps the first failure to write, even one that a command ignored.
	if failed := out.Flush(); failed != nil {
		err = fmt.Errorf("standard output: %w", failed)
	}
	return conclude(env, err)
}

// conclude prints err, one line per fault, and returns its exit code.
func conclude(env shell.Env, err error) int {
	var input *shell.InputError
	var unread *shell.UnreadableError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errDue):
		return exitDue
	case errors.Is(err, syscall.EPIPE):
		return exitDone // whoever reads has seen enough, as in: panecore demo | head
	case errors.As(err, &input):
		for _, fault := range input.Faults {
			fmt.Fprintf(env.Stderr, "panecore: %s\n", fault)
		}
		return exitInput
	case errors.As(err, &unread):
		fmt.Fprintf(env.Stderr, "panecore: %v\n", err)
		return exitUnread
	}
	fmt.Fprintf(env.Stderr, "panecore: %v\n", err)
	return exitFailed
}
