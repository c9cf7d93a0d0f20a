package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/reports"
)

func newInterpretCommand(s *shell.Shell) *cobra.Command {
	var settings reports.Settings
	cmd := &cobra.Command{
		Use:     "interpret FILE|-",
		GroupID: shell.GroupReadings,
		Short:   "Read a logbook document and print its findings",
		Long: `Reads a logbook document (see 'panecore help logbook') and prints the advice for
each tank and its reasons, as of the tank's newest record. Nothing is stored or
changed. A document with faults gives no findings: every fault is listed, one
per line.`,
		Example: `  panecore interpret logbook.json
  panecore interpret --units in --as-of 2026-11-01 logbook.json
  panecore interpret --json - < logbook.json`,
		Args: shell.OneArgument("FILE, or - for standard input"),
		RunE: func(_ *cobra.Command, args []string) error {
			document, name, err := s.Open(args[0], shell.WantDocument)
			if err != nil {
				return err
			}
			defer document.Close()
			findings, err := s.FindingsOf(document, s.Today(), settings)
			if err := shell.DocumentFault(name, err); err != nil {
				return err
			}
			return s.PrintFindings(findings)
		},
	}
	shell.AddFindingsFlags(cmd.Flags(), &settings, shell.AsOfNewest)
	return cmd
}
