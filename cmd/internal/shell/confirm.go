package shell

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"panecore/layers/logbook"
)

// AddYesFlag adds the flag that answers [Shell.confirm] with yes.
func AddYesFlag(flags *pflag.FlagSet, yes *bool) {
	flags.BoolVarP(yes, "yes", "y", false, "don't ask for confirmation")
}

// confirm asks a question, to which only "y" or "yes" means yes. Without a terminal to ask on it
// wants --yes.
func (s *Shell) confirm(cmd *cobra.Command, question string, yes bool) (bool, error) {
	if yes {
		return true, nil
	}
	if !s.Env.StdinIsTerminal {
		return false, BadUsage(cmd, "%s found no terminal to ask on, want --yes", question)
	}
	sure, err := s.Ask(question)
	if err == nil && !sure {
		s.Note("nothing was changed")
	}
	return sure, err
}

// Ask asks a question at the terminal, to which only "y" or "yes" means yes.
func (s *Shell) Ask(question string) (yes bool, err error) {
	fmt.Fprintf(s.Env.Stderr, "%s [y/N] ", question)
	answer, err := bufio.NewReader(s.Env.Stdin).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return false, fmt.Errorf("standard input: %w", err)
	}
	switch strings.ToLower(strings.TrimSpace(answer)) {
	case "y", "yes":
		return true, nil
	}
	return false, nil
}

// Remove asks whether to remove a named entry from the logbook, and calls do.
func (s *Shell) Remove(cmd *cobra.Command, name string, yes bool, do func(*logbook.Book) error) error {
	sure, err := s.confirm(cmd, "remove "+name+"?", yes)
	if err != nil || !sure {
		return err
	}
	return s.Write(cmd.Context(), false, name+" removed", do)
}
