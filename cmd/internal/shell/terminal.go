package shell

import (
	"bytes"
	"fmt"
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
	colorAuto   colorChoice = "" // also the word "auto"
	colorAlways colorChoice = "always"
	colorNever  colorChoice = "never"
)

func parseColorChoice(s string) (colorChoice, error) {
	switch choice := colorChoice(s); choice {
	case "auto":
		return colorAuto, nil
	case colorAlways, colorNever:
		return choice, nil
	}
	return "", fmt.Errorf("found %q, want auto, always or never", s)
}

// DefaultWidth is the line's length where no terminal says otherwise, columns.
const DefaultWidth = 80

// PrintText has a renderer draw a page and prints it in the colours that the
// terminal has.
func (s *Shell) PrintText(draw func(w io.Writer, o table.Options) error) error {
	return s.DrawOn(s.Out, draw)
}

// DrawOn is PrintText to another stream that shows on the same terminal.
func (s *Shell) DrawOn(stream io.Writer, draw func(w io.Writer, o table.Options) error) error {
	profile := s.profile()
	var page bytes.Buffer
	err := draw(&page, table.Options{
		Width: s.width(),
		ASCII: s.asciiOnly(),
		// Below 256 colours brown turns red: the names alone say it better.
		Swatch: profile >= colorprofile.ANSI256,
		Units:  s.Units,
	})
	if err != nil {
		return err
	}
	// One write: the writer does not mend a colour sequence that is cut in two.
	_, err = (&colorprofile.Writer{Forward: stream, Profile: profile}).Write(page.Bytes())
	return err
}

// profile is how many colours the output may carry.
func (s *Shell) profile() colorprofile.Profile {
	switch s.color {
	case colorAlways:
		return max(s.terminalProfile(), colorprofile.ANSI256)
	case colorNever:
		return colorprofile.NoTTY
	}
	// Any NO_COLOR counts but the empty one, also those that are no boolean.
	if !s.Env.StdoutIsTerminal || s.Env.Getenv("NO_COLOR") != "" {
		return colorprofile.NoTTY
	}
	return s.terminalProfile()
}

// terminalProfile goes by the variables alone: asking further would start other
// programs.
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

// asciiOnly goes by the locale, as POSIX ranks its variables. Windows has none
// and shows Unicode.
func (s *Shell) asciiOnly() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(s.Env.Getenv(name)); locale != "" {
			return !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8")
		}
	}
	return runtime.GOOS != "windows"
}
