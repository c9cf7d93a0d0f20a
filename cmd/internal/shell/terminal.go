package shell

import (
	"bytes"
	"io"
	"runtime"
	"strconv"
	"strings"

	"github.com/charmbracelet/colorprofile"

	"panecore/reports/table"
)

// colorChoice is what --color asks for.
type colorChoice string

const (
	colorAuto   colorChoice = "auto" // also where nothing is asked for
	colorAlways colorChoice = "always"
	colorNever  colorChoice = "never"
)

// DefaultWidth is the length of a line without a terminal, columns.
const DefaultWidth = 80

// PrintText prints what a renderer draws, in the colours that the terminal has.
func (s *Shell) PrintText(draw func(w io.Writer, o table.Options) error) error {
	return s.DrawOn(s.Out, draw)
}

// Print prints a value as JSON, or as the text that write makes of it.
func Print[T any](s *Shell, value T, write func(io.Writer, T, table.Options) error) error {
	if s.JSON {
		return WriteJSON(s.Out, value)
	}
	return s.PrintText(func(w io.Writer, o table.Options) error { return write(w, value, o) })
}

// DrawOn is PrintText to another stream on the same terminal.
func (s *Shell) DrawOn(stream io.Writer, draw func(w io.Writer, o table.Options) error) error {
	profile := s.profile()
	var page bytes.Buffer
	err := draw(&page, table.Options{
		Width: s.width(),
		ASCII: s.asciiOnly(),
		// With fewer than 256 colours brown turns red: the names alone are clearer.
		Swatch: profile >= colorprofile.ANSI256,
		Units:  s.Units,
	})
	if err != nil {
		return err
	}
	// One write, since the writer does not join a colour sequence that is cut in two.
	_, err = (&colorprofile.Writer{Forward: stream, Profile: profile}).Write(page.Bytes())
	return err
}

// profile is how many colours the output may have.
func (s *Shell) profile() colorprofile.Profile {
	switch s.color {
	case colorAlways:
		return max(s.terminalProfile(), colorprofile.ANSI256)
	case colorNever:
		return colorprofile.NoTTY
	}
	// Any NO_COLOR except an empty one counts, whether it is a boolean or not.
	if !s.Env.StdoutIsTerminal || s.Env.Getenv("NO_COLOR") != "" {
		return colorprofile.NoTTY
	}
	return s.terminalProfile()
}

// terminalProfile uses only variables: asking the terminal would start other programs.
func (s *Shell) terminalProfile() colorprofile.Profile {
	var environ []string
	for _, name := range []string{"TERM", "COLORTERM", "WT_SESSION", "GOOGLE_CLOUD_SHELL", "ConEmuANSI", "ANSICON", "ANSICON_VER"} {
		if value := s.Env.Getenv(name); value != "" {
			environ = append(environ, name+"="+value)
		}
	}
	return colorprofile.Env(environ)
}

func (s *Shell) width() int {
	if s.Env.StdoutIsTerminal && s.Env.StdoutWidth > 0 {
		return s.Env.StdoutWidth
	}
	if columns, err := strconv.Atoi(s.Env.Getenv("COLUMNS")); err == nil && columns > 0 {
		return columns
	}
	return DefaultWidth
}

// asciiOnly uses the locale, in the order that POSIX gives its variables. Windows has none and
// shows Unicode.
func (s *Shell) asciiOnly() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(s.Env.Getenv(name)); locale != "" {
			return !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8")
		}
	}
	return runtime.GOOS != "windows"
}
