package cli

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/table"
)

type ammoniaOptions struct {
	total   float64 // mg N/L
	pH      float64
	celsius float64
}

func newAmmoniaCommand(s *shell) *cobra.Command {
	var o ammoniaOptions
	cmd := &cobra.Command{
		Use:     "ammonia --total MG --ph PH --temp T",
		GroupID: groupReadings,
		Short:   "Say how much of a test's ammonia is un-ionised",
		Long: `Splits total ammonia into what fish bear (NH4) and what burns them (NH3), by pH
and temperature, and holds it against the long-term limit for fresh-water fish.`,
		Example: `  panecore ammonia --total 1.0 --ph 8.0 --temp 25C
  panecore ammonia --total 0.25 --ph 7.4 --temp 77F --json`,
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := requireFlags(cmd, "total", "ph", "temp"); err != nil {
				return err
			}
			return runAmmonia(s, o)
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.Func("total", "total ammonia as the test gives it, `MG` N/L", parsed(&o.total, parseNumber))
	flags.Func("ph", "`PH`, the highest of the day", parsed(&o.pH, parseNumber))
	flags.Func("temp", "water temperature `T`: 25C or 77F", parsed(&o.celsius, layers.ParseTemperature))
	return cmd
}

func runAmmonia(s *shell, o ammoniaOptions) error {
	ammonia, err := reports.ReadAmmonia(o.total, o.pH, o.celsius)
	if err != nil {
		return badInput("ammonia", err)
	}
	if s.json {
		return writeJSON(s.out, ammonia)
	}
	return s.printText(func(w io.Writer, o table.Options) error { return table.WriteAmmonia(w, ammonia, o) })
}
