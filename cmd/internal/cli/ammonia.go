package cli

import (
	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports/judge"
	"panecore/reports/table"
)

func newAmmoniaCommand(s *shell.Shell) *cobra.Command {
	var total, pH, celsius float64 // total in mg N/L
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
			ammonia, err := judge.ReadAmmonia(total, pH, celsius)
			if err != nil {
				return shell.BadInput("ammonia", err)
			}
			return shell.Print(s, ammonia, table.WriteAmmonia)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("total", "total ammonia as the test gives it, `MG` N/L", shell.Parsed(&total, layers.ParseNumber))
	flags.Func("ph", "`PH`, the highest of the day", shell.Parsed(&pH, layers.ParseNumber))
	flags.Func("temp", "water temperature `T`: 25C or 77F", shell.Parsed(&celsius, layers.ParseTemperature))
	return cmd
}
