package cli

import (
	"context"

	"github.com/spf13/cobra"

	"panecore/layers/logbook"
)

func newUndoCommand(s *shell) *cobra.Command {
	return &cobra.Command{
		Use:     "undo",
		GroupID: groupBook,
		Short:   "Take back the last change to the logbook",
		Long: `Takes back the last change that is not taken back yet, be it something added,
amended, removed or imported; once more, the one before. What is taken back
stays among the former values.`,
		Example: "  panecore undo",
		Args:    noArguments,
		RunE:    func(cmd *cobra.Command, _ []string) error { return runUndo(cmd.Context(), s) },
	}
}

func runUndo(ctx context.Context, s *shell) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		now := s.env.Now()
		undone, err := book.Undo(ctx, now, 0)
		if err != nil {
			return err
		}
		s.note("taken back: " + changeWords(undone, now))
		return nil
	})
}
