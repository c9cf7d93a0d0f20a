package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
)

func newSheetCommand(s *shell.Shell) *cobra.Command {
	var out shell.OutFile
	var tags tagOptions
	cmd := &cobra.Command{
		Use:     "sheet",
		GroupID: shell.GroupReadings,
		Short:   "Make a blank sheet to fill in, and rulers or tags for photos",
		Long: `Makes a page to print on two sheets. The first is to fill in at the glass: four
stations with a life-size scale from the bed surface down, signs, events, water.
The second has rulers and grey steps to cut out for photos, and says how to
enter what you wrote. Print at 100 %, and measure the rulers before you use
them.

With --tag it makes glass tags instead, as a page, PDF, SVG or PNG: codes to
tape on the pane, which say tank, station and their size. A photo that shows one
needs no marks. See 'panecore help photos'.`,
		Example: `  panecore sheet --out sheet.html
  panecore sheet --units in --out sheet.html
  panecore sheet --tag kettle/front --tag kettle/left --out tags.pdf
  panecore sheet --tag kettle/front --size 30mm --measured 98.5mm --out tag.pdf`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error { return runSheet(cmd, s, out, tags) },
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	addTagFlags(cmd, &tags)
	flags.FuncP("out", "o", "write to `F.html`, tags also to F.pdf, F.svg or F.png (default: HTML to standard output)",
		shell.Parsed(&out.Path, parseSheetName))
	out.AddForceFlag(flags)
	return cmd
}

func runSheet(cmd *cobra.Command, s *shell.Shell, out shell.OutFile, tags tagOptions) error {
	if s.JSON {
		return shell.BadUsage(cmd, "found --json, which has no effect: a sheet is a page")
	}
	if len(tags.tags) > 0 {
		if err := tags.check(); err != nil {
			return shell.BadUsage(cmd, "--tag: %v", err)
		}
		return putSheet(s, out, "tags.pdf", func() ([]byte, error) { return tags.encode(s, out.Path) })
	}
	for _, flag := range []string{"size", "measured"} {
		if cmd.Flags().Changed(flag) {
			return shell.BadUsage(cmd, "found --%s without --tag, want both", flag)
		}
	}
	if out.Named() && formatOf(out.Path) != "html" {
		return shell.BadUsage(cmd, "found --out %s, want a file name that ends in .html: only tags are also .pdf, .svg or .png", out.Path)
	}
	return putSheet(s, out, "sheet.html", s.EncodeSheet)
}

// putSheet writes a sheet; like is a file name to suggest.
func putSheet(s *shell.Shell, out shell.OutFile, like string, encode func() ([]byte, error)) error {
	if err := s.MayPut(out, like); err != nil {
		return err
	}
	sheet, err := encode()
	if err != nil {
		return err
	}
	return s.Put(out, sheet)
}
