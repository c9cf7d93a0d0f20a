// Package shell is what all commands share: the outside world (streams, clock, environment), which
// comes in through Env and nowhere else, the flags of every command, the choice of logbook, and
// how results, files and errors reach the keeper.
package shell

import (
	"io"
	"runtime/debug"

	"github.com/spf13/cobra"

	"panecore/layers"
)

// Shell is the outside world and the flags of every command.
type Shell struct {
	Env     Env
	Out     io.Writer // standard output, buffered
	JSON    bool
	Units   layers.Units
	color   colorChoice
	Logbook string // the file in the flag
}

// Today is the calendar day of the keeper's clock.
func (s *Shell) Today() layers.Date { return layers.DateOf(s.Env.Now()) }

// Note tells the person at the terminal something other than data.
func (s *Shell) Note(text string) { io.WriteString(s.Env.Stderr, "panecore: "+text+"\n") }

// The groups of commands in help.
const (
	GroupReadings = "readings"
	GroupBook     = "book"
	GroupProgram  = "program"
)

// AddFlags adds the flags of every command.
func (s *Shell) AddFlags(root *cobra.Command) {
	flags := root.PersistentFlags()
	flags.SortFlags = false
	flags.BoolVar(&s.JSON, "json", false, "print JSON, lengths in mm")
	flags.Var(&s.Units, "units", "show lengths in millimetres or inches")
	flags.Func("color", "colour `auto|always|never` (default auto: on a terminal, unless NO_COLOR is set)",
		Parsed(&s.color, OneOf(colorAuto, colorAlways, colorNever)))
	flags.Func("logbook", "use the logbook in `FILE` (default: PANECORE_LOGBOOK, else the platform's data folder)",
		Parsed(&s.Logbook, ParseGiven))
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
