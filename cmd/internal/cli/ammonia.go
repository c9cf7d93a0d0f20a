package cli

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports/judge"
	"panecore/reports/table"
)

type ammoniaOptions struct {
	total   float64 // mg N/L
	pH      float64
	celsius float64
}

func newAmmoniaCommand(s *shell.Shell) *cobra.Command {
	var o ammoniaOptions
	cmd := &cobra.Command{
		Use:     "ammonia --total MG --ph PH --temp T",
		GroupID: shell.GroupReadings,
		Short:   "Say how much of a test's ammonia is un-ionised",
		Long: `Splits total ammonia into the part that fish tolerate (NH4) and the part that
harms them (NH3), by pH and temperature, and compares that with the long-term
limit for fresh-water fish.`,
		Example: `  panecore ammonia --total 1.0 --ph 8.0 --temp 25C
  panecore ammonia --total 0.25 --ph 7.4 --temp 77F --json`,
		Args: shell.NoArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := shell.RequireFlags(cmd, "total", "ph", "temp"); err != nil {
				return err
			}
			return runAmmonia(s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("total", "total ammonia as the test gives it, `MG` N/L", shell.Parsed(&o.total, layers.ParseNumber))
	flags.Func("ph", "`PH`, the highest of the day", shell.Parsed(&o.pH, layers.ParseNumber))
	flags.Func("temp", "water temperature `T`: 25C or 77F", shell.Parsed(&o.celsius, layers.ParseTemperature))
	return cmd
}

func runAmmonia(s *shell.Shell, o ammoniaOptions) error {
	ammonia, err := judge.ReadAmmonia(o.total, o.pH, o.celsius)
	if err != nil {
		return shell.BadInput("ammonia", err)
	}
	if s.JSON {
		return shell.WriteJSON(s.Out, ammonia)
	}
	return s.PrintText(func(w io.Writer, o table.Options) error { return table.WriteAmmonia(w, ammonia, o) })
}
