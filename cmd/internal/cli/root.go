package cli

import (
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"panecore/layers"
)

// shell is what every command has in common: the outside world and the flags
// that stand at every level.
type shell struct {
	env     Env
	out     io.Writer // standard output, buffered
	json    bool
	units   layers.Units
	color   colorChoice
	logbook string // the file that the flag names
}

// today is the calendar day by the keeper's clock.
func (s *shell) today() layers.Date { return layers.DateOf(s.env.Now()) }

// note tells the person at the terminal something that is not data.
func (s *shell) note(text string) { io.WriteString(s.env.Stderr, "panecore: "+text+"\n") }

const (
	groupReadings = "readings"
	groupBook     = "book"
	groupProgram  = "program"
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

// addFlags adds the flags that stand at every level.
func (s *shell) addFlags(root *cobra.Command) {
	flags := root.PersistentFlags()
	flags.SortFlags = false
	flags.BoolVar(&s.json, "json", false, "print JSON, lengths in mm")
	flags.Var(&s.units, "units", "show lengths in millimetres or inches")
	flags.Func("color", "colour `auto|always|never` (default auto: on a terminal, unless NO_COLOR is set)",
		parsed(&s.color, parseColorChoice))
	flags.Func("logbook", "keep the logbook in `FILE` (default: PANECORE_LOGBOOK, else in the platform's data folder)",
		parsed(&s.logbook, parseBookPath))
	complete(root, "units", "mm", "in")
	complete(root, "color", "auto", "always", "never")
}

// complete lists a flag's values for the shell's completion.
func complete(cmd *cobra.Command, flag string, values ...string) {
	err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
	if err != nil {
		panic(err) // the flag was not added
	}
}

// parsed is a flag that one of the parsers reads into a value.
func parsed[T any](into *T, parse func(string) (T, error)) func(string) error {
	return func(text string) error {
		value, err := parse(text)
		if err != nil {
			return err
		}
		*into = value
		return nil
	}
}

// version is the module's version, as the Go tool wrote it into the program.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}
