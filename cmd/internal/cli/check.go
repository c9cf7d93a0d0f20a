package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/layers/logbook"
)

func newCheckCommand(s *shell) *cobra.Command {
	return &cobra.Command{
		Use:     "check",
		GroupID: groupBook,
		Short:   "Look through the logbook for damage, and say where it stands",
		Long: `Looks through the whole logbook: whether the file is whole, whether every entry
has its tank, whether every value is one that a document may hold. Each problem
comes with the way to mend it, and with exit code 1. Nothing is changed.`,
		Example: `  panecore check
  panecore check --json`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runCheck(cmd.Context(), s) },
	}
}

func runCheck(ctx context.Context, s *shell) error {
	path, err := s.bookPath()
	if err != nil {
		return err
	}
	var problems []logbook.Problem
	err = s.inBook(ctx, false, func(book *logbook.Book) (err error) {
		problems, err = book.Check(ctx)
		return err
	})
	if err != nil {
		return err
	}
	if err := s.printProblems(path, problems); err != nil {
		return err
	}
	if len(problems) > 0 {
		return fmt.Errorf("%s: found problems: %d, want none", path, len(problems))
	}
	s.note(path + ": sound")
	return nil
}

// checkList is the JSON form of what is wrong with a logbook.
type checkList struct {
	Format   string    `json:"format"`
	Logbook  string    `json:"logbook"`
	Problems []problem `json:"problems"`
}

type problem struct {
	Where string `json:"where"`
	Found string `json:"found"`
	Mend  string `json:"mend"`
}

func (s *shell) printProblems(path string, problems []logbook.Problem) error {
	if s.json {
		list := checkList{Format: "panecore-check/1", Logbook: path, Problems: []problem{}}
		for _, p := range problems {
			list.Problems = append(list.Problems, problem(p))
		}
		return writeJSON(s.out, list)
	}
	for _, p := range problems {
		if _, err := fmt.Fprintln(s.out, p); err != nil {
			return err
		}
	}
	return nil
}
