package cli

import (
	"github.com/spf13/cobra"

	"panecore/reports"
)

type interpretOptions struct {
	file     string // "-": standard input
	settings reports.Settings
}

func newInterpretCommand(s *shell) *cobra.Command {
	var o interpretOptions
	cmd := &cobra.Command{
		Use:     "interpret FILE|-",
		GroupID: groupReadings,
		Short:   "Read a logbook document and print its findings",
		Long: `Reads a logbook document (see 'panecore help logbook') and prints, tank by tank,
the advice and what it rests on, each as of its newest record. Nothing is stored
and nothing is changed. A document with a fault gives no findings: every fault
is told, a line each.`,
		Example: `  panecore interpret logbook.json
  panecore interpret --units in --as-of 2026-11-01 logbook.json
  panecore interpret --json - < logbook.json`,
		Args: oneArgument("FILE, or - for standard input"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.file = args[0]
			return runInterpret(s, o)
		},
	}
	addFindingsFlags(cmd.Flags(), &o.settings, asOfNewest)
	return cmd
}

func runInterpret(s *shell, o interpretOptions) error {
	document, name, err := s.open(o.file, aDocument)
	if err != nil {
		return err
	}
	defer document.Close()
	findings, err := s.findingsOf(document, s.today(), o.settings)
	if err := documentFault(name, err); err != nil {
		return err
	}
	return s.printFindings(findings)
}
