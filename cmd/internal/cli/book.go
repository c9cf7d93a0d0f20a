package cli

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

// bookVariable names the logbook in the environment, where no flag does.
const bookVariable = "PANECORE_LOGBOOK"

// bookPath is where the logbook stands: where the flag says, else where the
// environment says, else in the platform's folder for data.
func (s *shell) bookPath() (string, error) {
	if s.logbook != "" {
		return s.logbook, nil
	}
	if path := s.env.Getenv(bookVariable); path != "" {
		return path, nil
	}
	folder, err := dataFolder(runtime.GOOS, s.env.Getenv)
	if err != nil {
		return "", badInput("logbook", err)
	}
	return filepath.Join(folder, "panecore", "logbook.db"), nil
}

// dataFolder is where a system keeps the data of its users' programs. Linux and
// its kin: XDG Base Directory Specification 0.8, which has a relative path
// ignored; macOS and Windows: their makers' guides to files.
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

func parseBookPath(text string) (string, error) {
	if text == "" {
		return "", errors.New("found an empty name, want a file")
	}
	return text, nil
}

// book opens the logbook. Where there is none yet, it makes one if create is true
// and says where; else that is the error.
func (s *shell) book(ctx context.Context, create bool) (*logbook.Book, error) {
	path, err := s.bookPath()
	if err != nil {
		return nil, err
	}
	isNew := !isThere(path)
	book, err := logbook.Open(ctx, path, create)
	if err != nil {
		return nil, bookFault(path, err)
	}
	if isNew {
		s.note("made a new logbook: " + path)
	}
	return book, nil
}

func isThere(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}

// inBook has the logbook used and closes it. The errors of use come out as the
// keeper is to see them.
func (s *shell) inBook(ctx context.Context, create bool, use func(*logbook.Book) error) error {
	book, err := s.book(ctx, create)
	if err != nil {
		return err
	}
	err = use(book)
	if closed := book.Close(); err == nil {
		err = closed
	}
	path, _ := s.bookPath() // it was found before
	return bookFault(path, err)
}

// tank reads a tank whole.
func (s *shell) tank(ctx context.Context, id string) (tank layers.Tank, err error) {
	err = s.inBook(ctx, false, func(book *logbook.Book) (err error) {
		tank, err = book.Tank(ctx, id)
		return err
	})
	return tank, err
}

// bookFault words an error of the logbook at path, and tells what the keeper did
// from what the machine did.
func bookFault(path string, err error) error {
	var (
		file     *logbook.FileError
		faults   layers.Faults
		conflict *logbook.ConflictError
		missing  *logbook.NotFoundError
		taken    *logbook.TakenError
	)
	switch {
	case errors.As(err, &file):
		return fileFault(path, file)
	case errors.As(err, &faults):
		return &inputError{lines(faults)}
	case errors.As(err, &conflict):
		return badInput(path, conflict)
	case errors.As(err, &missing):
		return badInput(path, missing)
	case errors.As(err, &taken):
		return badInput(path, taken)
	case errors.Is(err, logbook.ErrNothingToUndo):
		return badInput(path, logbook.ErrNothingToUndo)
	}
	return err
}

// fileFault sorts a trouble with the logbook at path, or with its backup, by whose it
// is: a wrong file is the keeper's choice, one that can't be used is the machine's
// failure.
func fileFault(path string, err *logbook.FileError) error {
	if err.Trouble == logbook.Missing && err.Path == path {
		return badInput(path, errors.New("found no logbook yet, want one: 'panecore tank add' and 'panecore import' make it"))
	}
	switch err.Trouble {
	case logbook.Missing, logbook.Foreign, logbook.Newer, logbook.Exists:
		return &inputError{lines(err)}
	}
	return err
}

// done says what was written down and how it is taken back.
func (s *shell) done(format string, args ...any) {
	s.note(fmt.Sprintf(format, args...) + "; '" + s.here("panecore undo") + "' takes it back")
}

// dateOr is the date given, or today.
func (s *shell) dateOr(date layers.Date) layers.Date {
	if date == 0 {
		return s.today()
	}
	return date
}

// completionTime is how long the shell's completion waits for the logbook (assumption).
const completionTime = time.Second

// completeTanks completes a command's first argument with the ids of the tanks; a
// logbook that is missing or can't be read has none.
func (s *shell) completeTanks(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return s.tankIDs(cmd.Context()), cobra.ShellCompDirectiveNoFileComp
}

func (s *shell) tankIDs(ctx context.Context) (ids []string) {
	ctx, cancel := context.WithTimeout(ctx, completionTime)
	defer cancel()
	_ = s.inBook(ctx, false, func(book *logbook.Book) error {
		tanks, err := book.List(ctx, false)
		for _, tank := range tanks {
			ids = append(ids, tank.ID+"\t"+tank.Name)
		}
		return err
	})
	return ids
}

// addTankFlag adds the flag that names the tank whose colours are meant.
func (s *shell) addTankFlag(cmd *cobra.Command, tank *string, usage string) {
	cmd.Flags().Func("tank", usage, parsed(tank, parseGiven))
	err := cmd.RegisterFlagCompletionFunc("tank", func(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		return s.completeTanks(cmd, nil, typed)
	})
	if err != nil {
		panic(err) // the flag was not added
	}
}

// here is a command that means the logbook at hand, where the command line named it.
func (s *shell) here(command string) string {
	if s.logbook == "" {
		return command
	}
	return command + " --logbook " + reports.Quoted(s.logbook)
}
