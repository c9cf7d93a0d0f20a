package shell

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"panecore/layers"
)

// WantDocument is what the readers of documents want.
const WantDocument = "a logbook document"

// Open opens a file, or standard input for "-". name is what messages call it.
func (s *Shell) Open(path, awaited string) (file io.ReadCloser, name string, err error) {
	if path == "-" {
		return io.NopCloser(s.Stdin(awaited)), StdinName, nil
	}
	opened, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, "", BadInput(path, errors.New("found no such file, want "+awaited))
	}
	if err != nil {
		return nil, "", fmt.Errorf("%s: %w", path, errors.Unwrap(err)) // package os names the path too
	}
	if info, err := opened.Stat(); err == nil && info.IsDir() {
		opened.Close()
		return nil, "", BadInput(path, errors.New("found a folder, want "+awaited))
	}
	return opened, path, nil
}

// StdinName is what messages call standard input.
const StdinName = "standard input"

// Stdin is standard input. At a terminal it says how to end the input.
func (s *Shell) Stdin(awaited string) io.Reader {
	if s.Env.StdinIsTerminal {
		s.Note("reading " + awaited + " from the terminal; end it with Ctrl-D (on Windows Ctrl-Z and Enter)")
	}
	return s.Env.Stdin
}

// ReadDocument reads a logbook document; name is what messages call it.
func (s *Shell) ReadDocument(file string) (tanks []layers.Tank, name string, err error) {
	document, name, err := s.Open(file, WantDocument)
	if err != nil {
		return nil, "", err
	}
	defer document.Close()
	tanks, err = layers.Decode(document, s.Today())
	return tanks, name, DocumentFault(name, err)
}

// DocumentFault makes the faults of a document bad input, and leaves a failure to read it as one.
func DocumentFault(name string, err error) error {
	var faults layers.Faults
	switch {
	case errors.As(err, &faults):
		return BadInput(name, faults)
	case err != nil:
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}
