package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/table"
)

type reportOptions struct {
	tank     string // empty: every tank that is kept
	out      string // a file, or a folder for every tank; empty: standard output
	format   string // text, md or json
	force    bool
	settings reports.Settings
}

// The formats of a report, and the endings of their files.
var reportEndings = map[string]string{"text": ".txt", "md": ".md", "json": ".json"}

func newReportCommand(s *shell) *cobra.Command {
	o := reportOptions{format: "text"}
	var all bool
	cmd := &cobra.Command{
		Use:     "report TANK",
		GroupID: groupBook,
		Short:   "Judge a tank by its record: leave it, stir it or siphon it",
		Long: `Prints the findings of a tank of the logbook, as interpret does for a document:
the advice first, then why, the bed drawn to scale, the trend, what could not be
known. With --as-of it judges by the readings up to that day.`,
		Example: `  panecore report kettle
  panecore report kettle --as-of 2026-06-01 --units in
  panecore report kettle --format md --out kettle.md
  panecore report --all --out reports`,
		Args: func(cmd *cobra.Command, args []string) error {
			if all {
				return noArguments(cmd, args)
			}
			return oneArgument("TANK, or --all")(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.out == "-" {
				o.out = ""
			}
			if all && o.out == "" {
				return badInput("--all", errors.New("found no folder, want --out DIR"))
			}
			if !all {
				o.tank = args[0]
			}
			return runReport(cmd.Context(), s, o)
		},
		ValidArgsFunction: s.completeTanks,
	}
	addFindingsFlags(cmd.Flags(), &o.settings)
	cmd.Flags().Func("format", "write `text|md|json` (default text)", parsed(&o.format, parseReportFormat))
	cmd.Flags().StringVarP(&o.out, "out", "o", "", "write to `FILE`; with --all to a folder, a file a tank")
	cmd.Flags().BoolVar(&all, "all", false, "report every tank that is kept")
	cmd.Flags().BoolVar(&o.force, "force", false, "overwrite files that exist")
	complete(cmd, "format", "text", "md", "json")
	return cmd
}

func parseReportFormat(format string) (string, error) {
	if reportEndings[format] == "" {
		return "", fmt.Errorf("found %q, want text, md or json", format)
	}
	return format, nil
}

func runReport(ctx context.Context, s *shell, o reportOptions) error {
	if s.json {
		o.format = "json"
	}
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		err := s.settle(ctx, book, &o.settings, o.format == "json")
		switch {
		case err != nil:
			return err
		case o.tank == "":
			return reportAll(ctx, s, book, o)
		}
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		findings := reports.Interpret(slices.Values([]layers.Tank{tank}), o.settings)
		switch {
		case o.out != "":
			return s.reportFile(o.out, o, findings)
		case o.format == "text":
			return s.printText(func(w io.Writer, options table.Options) error { return table.Write(w, findings, options) })
		}
		return s.writeReport(s.out, o.format, findings)
	})
}

// reportAll writes a file a tank into a folder.
func reportAll(ctx context.Context, s *shell, book *logbook.Book, o reportOptions) error {
	if err := os.MkdirAll(o.out, 0o777); err != nil {
		return err
	}
	tanks, failed := whole(book.Tanks(ctx, false))
	findings := reports.Interpret(tanks, o.settings)
	if err := failed(); err != nil {
		return err
	}
	for _, tank := range findings.Tanks {
		one := reports.Findings{Format: findings.Format, Tanks: []reports.Tank{tank}}
		if err := s.reportFile(filepath.Join(o.out, fileName(tank.ID)+reportEndings[o.format]), o, one); err != nil {
			return err
		}
	}
	s.note(fmt.Sprintf("wrote %d reports to %s", len(findings.Tanks), o.out))
	return nil
}

func (s *shell) reportFile(path string, o reportOptions, findings reports.Findings) error {
	var text bytes.Buffer
	if err := s.writeReport(&text, o.format, findings); err != nil {
		return err
	}
	return writeFile(path, o.force, text.Bytes())
}

// writeReport writes findings as they stand in a file.
func (s *shell) writeReport(w io.Writer, format string, findings reports.Findings) error {
	switch format {
	case "json":
		return writeFindingsJSON(w, findings)
	case "md":
		return table.WriteMarkdown(w, findings, s.units)
	}
	return table.Write(w, findings, table.Options{Width: defaultWidth, Units: s.units})
}

// fileName is a tank's id as a file may be called on every system.
func fileName(id string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		return r
	}, id)
}

// settle gives findings what the logbook and the flags say of how to make them: the
// keeper's own prototypes, and the units of sentences.
func (s *shell) settle(ctx context.Context, book *logbook.Book, settings *reports.Settings, json bool) error {
	if !json {
		settings.Units = s.units
	}
	own, err := book.Prototypes(ctx, "")
	settings.Own = func(tank string) (list []palette.Prototype) {
		for _, p := range own {
			if p.Tank == "" || p.Tank == tank {
				list = append(list, palette.Prototype{Band: p.Band, Color: p.Color, Spread: p.Spread, Source: "the keeper"})
			}
		}
		return list
	}
	return err
}
