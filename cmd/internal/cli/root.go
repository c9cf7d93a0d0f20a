package cli

import (
	"io"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/demo"
	"panecore/cmd/internal/devices"
	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/records"
	"panecore/cmd/internal/serve"
	"panecore/cmd/internal/shell"
)

func newRootCommand(env shell.Env, out io.Writer, args []string) *cobra.Command {
	s := &shell.Shell{Env: env, Out: out}
	root := &cobra.Command{
		Use:   "panecore",
		Short: "Read the side view of an aquarium bed: leave it, stir it or siphon it",
		Long: `panecore reads the layers that show through the glass of a low-tech aquarium,
from the bed surface down, and says what they mean: how deep oxygen can have
reached, how much mulm lies on top and how fast it grows, and whether to leave
the bed, stir it or siphon it. It reads colours and does arithmetic; it is not a
gas alarm or a diagnosis.`,
		Example: `  panecore demo
  panecore interpret logbook.json
  panecore ammonia --total 1.0 --ph 8.0 --temp 25C`,
		Version:       shell.Version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          shell.NoArguments,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetArgs(append([]string{}, args...)) // not nil, or cobra would use os.Args
	root.SetIn(env.Stdin)
	root.SetOut(out)
	root.SetErr(env.Stderr)
	root.SetFlagErrorFunc(shell.BadFlag)
	root.SetVersionTemplate("panecore {{.Version}}\n")
	root.SetHelpTemplate(helpTemplate)
	root.CompletionOptions.DisableDefaultCmd = true
	root.Flags().Bool("version", false, "print the program's version")
	s.AddFlags(root)

	root.AddGroup(
		&cobra.Group{ID: shell.GroupReadings, Title: "Readings:"},
		&cobra.Group{ID: shell.GroupBook, Title: "The logbook:"},
		&cobra.Group{ID: shell.GroupProgram, Title: "The program:"},
	)
	root.AddCommand(
		demo.NewCommand(s), newInterpretCommand(s), photos.NewPhotoCommand(s), photos.NewSwatchCommand(s), newSheetCommand(s), records.NewBandsCommand(s), newAmmoniaCommand(s),
		newRehearseCommand(s), newOxygenCommand(s),
		newReportCommand(s), newTimelineCommand(s), newOverviewCommand(s),
		records.NewTankCommand(s), records.NewCoreCommand(s), records.NewWaterCommand(s), records.NewEventCommand(s), records.NewUndoCommand(s),
		records.NewImportCommand(s), newExportCommand(s), newBackupCommand(s), newCheckCommand(s),
		serve.NewCommand(s), devices.NewCommand(s), newCompletionCommand(s),
	)
	root.AddCommand(newTopics()...)
	root.SetHelpCommand(newHelpCommand())
	return root
}
