package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"panecore/layers"
)

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

// readDocument reads a logbook document whole; name is what messages call it.
func (s *shell) readDocument(file string) (tanks []layers.Tank, name string, err error) {
	document, name, err := s.open(file, aDocument)
	if err != nil {
		return nil, "", err
	}
	defer document.Close()
	tanks, err = layers.Decode(document, s.today())
	return tanks, name, documentFault(name, err)
}

// documentFault tells the faults of a document, which are bad input, from a failure to
// read it.
func documentFault(name string, err error) error {
	var faults layers.Faults
	switch {
	case errors.As(err, &faults):
		return badInput(name, faults)
	case err != nil:
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}
