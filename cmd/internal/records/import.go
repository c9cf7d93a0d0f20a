package records

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/judge"
)

// NewImportCommand merges a document into the logbook.
func NewImportCommand(s *shell.Shell) *cobra.Command {
	var replace bool
	cmd := &cobra.Command{
		Use:     "import FILE|-",
		GroupID: shell.GroupBook,
		Short:   "Merge a logbook document into the logbook",
		Long: `Reads a logbook document (see 'panecore help logbook') and adds what the logbook
does not hold yet, all or nothing. Equal entries are passed over. Entries of the
same tank, station and date that differ are listed and refused, unless --replace
has the document's take their place. Measures of a vessel that few tanks have
are asked about in a note.`,
		Example: `  panecore import logbook.json
  panecore import --replace logbook.json
  panecore export --logbook old.db | panecore import -`,
		Args: shell.OneArgument("FILE, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			tanks, name, err := s.ReadDocument(args[0])
			if err != nil {
				return err
			}
			return s.InBook(cmd.Context(), true, func(book *logbook.Book) error {
				doubts := vesselDoubts(cmd.Context(), s, book, tanks)
				imported, err := book.Import(cmd.Context(), s.Env.Now(), tanks, replace)
				var conflict *logbook.ConflictError
				switch {
				case errors.As(err, &conflict):
					s.Note("nothing was imported; --replace has the document's entries take the place of those below")
					return shell.BadInput(name, conflict)
				case err != nil:
					return err
				case imported == logbook.Imported{Equal: imported.Equal}:
					s.Note(fmt.Sprintf("nothing new: entries that are there already: %d", imported.Equal))
				default:
					s.Done("%s", importWords(imported))
					for _, doubt := range doubts {
						s.Note(doubt)
					}
				}
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&replace, "replace", false, "let the document's entries take the place of different ones")
	return cmd
}

// vesselDoubts ask about the measures of vessels that a document would bring into the logbook.
func vesselDoubts(ctx context.Context, s *shell.Shell, book *logbook.Book, tanks []layers.Tank) (doubts []string) {
	for _, tank := range tanks {
		if judge.AskVessel(tank.ID, nil, tank.Vessel, s.Units) == nil {
			continue
		}
		former, _ := book.Tank(ctx, tank.ID) // one that is not there yet has no vessel
		if q := judge.AskVessel(tank.ID, former.Vessel, tank.Vessel, s.Units); q != nil {
			doubts = append(doubts, "tank "+strconv.Quote(tank.ID)+": "+vesselDoubt(s, q))
		}
	}
	return doubts
}

func importWords(i logbook.Imported) string {
	return fmt.Sprintf("imported tanks: %d, cores: %d, water tests: %d, events: %d; replaced: %d; there already: %d",
		i.Tanks, i.Cores, i.Water, i.Events, i.Replaced, i.Equal)
}
