package shell

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/reports"
)

// bookVariable names the logbook if no flag does.
const bookVariable = "PANECORE_LOGBOOK"

// BookPath is the logbook's file: that of the flag, else of the environment, else in the
// platform's folder for data.
func (s *Shell) BookPath() (string, error) {
	if s.Logbook != "" {
		return s.Logbook, nil
	}
	if path := s.Env.Getenv(bookVariable); path != "" {
		return path, nil
	}
	folder, err := dataFolder(runtime.GOOS, s.Env.Getenv)
	if err != nil {
		return "", BadInput("logbook", err)
	}
	return filepath.Join(folder, "panecore", "logbook.db"), nil
}

// dataFolder is where a system keeps its users' data. Linux and the like: XDG Base Directory
// Specification 0.8, which ignores a relative path; macOS and Windows: their makers' guides.
func dataFolder(system string, getenv func(string) string) (string, error) {
	variable, below := "HOME", filepath.Join(".local", "share")
	switch system {
	case "windows":
		if folder := getenv("LocalAppData"); folder != "" {
			return folder, nil
		}
		variable, below = "UserProfile", filepath.Join("AppData", "Local")
	case "darwin":
		below = filepath.Join("Library", "Application Support")
	default:
		if folder := getenv("XDG_DATA_HOME"); filepath.IsAbs(folder) {
			return folder, nil
		}
	}
	home := getenv(variable)
	if home == "" {
		return "", fmt.Errorf("found no folder for it: %s is not set, want --logbook FILE or %s", variable, bookVariable)
	}
	return filepath.Join(home, below), nil
}

// book opens the logbook. If there is none, it creates one and says where, or with create false
// returns an error.
func (s *Shell) book(ctx context.Context, create bool) (*logbook.Book, error) {
	path, err := s.BookPath()
	if err != nil {
		return nil, err
	}
	isNew := !IsThere(path)
	book, err := logbook.Open(ctx, path, create)
	if err != nil {
		return nil, bookFault(path, err)
	}
	if isNew {
		s.Note("created a new logbook: " + path)
	}
	return book, nil
}

// IsThere reports whether there is a file of any kind at path.
func IsThere(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// InBook opens the logbook, calls use and closes it. It words the errors of use for the keeper.
func (s *Shell) InBook(ctx context.Context, create bool, use func(*logbook.Book) error) error {
	book, err := s.book(ctx, create)
	if err != nil {
		return err
	}
	err = use(book)
	if closed := book.Close(); err == nil {
		err = closed
	}
	path, _ := s.BookPath() // it was found before
	return bookFault(path, err)
}

// Tank reads a tank with all its records.
func (s *Shell) Tank(ctx context.Context, id string) (tank layers.Tank, err error) {
	err = s.InBook(ctx, false, func(book *logbook.Book) (err error) {
		tank, err = book.Tank(ctx, id)
		return err
	})
	return tank, err
}

// Write changes the logbook, and says what was done and how to undo it.
func (s *Shell) Write(ctx context.Context, create bool, done string, change func(*logbook.Book) error) error {
	return s.InBook(ctx, create, func(book *logbook.Book) error {
		if err := change(book); err != nil {
			return err
		}
		s.Done("%s", done)
		return nil
	})
}

// Done says what was changed and how to undo it.
func (s *Shell) Done(format string, args ...any) {
	s.Note(fmt.Sprintf(format, args...) + "; '" + s.Here("panecore undo") + "' undoes it")
}

// DateOr is the date given, or today.
func (s *Shell) DateOr(date layers.Date) layers.Date {
	if date == 0 {
		return s.Today()
	}
	return date
}

// CompletionTime is how long the shell's completion waits for the logbook (assumption).
const CompletionTime = time.Second

// CompleteTanks completes a command's first argument with the ids of the tanks. A logbook that
// is missing or can't be read has none.
func (s *Shell) CompleteTanks(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return s.tankIDs(cmd.Context()), cobra.ShellCompDirectiveNoFileComp
}

func (s *Shell) tankIDs(ctx context.Context) (ids []string) {
	ctx, cancel := context.WithTimeout(ctx, CompletionTime)
	defer cancel()
	_ = s.InBook(ctx, false, func(book *logbook.Book) error {
		tanks, err := book.List(ctx, false)
		for _, tank := range tanks {
			ids = append(ids, tank.ID+"\t"+tank.Name)
		}
		return err
	})
	return ids
}

// AddTankFlag adds the flag that names a tank.
func (s *Shell) AddTankFlag(cmd *cobra.Command, tank *string, usage string) {
	cmd.Flags().Func("tank", usage, Parsed(tank, ParseGiven))
	CompleteBy(cmd, "tank", func(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		return s.CompleteTanks(cmd, nil, typed)
	})
}

// Here is a command with the logbook of this command line.
func (s *Shell) Here(command string) string {
	if s.Logbook == "" {
		return command
	}
	return command + " --logbook " + reports.Quoted(s.Logbook)
}
