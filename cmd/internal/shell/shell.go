// Package shell is what all commands stand on: the outside world (streams, clock, environment),
// which comes in through Env and nowhere else, the flags of every level, the logbook that is
// meant, and how results, files and errors reach the keeper.
package shell

import (
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"panecore/layers"
)

// Shell is what every command has in common: the outside world and the flags
// that stand at every level.
type Shell struct {
	Env     Env
	Out     io.Writer // standard output, buffered
	JSON    bool
	Units   layers.Units
	color   colorChoice
	Logbook string // the file that the flag names
}

// Today is the calendar day by the keeper's clock.
func (s *Shell) Today() layers.Date { return layers.DateOf(s.Env.Now()) }

// Note tells the person at the terminal something that is not data.
func (s *Shell) Note(text string) { io.WriteString(s.Env.Stderr, "panecore: "+text+"\n") }

// The groups under which help lists the commands.
const (
	GroupReadings = "readings"
	GroupBook     = "book"
	GroupProgram  = "program"
)

// AddFlags adds the flags that stand at every level.
func (s *Shell) AddFlags(root *cobra.Command) {
	flags := root.PersistentFlags()
	flags.SortFlags = false
	flags.BoolVar(&s.JSON, "json", false, "print JSON, lengths in mm")
	flags.Var(&s.Units, "units", "show lengths in millimetres or inches")
	flags.Func("color", "colour `auto|always|never` (default auto: on a terminal, unless NO_COLOR is set)",
		Parsed(&s.color, parseColorChoice))
	flags.Func("logbook", "keep the logbook in `FILE` (default: PANECORE_LOGBOOK, else in the platform's data folder)",
		Parsed(&s.Logbook, parseBookPath))
	Complete(root, "units", "mm", "in")
	Complete(root, "color", "auto", "always", "never")
}

// Version is the module's version, as the Go tool wrote it into the program.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}
