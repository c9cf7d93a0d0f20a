package cli

import (
	"bytes"
	_ "embed"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/reports"
)

// demoLogbook is an invented logbook: five vessels over two years and more.
//
//go:embed demo/logbook.json
var demoLogbook []byte

// demoToday, 2100-01-01, lies behind every date of the demo, so that it reads the
// same whatever the clock says.
const demoToday layers.Date = 47482

func newDemoCommand(s *shell) *cobra.Command {
	var settings reports.Settings
	cmd := &cobra.Command{
		Use:     "demo",
		GroupID: groupReadings,
		Short:   "Print the findings of built-in records",
		Long: `Reads an invented logbook that is built into the program and prints its findings
as interpret does: five vessels of a tide mill, each read at two stations a
month over two years. Nothing to set up, nothing is stored.`,
		Example: `  panecore demo
  panecore demo --units in
  panecore demo --json --history`,
		Args: noArguments,
		RunE: func(*cobra.Command, []string) error { return runDemo(s, settings) },
	}
	addFindingsFlags(cmd.Flags(), &settings)
	return cmd
}

func runDemo(s *shell, settings reports.Settings) error {
	findings, err := s.findingsOf(bytes.NewReader(demoLogbook), demoToday, settings)
	if err != nil {
		return err
	}
	s.note("invented records: no such tanks, no such keeper")
	return s.printFindings(findings)
}
