package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
)

func newBackupCommand(s *shell.Shell) *cobra.Command {
	return &cobra.Command{
		Use:     "backup FILE",
		GroupID: shell.GroupBook,
		Short:   "Copy the logbook to a new file",
		Long: `Copies the whole logbook as it stands, former values and your own colours
included, while other programs may go on using it. Photos go to a folder beside
it, FILE.photos. The copies are checked before they get their names, and nothing
is overwritten. It is a logbook itself: to go back to it, name it by --logbook,
or copy it to the logbook's place and its photos to the place of the logbook's.`,
		Example: `  panecore backup logbook-2026-11-01.db
  panecore tank list --logbook logbook-2026-11-01.db`,
		Args: shell.OneArgument("FILE, a new one"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runBackup(cmd.Context(), s, args[0])
		},
	}
}

func runBackup(ctx context.Context, s *shell.Shell, path string) error {
	if _, err := shell.ParseFileName(path); err != nil {
		return shell.BadInput("FILE", err)
	}
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		copied, err := book.Backup(ctx, path)
		if err != nil {
			return err
		}
		done := "copied the logbook to " + path
		if copied.Photos > 0 {
			done += fmt.Sprintf(", its photos to %s: %d", logbook.PhotoFolder(path), copied.Photos)
		}
		s.Note(done)
		if copied.Lost > 0 {
			s.Note(fmt.Sprintf("left out photos that are missing or changed: %d; 'panecore check' tells which", copied.Lost))
		}
		return nil
	})
}
