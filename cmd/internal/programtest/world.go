// Package programtest runs the whole program within tests, and tells what is true of the photos
// for them. Only tests import it.
package programtest

import (
	"bytes"
	"context"
	"strings"
	"time"

	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/shell"
)

// A World is an outside world made up for a test.
type World struct {
	shell.Env
	Printed, Told bytes.Buffer // on standard output and standard error
}

// NewWorld is a world with these variables, on the noon of a fixed day.
func NewWorld(environ map[string]string) *World {
	w := &World{}
	w.Env = shell.Env{
		Stdin: strings.NewReader(""), Stdout: &w.Printed, Stderr: &w.Told,
		Getenv: func(name string) string { return environ[name] },
		Now:    func() time.Time { return time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC) },
	}
	return w
}

// Run runs the program with the arguments behind its name and returns the exit code.
func (w *World) Run(args ...string) (code int) { return cli.Run(context.Background(), w.Env, args) }
