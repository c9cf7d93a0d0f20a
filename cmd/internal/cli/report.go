package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type reportOptions struct {
	tank     string
	all      bool          // instead every tank that is not retired
	out      shell.OutFile // with all a folder
	format   string        // text, md, html or json
	settings reports.Settings
}

// reportEndings are the formats of a report, with the endings of their file names.
var reportEndings = map[string]string{"text": ".txt", "md": ".md", "html": ".html", "json": ".json"}

func newReportCommand(s *shell.Shell) *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:     "report TANK",
		GroupID: shell.GroupBook,
		Short:   "Judge a tank by its record: leave it, stir it or siphon it",
		Long: `Prints the findings for a tank in the logbook, as interpret does for a document:
first the advice, then why, the bed drawn to scale, the trend, and what could
not be known. It judges as of today, or with --as-of another day, by the newest
cores, water tests and events, and says where they are old.

As html it is one page with all pictures: the timeline, the newest cores and
their photos, the oxygen, the rehearsals, water tests and events. It needs no
network and prints on A4 and Letter.`,
		Example: `  panecore report kettle
  panecore report kettle --as-of 2026-06-01 --units in
  panecore report kettle --out kettle.html
  panecore report --all --out reports --format html`,
		Args: func(cmd *cobra.Command, args []string) error {
			if o.all {
				return shell.NoArguments(cmd, args)
			}
			return shell.OneArgument("TANK, or --all")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.chooseFormat(s, cmd); err != nil {
				return err
			}
			if o.all {
				return runReportAll(cmd.Context(), s, o)
			}
			o.tank = args[0]
			return runReport(cmd.Context(), s, o)
		},
		ValidArgsFunction: s.CompleteTanks,
	}
	flags := cmd.Flags()
	shell.AddFindingsFlags(flags, &o.settings, shell.AsOfToday)
	shell.AddWordFlag(cmd, &o.format, "format", "write `text|md|html|json` (default: by the file's ending, else text)", "text", "md", "html", "json")
	flags.FuncP("out", "o", "write to `FILE`; with --all to a folder, one file per tank", shell.Parsed(&o.out.Path, shell.ParseGiven))
	flags.BoolVar(&o.all, "all", false, "report every tank that is not retired")
	o.out.AddForceFlag(flags)
	return cmd
}

// chooseFormat goes by the flags, else by the ending of the file name.
func (o *reportOptions) chooseFormat(s *shell.Shell, cmd *cobra.Command) error {
	given := cmd.Flags().Changed("format")
	switch {
	case s.JSON && given && o.format != "json":
		return shell.BadUsage(cmd, "found both --json and --format %s, want one of them", o.format)
	case s.JSON:
		o.format = "json"
	case !given && o.all:
		o.format = "text"
	case !given:
		if _, err := shell.PictureKindOf(o.out.Path); err == nil && o.out.Path != "-" {
			return shell.BadInput("--out", fmt.Errorf("found %q, a picture's name, want one that ends in .txt, .md, .html or .json", o.out.Path))
		}
		o.format = formatOf(o.out.Path)
	}
	return nil
}

// formatOf is the format of a file name's ending; text if it has no other.
func formatOf(path string) string {
	for format, ending := range reportEndings {
		if strings.EqualFold(filepath.Ext(path), ending) {
			return format
		}
	}
	return "text"
}

func runReport(ctx context.Context, s *shell.Shell, o reportOptions) error {
	if o.format == "html" || o.out.Named() {
		if err := s.MayPut(o.out, shell.FileName(o.tank)+reportEndings[o.format]); err != nil {
			return err
		}
	}
	return s.Judge(ctx, o.tank, o.settings, o.format == "json", func(book *logbook.Book, tank layers.Tank, settings reports.Settings) error {
		if o.format == "html" {
			page, err := photos.Page(ctx, s, book, tank, settings, "")
			if err != nil {
				return err
			}
			return s.Put(o.out, page)
		}
		findings := judge.Interpret(slices.Values([]layers.Tank{tank}), settings)
		if o.format == "text" && !o.out.Named() {
			return s.PrintText(func(w io.Writer, options table.Options) error { return table.Write(w, findings, options) })
		}
		text, err := encodeReport(s, o.format, findings)
		if err != nil {
			return err
		}
		return s.Put(o.out, text)
	})
}

// encodeReport is the content of a file of findings.
func encodeReport(s *shell.Shell, format string, findings reports.Findings) ([]byte, error) {
	var text bytes.Buffer
	var err error
	switch format {
	case "json":
		err = shell.WriteFindingsJSON(&text, findings)
	case "md":
		err = table.WriteMarkdown(&text, findings, s.Units)
	default:
		err = table.Write(&text, findings, table.Options{Width: shell.DefaultWidth, Units: s.Units})
	}
	return text.Bytes(), err
}
