package cli

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

type exportOptions struct {
	tank   string // empty: every tank
	all    bool   // also retired ones
	format string // json or csv
	out    string // empty or "-": standard output
	force  bool
}

func newExportCommand(s *shell.Shell) *cobra.Command {
	o := exportOptions{format: "json"}
	cmd := &cobra.Command{
		Use:     "export [TANK]",
		GroupID: shell.GroupBook,
		Short:   "Write the logbook, or one tank of it, as a document",
		Long: `Writes a logbook document (see 'panecore help logbook'), which import reads back
to the same, or with --format csv a table of the cores, a row a layer. Photos,
your own colours and former values are not in it; 'panecore backup' has them.`,
		Example: `  panecore export -o logbook.json
  panecore export kettle --format csv -o kettle.csv
  panecore export --all | panecore import --logbook new.db -`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return shell.OneArgument("TANK, or none for every tank")(cmd, args)
		},
		ValidArgsFunction: s.CompleteTanks,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				o.tank = args[0]
			}
			if s.JSON && o.format != "json" {
				return shell.BadUsage(cmd, "found both --json and --format %s, want one of them", o.format)
			}
			return runExport(cmd.Context(), s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("format", "write `json|csv` (default json)", shell.Parsed(&o.format, parseExportFormat))
	flags.BoolVar(&o.all, "all", false, "also the retired tanks")
	flags.FuncP("out", "o", "write to `FILE` (default: standard output)", shell.Parsed(&o.out, shell.ParseGiven))
	flags.BoolVar(&o.force, "force", false, "overwrite a file that exists")
	shell.Complete(cmd, "format", "json", "csv")
	return cmd
}

func parseExportFormat(format string) (string, error) {
	if format != "json" && format != "csv" {
		return "", fmt.Errorf("found %q, want json or csv", format)
	}
	return format, nil
}

func runExport(ctx context.Context, s *shell.Shell, o exportOptions) error {
	tanks, err := tanksToExport(ctx, s, o)
	if err != nil {
		return err
	}
	write := layers.Encode
	if o.format == "csv" {
		write = layers.WriteCSV
	}
	if o.out == "" || o.out == "-" {
		return write(s.Out, tanks)
	}
	var text bytes.Buffer
	if err := write(&text, tanks); err != nil {
		return err
	}
	if err := shell.WriteFile(o.out, o.force, text.Bytes()); err != nil {
		return err
	}
	s.Note(fmt.Sprintf("wrote %s: tanks: %d", o.out, len(tanks)))
	return nil
}

// tanksToExport reads one tank or all; it says where retired ones are left out.
func tanksToExport(ctx context.Context, s *shell.Shell, o exportOptions) (tanks []layers.Tank, err error) {
	if o.tank != "" {
		tank, err := s.Tank(ctx, o.tank)
		return []layers.Tank{tank}, err
	}
	err = s.InBook(ctx, false, func(book *logbook.Book) (err error) {
		if tanks, err = shell.AllTanks(ctx, book, o.all); err != nil || o.all {
			return err
		}
		entries, err := book.List(ctx, true)
		if retired := len(entries) - len(tanks); err == nil && retired > 0 {
			s.Note(fmt.Sprintf("left out the retired tanks: %d; --all takes them along", retired))
		}
		return err
	})
	return tanks, err
}
