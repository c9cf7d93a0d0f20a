package cli

import (
	"errors"

	"github.com/spf13/pflag"
)

// outFile is the file that a command writes instead of printing.
type outFile struct {
	path  string // empty: none is named; "-": standard output
	force bool   // overwrite a file that exists
}

// addForceFlag adds the flag that goes with the name of a file.
func (o *outFile) addForceFlag(flags *pflag.FlagSet) {
	flags.BoolVar(&o.force, "force", false, "overwrite a file that exists")
}

// named reports whether there is a file to write.
func (o outFile) named() bool { return o.path != "" && o.path != "-" }

// mayPut says, before the work, whether put would refuse. A terminal is no place for the
// bytes of a picture or a page; like is the name of a file that they could go to.
func (s *shell) mayPut(o outFile, like string) error {
	switch {
	case o.named():
		return mayWrite(o.path, o.force)
	case s.env.StdoutIsTerminal:
		return badInput("standard output", errors.New("found a terminal, want a file: --out "+like))
	}
	return nil
}

// put writes a whole file, or to standard output where none is named.
func (s *shell) put(o outFile, content []byte) error {
	if !o.named() {
		_, err := s.out.Write(content)
		return err
	}
	if err := writeFile(o.path, o.force, content); err != nil {
		return err
	}
	s.note("wrote " + o.path)
	return nil
}
