package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/reports"
)

type interpretOptions struct {
	file     string // "-": standard input
	settings reports.Settings
}

func newInterpretCommand(s *shell.Shell) *cobra.Command {
	var o interpretOptions
	cmd := &cobra.Command{
		Use:     "interpret FILE|-",
		GroupID: shell.GroupReadings,
		Short:   "Read a logbook document and print its findings",
		Long: `Reads a logbook document (see 'panecore help logbook') and prints, tank by tank,
the advice and what it rests on, each as of its newest record. Nothing is stored
and nothing is changed. A document with a fault gives no findings: every fault
is told, a line each.`,
		Example: `  panecore interpret logbook.json
  panecore interpret --units in --as-of 2026-11-01 logbook.json
  panecore interpret --json - < logbook.json`,
		Args: shell.OneArgument("FILE, or - for standard input"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.file = args[0]
			return runInterpret(s, o)
		},
	}
	shell.AddFindingsFlags(cmd.Flags(), &o.settings, shell.AsOfNewest)
	return cmd
}

func runInterpret(s *shell.Shell, o interpretOptions) error {
	document, name, err := s.Open(o.file, shell.WantDocument)
	if err != nil {
		return err
	}
	defer document.Close()
	findings, err := s.FindingsOf(document, s.Today(), o.settings)
	if err := shell.DocumentFault(name, err); err != nil {
		return err
	}
	return s.PrintFindings(findings)
}
