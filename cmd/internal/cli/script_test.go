package cli_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/cli"
	"panecore/cmd/internal/programtest"
	"panecore/cmd/internal/shell"
	"panecore/layers"
)

var update = flag.Bool("update", false, "rewrite the expected output of scripts")

func TestMain(m *testing.M) {
	testscript.Main(browsertest.Tests{M: m}, map[string]func(){
		"panecore": func() { os.Exit(cli.Run(context.Background(), scriptEnv(), os.Args[1:])) },
	})
}

// todayVariable holds the day on which a script's programs believe themselves to be, so that
// what is judged as of today reads the same on any day.
const todayVariable = "TODAY"

// scriptEnv is the process's own outside world, but for the day of a script.
func scriptEnv() shell.Env {
	env := shell.System()
	if today := os.Getenv(todayVariable); today != "" {
		noon, err := time.Parse("2006-01-02 15", today+" 12")
		if err != nil {
			panic(err)
		}
		env.Now = func() time.Time { return noon }
	}
	return env
}

// TestScripts runs the stories of testdata/script, one a file.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../../testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "pastes": pastes},
		Condition: func(name string) (bool, error) {
			if name == "root" {
				return os.Geteuid() == 0, nil
			}
			return false, fmt.Errorf("unknown condition %q", name)
		},
		Setup: func(env *testscript.Env) error {
			env.Setenv("TZ", "UTC")
			env.Setenv(todayVariable, layers.DateOf(programtest.NewWorld(nil).Now()).String())
			env.Setenv("LC_ALL", "C.UTF-8")
			photos, err := filepath.Abs(programtest.Photos)
			env.Setenv("PHOTOS", photos)
			return err
		},
	})
}

// exits is a script command, "exits CODE PROGRAM ARGUMENT...": the program must
// end with that code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGUMENT...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var ended *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &ended) {
		got = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// pastes is a script command, "pastes ANSWER": a shell runs the command that the last note
// offers for an answer, to the letter.
func pastes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: pastes ANSWER")
	}
	_, command, ok := strings.Cut(ts.ReadFile("stderr"), "\n  "+args[0]+": ")
	if !ok {
		ts.Fatalf("found no answer %q on standard error", args[0])
	}
	command, _, _ = strings.Cut(command, "\n")
	ts.Check(ts.Exec("sh", "-c", command))
}
