package cli

import (
	"context"

	"github.com/spf13/cobra"

	"panecore/layers/logbook"
)

func newBackupCommand(s *shell) *cobra.Command {
	return &cobra.Command{
		Use:     "backup FILE",
		GroupID: groupBook,
		Short:   "Copy the logbook to a new file",
		Long: `Copies the whole logbook as it stands, former values and your own colours
included, while other programs may go on using it. The copy is checked before it
gets its name, and nothing is overwritten. It is a logbook itself: to go back to
it, name it by --logbook or copy it to the logbook's place.`,
		Example: `  panecore backup logbook-2026-11-01.db
  panecore tank list --logbook logbook-2026-11-01.db`,
		Args: oneArgument("FILE, a new one"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runBackup(cmd.Context(), s, args[0])
		},
	}
}

func runBackup(ctx context.Context, s *shell, path string) error {
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := book.Backup(ctx, path); err != nil {
			return err
		}
		s.note("copied the logbook to " + path)
		return nil
	})
}
