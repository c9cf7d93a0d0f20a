package cli

import (
	"io"

	"github.com/spf13/cobra"
)

func newRootCommand(env Env, out io.Writer, args []string) *cobra.Command {
	s := &shell{env: env, out: out}
	root := &cobra.Command{
		Use:   "panecore",
		Short: "Read the side view of an aquarium bed: leave it, stir it or siphon it",
		Long: `panecore reads the layers that show through the glass of a low-tech aquarium,
from the bed surface down, and says what they mean: how deep oxygen can have
reached, how much mulm lies on top and how fast it grows, and whether to leave
the bed, stir it or siphon it. It reads colours and does arithmetic; it is no
gas alarm and no diagnosis.`,
		Example: `  panecore demo
  panecore interpret logbook.json
  panecore ammonia --total 1.0 --ph 8.0 --temp 25C`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          noArguments,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would turn to os.Args
	root.SetIn(env.Stdin)
	root.SetOut(out)
	root.SetErr(env.Stderr)
	root.SetFlagErrorFunc(badFlag)
	root.SetVersionTemplate("panecore {{.Version}}\n")
	root.SetHelpTemplate(helpTemplate)
	root.CompletionOptions.DisableDefaultCmd = true
	root.Flags().Bool("version", false, "print the program's version")
	s.addFlags(root)

	root.AddGroup(
		&cobra.Group{ID: groupReadings, Title: "Readings:"},
		&cobra.Group{ID: groupBook, Title: "The logbook:"},
		&cobra.Group{ID: groupProgram, Title: "The program:"},
	)
	root.AddCommand(
		newDemoCommand(s), newInterpretCommand(s), newPhotoCommand(s), newSwatchCommand(s), newSheetCommand(s), newBandsCommand(s), newAmmoniaCommand(s),
		newRehearseCommand(s), newOxygenCommand(s),
		newReportCommand(s), newTimelineCommand(s), newOverviewCommand(s),
		newTankCommand(s), newCoreCommand(s), newWaterCommand(s), newEventCommand(s), newUndoCommand(s),
		newImportCommand(s), newExportCommand(s), newBackupCommand(s), newCheckCommand(s),
		newServeCommand(s), newCompletionCommand(s),
	)
	root.AddCommand(newTopics()...)
	root.SetHelpCommand(newHelpCommand())
	return root
}
