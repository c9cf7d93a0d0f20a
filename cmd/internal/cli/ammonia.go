package cli

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/reports/judge"
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
	ammonia, err := judge.ReadAmmonia(o.total, o.pH, o.celsius)
	if err != nil {
		return badInput("ammonia", err)
	}
	if s.json {
		return writeJSON(s.out, ammonia)
	}
	return s.printText(func(w io.Writer, o table.Options) error { return table.WriteAmmonia(w, ammonia, o) })
}

// requireFlags asks for flags that have no default.
func requireFlags(cmd *cobra.Command, names ...string) error {
	var missing []string
	for _, name := range names {
		if !cmd.Flags().Changed(name) {
			missing = append(missing, "--"+name)
		}
	}
	switch {
	case len(missing) == 0:
		return nil
	case len(names) == 1:
		return badUsage(cmd, "found no %s, want it", missing[0])
	}
	return badUsage(cmd, "found no %s, want all of --%s", strings.Join(missing, ", "), strings.Join(names, ", --"))
}

// parseNumber reads a number in digits: no NaN, no infinity.
func parseNumber(s string) (float64, error) {
	number, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "+-.0123456789eE") != "" {
		return 0, fmt.Errorf("found %q, want a number such as 7.4", s)
	}
	return number, nil
}
