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
	all      bool          // every tank that is kept, instead
	out      shell.OutFile // for every tank a folder
	format   string        // text, md, html or json
	settings reports.Settings
}

// The formats of a report, and the endings of their files.
var reportEndings = map[string]string{"text": ".txt", "md": ".md", "html": ".html", "json": ".json"}

func newReportCommand(s *shell.Shell) *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:     "report TANK",
		GroupID: shell.GroupBook,
		Short:   "Judge a tank by its record: leave it, stir it or siphon it",
		Long: `Prints the findings of a tank of the logbook, as interpret does for a document:
the advice first, then why, the bed drawn to scale, the trend, what could not be
known. It judges as of today, by the newest cores, water tests and events, and
says where they are old; with --as-of as of another day.

As html it is one page with the pictures in it: the timeline, the newest cores
and their photos, the oxygen, the rehearsals, water tests and events. It needs
no network and prints on A4 and Letter.`,
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
	flags.Func("format", "write `text|md|html|json` (default text, or what the file's ending says)", shell.Parsed(&o.format, parseReportFormat))
	flags.FuncP("out", "o", "write to `FILE`; with --all to a folder, a file a tank", shell.Parsed(&o.out.Path, shell.ParseGiven))
	flags.BoolVar(&o.all, "all", false, "report every tank that is kept")
	o.out.AddForceFlag(flags)
	shell.Complete(cmd, "format", "text", "md", "html", "json")
	return cmd
}

// chooseFormat goes by the flags, and where they say nothing by the ending of the file.
func (o *reportOptions) chooseFormat(s *shell.Shell, cmd *cobra.Command) error {
	told := cmd.Flags().Changed("format")
	switch {
	case s.JSON && told && o.format != "json":
		return shell.BadUsage(cmd, "found both --json and --format %s, want one of them", o.format)
	case s.JSON:
		o.format = "json"
	case !told && o.all:
		o.format = "text"
	case !told:
		if _, err := shell.PictureKindOf(o.out.Path); err == nil && o.out.Path != "-" {
			return shell.BadInput("--out", fmt.Errorf("found %q, a picture's name, want one that ends in .txt, .md, .html or .json", o.out.Path))
		}
		o.format = formatOf(o.out.Path)
	}
	return nil
}

func parseReportFormat(format string) (string, error) {
	if reportEndings[format] == "" {
		return "", fmt.Errorf("found %q, want text, md, html or json", format)
	}
	return format, nil
}

// formatOf is the format that a file's ending stands for; text where it is none's.
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
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		if err := s.Settle(ctx, book, &o.settings, o.format == "json"); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		if o.format == "html" {
			page, err := photos.Page(ctx, s, book, tank, o.settings, "")
			if err != nil {
				return err
			}
			return s.Put(o.out, page)
		}
		findings := judge.Interpret(slices.Values([]layers.Tank{tank}), o.settings)
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

// encodeReport is findings as they stand in a file.
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
