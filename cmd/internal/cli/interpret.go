package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"panecore/reports"
)

type interpretOptions struct {
	file     string // "-": standard input
	settings reports.Settings
}

func newInterpretCommand(s *shell) *cobra.Command {
	var o interpretOptions
	cmd := &cobra.Command{
		Use:     "interpret FILE|-",
		GroupID: groupReadings,
		Short:   "Read a logbook document and print its findings",
		Long: `Reads a logbook document (see 'panecore help logbook') and prints, tank by tank,
the advice and what it rests on, each as of its newest record. Nothing is stored
and nothing is changed. A document with a fault gives no findings: every fault
is told, a line each.`,
		Example: `  panecore interpret logbook.json
  panecore interpret --units in --as-of 2026-11-01 logbook.json
  panecore interpret --json - < logbook.json`,
		Args: oneArgument("FILE, or - for standard input"),
		RunE: func(_ *cobra.Command, args []string) error {
			o.file = args[0]
			return runInterpret(s, o)
		},
	}
	addFindingsFlags(cmd.Flags(), &o.settings, asOfNewest)
	return cmd
}

func runInterpret(s *shell, o interpretOptions) error {
	document, name, err := s.open(o.file, aDocument)
	if err != nil {
		return err
	}
	defer document.Close()
	findings, err := s.findingsOf(document, s.today(), o.settings)
	if err := documentFault(name, err); err != nil {
		return err
	}
	return s.printFindings(findings)
}

// aDocument is what the readers of documents await.
const aDocument = "a logbook document"

// open opens a file to read, or standard input for "-", and gives it the name
// that messages use.
func (s *shell) open(path, awaited string) (file io.ReadCloser, name string, err error) {
	if path == "-" {
		return io.NopCloser(s.stdin(awaited)), stdinName, nil
	}
	opened, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, "", badInput(path, errors.New("found no such file, want "+awaited))
	}
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", path, errors.Unwrap(err)) // os names the path too
	}
	if info, err := opened.Stat(); err == nil && info.IsDir() {
		opened.Close()
		return nil, "", badInput(path, errors.New("found a folder, want "+awaited))
	}
	return opened, path, nil
}

// stdinName is what messages call standard input.
const stdinName = "standard input"

// stdin is standard input, whose end somebody at a terminal is told how to type.
func (s *shell) stdin(awaited string) io.Reader {
	if s.env.StdinIsTerminal {
		s.note("reading " + awaited + " from the terminal; end it with Ctrl-D (on Windows Ctrl-Z and Enter)")
	}
	return s.env.Stdin
}
