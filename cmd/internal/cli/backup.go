package cli

import (
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
		Long: `Copies the whole logbook, including former values and your own colours. Other
programs can go on using it meanwhile. Photos go to a folder next to the copy,
FILE.photos. Copies are checked before they get their names, and nothing is
overwritten. The copy is itself a logbook: to go back to it, name it with
--logbook, or copy it and its photos to where the logbook and its photos are.`,
		Example: `  panecore backup logbook-2026-11-01.db
  panecore tank list --logbook logbook-2026-11-01.db`,
		Args: shell.OneArgument("FILE, a new one"),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, err := shell.ParseFileName(args[0])
			if err != nil {
				return shell.BadInput("FILE", err)
			}
			return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
				copied, err := book.Backup(cmd.Context(), path)
				if err != nil {
					return err
				}
				done := "copied the logbook to " + path
				if copied.Photos > 0 {
					done += fmt.Sprintf(", its photos to %s: %d", logbook.PhotoFolder(path), copied.Photos)
				}
				s.Note(done)
				if copied.Lost > 0 {
					s.Note(fmt.Sprintf("left out photos that are missing or changed: %d; 'panecore check' shows which", copied.Lost))
				}
				return nil
			})
		},
	}
}
