package records

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
)

// NewUndoCommand takes back the last change.
func NewUndoCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "undo",
		GroupID: shell.GroupBook,
		Short:   "Take back the last change to the logbook",
		Long: `Takes back the last change that is not taken back yet, be it something added,
amended, removed or imported; once more, the one before. What is taken back
stays among the former values.`,
		Example: "  panecore undo",
		Args:    shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				now := s.Env.Now()
				undone, err := book.Undo(cmd.Context(), now, 0)
				if err != nil {
					return err
				}
				s.Note("taken back: " + shell.ChangeWords(undone, now))
				return nil
			})
		},
	}
}
