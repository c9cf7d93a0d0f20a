package shell

import (
	"bytes"
	"errors"

	"github.com/spf13/pflag"

	"panecore/reports/page"
)

// OutFile is the file that a command writes instead of printing.
type OutFile struct {
	Path  string // empty: none; "-": standard output
	Force bool   // overwrite a file that exists
}

// AddForceFlag adds --force.
func (o *OutFile) AddForceFlag(flags *pflag.FlagSet) {
	flags.BoolVar(&o.Force, "force", false, "overwrite a file that exists")
}

// Named reports whether there is a file to write.
func (o OutFile) Named() bool { return o.Path != "" && o.Path != "-" }

// MayPut is the error with which Put would refuse, known before the work. The bytes of a picture
// or a page don't belong on a terminal; like is a file name to suggest.
func (s *Shell) MayPut(o OutFile, like string) error {
	switch {
	case o.Named():
		return MayWrite(o.Path, o.Force)
	case s.Env.StdoutIsTerminal:
		return BadInput("standard output", errors.New("found a terminal, want a file: --out "+like))
	}
	return nil
}

// Put writes a file, or to standard output if none is named.
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

// EncodePage is a tank's report as a page in the keeper's units.
func (s *Shell) EncodePage(r page.Report) ([]byte, error) {
	var b bytes.Buffer
	r.Units, r.Version = s.Units, Version()
	err := page.Write(&b, r)
	return b.Bytes(), err
}

// EncodeSheet is the blank recording sheet as a page.
func (s *Shell) EncodeSheet() ([]byte, error) {
	var b bytes.Buffer
	err := page.WriteSheet(&b, s.Units)
	return b.Bytes(), err
}
