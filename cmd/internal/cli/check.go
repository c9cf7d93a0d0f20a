package cli

import (
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
)

func newCheckCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "check",
		GroupID: shell.GroupBook,
		Short:   "Check the logbook for damage, and say where it is",
		Long: `Checks that the logbook's file is sound, that every entry has its tank, that
every value is allowed in a document, and that every photo a core was read from
is there and unchanged. Each problem comes with a way to fix it, and exit code
1. Harmless remarks are listed too: cores whose photo was never kept here,
missing photos of former cores, and files among the photos that belong to no
core. Nothing is changed.`,
		Example: `  panecore check
  panecore check --json`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runCheck(cmd.Context(), s) },
	}
}

func runCheck(ctx context.Context, s *shell.Shell) error {
	path, err := s.BookPath()
	if err != nil {
		return err
	}
	var found logbook.Checkup
	err = s.InBook(ctx, false, func(book *logbook.Book) (err error) {
		found, err = book.Check(ctx)
		return err
	})
	if err != nil {
		return err
	}
	if err := printCheckup(s, path, found); err != nil {
		return err
	}
	if count := len(found.Problems); count > 0 {
		return fmt.Errorf("%s: found problems: %d, want none", path, count)
	}
	s.Note(path + ": sound")
	return nil
}

// checkList is the JSON form of what was found in a logbook.
type checkList struct {
	Format   string    `json:"format"`
	Logbook  string    `json:"logbook"`
	Problems []problem `json:"problems"`
	Remarks  []problem `json:"remarks"` // harmless
}

type problem struct {
	Where string `json:"where"`
	Found string `json:"found"`
	Mend  string `json:"mend"`
}

func printCheckup(s *shell.Shell, path string, found logbook.Checkup) error {
	if s.JSON {
		return shell.WriteJSON(s.Out, checkList{"panecore-check/1", path, problemList(found.Problems), problemList(found.Remarks)})
	}
	for _, p := range slices.Concat(found.Problems, found.Remarks) {
		if _, err := fmt.Fprintln(s.Out, p); err != nil {
			return err
		}
	}
	return nil
}

func problemList(problems []logbook.Problem) []problem {
	list := make([]problem, len(problems))
	for i, p := range problems {
		list[i] = problem(p)
	}
	return list
}
