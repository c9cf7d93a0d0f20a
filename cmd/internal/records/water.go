package records

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports/table"
)

// NewWaterCommand enters, lists and removes water tests.
func NewWaterCommand(s *shell.Shell) *cobra.Command {
	return group(&cobra.Command{
		Use:     "water",
		GroupID: shell.GroupBook,
		Short:   "Enter water tests",
		Long: `A tank's water tests, one of a date and time. They tell how much ammonia the
water can still take up and what oxygen is left at dawn.`,
		Example: `  panecore water add kettle --time 07:30 --ph 7.4 --temp 24C --oxygen 5.1
  panecore water list kettle`,
	}, newWaterAddCommand(s), newListCommand(s, "water", "water tests", "date and time", func(t *layers.Tank) *[]layers.WaterTest { return &t.Water }, table.WriteWater), newWaterRemoveCommand(s))
}

func newWaterAddCommand(s *shell.Shell) *cobra.Command {
	var test layers.WaterTest
	cmd := onTank(s, &cobra.Command{
		Use:   "add TANK",
		Short: "Add a water test",
		Long: `Adds what was measured; what was not is left out. Oxygen says most when it is
measured at dawn, pH in the afternoon.`,
		Example: `  panecore water add kettle --ph 7.4 --temp 24C --ammonia 0.25
  panecore water add kettle --date 2026-11-01 --time 07:30 --oxygen 5.1`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if !test.Measured() {
				return shell.BadUsage(cmd, "found nothing measured, want %s", shell.FlagsOf(layers.WaterReadings()))
			}
			test.Date = s.DateOr(test.Date)
			done := fmt.Sprintf("%s of tank %q added", waterName(test), args[0])
			return s.Write(cmd.Context(), false, done, func(book *logbook.Book) error {
				return book.AddWater(cmd.Context(), s.Env.Now(), args[0], test)
			})
		},
	})
	shell.FieldFlags(cmd, &test, layers.WaterFields(), "today")
	return cmd
}

func waterName(test layers.WaterTest) string {
	return strings.TrimSpace("water test " + test.Date.String() + " " + test.Time)
}

func newWaterRemoveCommand(s *shell.Shell) *cobra.Command {
	var test layers.WaterTest
	var yes bool
	cmd := onTank(s, &cobra.Command{
		Use:   "remove TANK --date DATE",
		Short: "Remove a water test",
		Example: `  panecore water remove kettle --date 2026-11-01 --time 07:30
  panecore water remove kettle --date 2026-11-01 --yes`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := shell.RequireFlags(cmd, "date"); err != nil {
				return err
			}
			name := fmt.Sprintf("%s of tank %q", waterName(test), args[0])
			return s.Remove(cmd, name, yes, func(book *logbook.Book) error {
				return book.RemoveWater(cmd.Context(), s.Env.Now(), args[0], test.Date, test.Time)
			})
		},
	})
	shell.FieldFlags(cmd, &test, layers.WaterKey(), "")
	shell.AddYesFlag(cmd.Flags(), &yes)
	return cmd
}
