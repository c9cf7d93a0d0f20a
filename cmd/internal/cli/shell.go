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

// version is the module's version, as the Go tool wrote it into the program.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}
