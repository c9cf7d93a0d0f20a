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

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type reportOptions struct {
	tank     string
	all      bool    // every tank that is kept, instead
	out      outFile // for every tank a folder
	format   string  // text, md, html or json
	settings reports.Settings
}

// The formats of a report, and the endings of their files.
var reportEndings = map[string]string{"text": ".txt", "md": ".md", "html": ".html", "json": ".json"}

func newReportCommand(s *shell) *cobra.Command {
	var o reportOptions
	cmd := &cobra.Command{
		Use:     "report TANK",
		GroupID: groupBook,
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
				return noArguments(cmd, args)
			}
			return oneArgument("TANK, or --all")(cmd, args)
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
		ValidArgsFunction: s.completeTanks,
	}
	flags := cmd.Flags()
	addFindingsFlags(flags, &o.settings, asOfToday)
	flags.Func("format", "write `text|md|html|json` (default text, or what the file's ending says)", parsed(&o.format, parseReportFormat))
	flags.FuncP("out", "o", "write to `FILE`; with --all to a folder, a file a tank", parsed(&o.out.path, parseGiven))
	flags.BoolVar(&o.all, "all", false, "report every tank that is kept")
	o.out.addForceFlag(flags)
	complete(cmd, "format", "text", "md", "html", "json")
	return cmd
}

// chooseFormat goes by the flags, and where they say nothing by the ending of the file.
func (o *reportOptions) chooseFormat(s *shell, cmd *cobra.Command) error {
	told := cmd.Flags().Changed("format")
	switch {
	case s.json && told && o.format != "json":
		return badUsage(cmd, "found both --json and --format %s, want one of them", o.format)
	case s.json:
		o.format = "json"
	case !told && o.all:
		o.format = "text"
	case !told:
		if _, err := pictureKindOf(o.out.path); err == nil && o.out.path != "-" {
			return badInput("--out", fmt.Errorf("found %q, a picture's name, want one that ends in .txt, .md, .html or .json", o.out.path))
		}
		o.format = formatOf(o.out.path)
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

func runReport(ctx context.Context, s *shell, o reportOptions) error {
	if o.format == "html" || o.out.named() {
		if err := s.mayPut(o.out, fileName(o.tank)+reportEndings[o.format]); err != nil {
			return err
		}
	}
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		if err := s.settle(ctx, book, &o.settings, o.format == "json"); err != nil {
			return err
		}
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		if o.format == "html" {
			page, err := s.page(ctx, book, tank, o.settings, "")
			if err != nil {
				return err
			}
			return s.put(o.out, page)
		}
		findings := judge.Interpret(slices.Values([]layers.Tank{tank}), o.settings)
		if o.format == "text" && !o.out.named() {
			return s.printText(func(w io.Writer, options table.Options) error { return table.Write(w, findings, options) })
		}
		text, err := s.encodeReport(o.format, findings)
		if err != nil {
			return err
		}
		return s.put(o.out, text)
	})
}

// encodeReport is findings as they stand in a file.
func (s *shell) encodeReport(format string, findings reports.Findings) ([]byte, error) {
	var text bytes.Buffer
	var err error
	switch format {
	case "json":
		err = writeFindingsJSON(&text, findings)
	case "md":
		err = table.WriteMarkdown(&text, findings, s.units)
	default:
		err = table.Write(&text, findings, table.Options{Width: defaultWidth, Units: s.units})
	}
	return text.Bytes(), err
}

// longestName is how many bytes of an id go into a file's name (assumption: systems take 255
// in all).
const longestName = 120

// fileName is a tank's id as a file may be called on every system.
func fileName(id string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		return r
	}, id)
	if len(name) > longestName {
		name = strings.ToValidUTF8(name[:longestName], "") // what is cut within a letter goes
	}
	return name
}

// settle gives findings what the logbook, the flags and the clock say of how to make them: the
// keeper's own prototypes, the units of sentences, and that tanks are judged as of today where
// no other day is told.
func (s *shell) settle(ctx context.Context, book *logbook.Book, settings *reports.Settings, json bool) error {
	if !json {
		settings.Units = s.units
	}
	if settings.AsOf == 0 {
		settings.AsOf = s.today()
	}
	var err error
	settings.Own, err = ownColors(ctx, book)
	return err
}

// ownColors are the keeper's own prototypes that hold for a tank.
func ownColors(ctx context.Context, book *logbook.Book) (func(tank string) []palette.Prototype, error) {
	own, err := book.Prototypes(ctx, "")
	return func(tank string) (list []palette.Prototype) {
		for _, p := range own {
			if p.Tank == "" || p.Tank == tank {
				list = append(list, palette.Prototype{Band: p.Band, Color: p.Color, Spread: p.Spread, Source: "the keeper"})
			}
		}
		return list
	}, err
}
