package shell

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"golang.org/x/term"
)

// Env is the outside world as the program sees it.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Getenv         func(name string) string
	Now            func() time.Time
	Interrupted    func(context.Context) (context.Context, context.CancelFunc) // ends when the user stops the program

	StdinIsTerminal  bool
	StdoutIsTerminal bool
	StderrIsTerminal bool
	StdoutWidth      int // columns of the terminal; 0: not known
}

// System is the process's own outside world. It also has a closed pipe reported as a failure to
// write; by default it kills the program.
func System() Env {
	signal.Ignore(syscall.SIGPIPE)
	env := Env{
		Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr,
		Getenv: os.Getenv, Now: time.Now, Interrupted: interrupted,
		StdinIsTerminal:  term.IsTerminal(int(os.Stdin.Fd())),
		StdoutIsTerminal: term.IsTerminal(int(os.Stdout.Fd())),
		StderrIsTerminal: term.IsTerminal(int(os.Stderr.Fd())),
	}
	if width, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil {
		env.StdoutWidth = width
	}
	return env
}

// interrupted ends on Ctrl-C, on SIGTERM, or when the terminal closes (SIGHUP), unless the program
// was started to outlive that.
func interrupted(ctx context.Context) (context.Context, context.CancelFunc) {
	ends := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		ends = append(ends, syscall.SIGHUP)
	}
	return signal.NotifyContext(ctx, ends...)
}
