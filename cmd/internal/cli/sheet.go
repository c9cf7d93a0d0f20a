package cli

import (
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
)

func newSheetCommand(s *shell.Shell) *cobra.Command {
	var out shell.OutFile
	cmd := &cobra.Command{
		Use:     "sheet",
		GroupID: shell.GroupReadings,
		Short:   "Make a blank sheet to fill in at the glass, and rulers for photos",
		Long: `Makes a page to print on two sheets. The first is to fill in at the glass: four
stations with a life-size scale from the bed surface down, signs, events, water.
The second has rulers and grey steps to cut out for photos, and says how to
enter what you wrote. Print at 100 %, and measure the rulers before you use
them.`,
		Example: `  panecore sheet --out sheet.html
  panecore sheet --units in --out sheet.html`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if s.JSON {
				return shell.BadUsage(cmd, "found --json, which has no effect: a sheet is a page")
			}
			if err := s.MayPut(out, "sheet.html"); err != nil {
				return err
			}
			sheet, err := s.EncodeSheet()
			if err != nil {
				return err
			}
			return s.Put(out, sheet)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.FuncP("out", "o", "write to `F.html` (default: standard output)", shell.Parsed(&out.Path, parsePageName))
	out.AddForceFlag(flags)
	return cmd
}

// parsePageName takes a file name that ends in .html, or - for standard output.
func parsePageName(path string) (string, error) {
	if path != "-" && formatOf(path) != "html" {
		return "", fmt.Errorf("found %q, want a file name that ends in .html", path)
	}
	return path, nil
}
