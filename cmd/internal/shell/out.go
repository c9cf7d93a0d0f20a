package shell

import (
	"errors"

	"github.com/spf13/pflag"
)

// OutFile is the file that a command writes instead of printing.
type OutFile struct {
	Path  string // empty: none is named; "-": standard output
	Force bool   // overwrite a file that exists
}

// AddForceFlag adds the flag that goes with the name of a file.
func (o *OutFile) AddForceFlag(flags *pflag.FlagSet) {
	flags.BoolVar(&o.Force, "force", false, "overwrite a file that exists")
}

// Named reports whether there is a file to write.
func (o OutFile) Named() bool { return o.Path != "" && o.Path != "-" }

// MayPut says, before the work, whether Put would refuse. A terminal is no place for the
// bytes of a picture or a page; like is the name of a file that they could go to.
func (s *Shell) MayPut(o OutFile, like string) error {
	switch {
	case o.Named():
		return MayWrite(o.Path, o.Force)
	case s.Env.StdoutIsTerminal:
		return BadInput("standard output", errors.New("found a terminal, want a file: --out "+like))
	}
	return nil
}

// Put writes a whole file, or to standard output where none is named.
func (s *Shell) Put(o OutFile, content []byte) error {
	if !o.Named() {
		_, err := s.Out.Write(content)
		return err
	}
	if err := WriteFile(o.Path, o.Force, content); err != nil {
		return err
	}
	s.Note("wrote " + o.Path)
	return nil
}
