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
	out    shell.OutFile
}

func newExportCommand(s *shell.Shell) *cobra.Command {
	o := exportOptions{format: "json"}
	cmd := &cobra.Command{
		Use:     "export [TANK]",
		GroupID: shell.GroupBook,
		Short:   "Write the logbook, or one tank of it, as a document",
		Long: `Writes a logbook document (see 'panecore help logbook'), which import reads back
unchanged, or with --format csv a table of the cores, one row per layer. Photos,
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
	shell.AddWordFlag(cmd, &o.format, "format", "write `json|csv` (default json)", "json", "csv")
	flags.BoolVar(&o.all, "all", false, "include retired tanks")
	flags.FuncP("out", "o", "write to `FILE` (default: standard output)", shell.Parsed(&o.out.Path, shell.ParseGiven))
	o.out.AddForceFlag(flags)
	return cmd
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
	if !o.out.Named() {
		return write(s.Out, tanks)
	}
	var text bytes.Buffer
	if err := write(&text, tanks); err != nil {
		return err
	}
	if err := shell.WriteFile(o.out.Path, o.out.Force, text.Bytes()); err != nil {
		return err
	}
	s.Note(fmt.Sprintf("wrote %s: tanks: %d", o.out.Path, len(tanks)))
	return nil
}

// tanksToExport reads one tank or all, and says if retired ones are left out.
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
			s.Note(fmt.Sprintf("left out retired tanks: %d; --all includes them", retired))
		}
		return err
	})
	return tanks, err
}
