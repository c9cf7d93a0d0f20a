package photos

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo/tagged"
	"panecore/reports"
	"panecore/reports/table"
)

// runPhotoMany files several photos, and prints what became of each.
func runPhotoMany(cmd *cobra.Command, s *shell.Shell, o photoOptions, files []string) error {
	if err := mayFileMany(cmd, s, o, files); err != nil {
		return err
	}
	files = slices.Clone(files)
	slices.Sort(files)
	files = slices.Compact(files)
	return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
		f, err := newFiler(cmd, s, book, o)
		if err != nil {
			return err
		}
		list, err := f.fileAll(cmd.Context(), files)
		if err != nil {
			return err
		}
		return f.sum(list)
	})
}

// mayFileMany refuses flags that are for one photo.
func mayFileMany(cmd *cobra.Command, s *shell.Shell, o photoOptions, files []string) error {
	for _, flag := range []string{"overlay", "native", "sign", "note", "sure", "lit", "unlit"} {
		if cmd.Flags().Changed(flag) {
			return shell.BadUsage(cmd, "found --%s with several photos, want one photo", flag)
		}
	}
	switch {
	case o.station != "" && o.tank == "":
		return shell.BadUsage(cmd, "found --station without --tank, want both")
	case slices.Contains(files, "-"):
		return shell.BadUsage(cmd, "found - among several photos, want names of files")
	}
	return nil
}

// outcome is a photo that was read, or why not.
type outcome struct {
	draft *draft
	err   error
}

// fileAll reads photos, several at the same time, and files them in their order: so the logbook is the same however long
// each takes. All are read as the logbook was when they began.
func (f *filer) fileAll(ctx context.Context, files []string) (list []reports.FiledPhoto, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	workers := runtime.GOMAXPROCS(0)
	results := make(chan chan outcome, workers) // so many photos are held at once
	go func() {
		defer close(results)
		slots := make(chan struct{}, workers)
		for _, name := range files {
			done := make(chan outcome, 1)
			select {
			case results <- done:
			case <-ctx.Done():
				return
			}
			slots <- struct{}{}
			go func() {
				d, err := f.readFile(name)
				<-slots
				done <- outcome{d, err}
			}()
		}
	}()
	for done := range results {
		name := files[len(list)]
		filed, err := f.settle(name, <-done)
		if err != nil {
			return list, err
		}
		list = append(list, filed)
		f.s.Note(fmt.Sprintf("%d of %d: %s", len(list), len(files), filedLine(filed)))
	}
	return list, ctx.Err()
}

// readFile reads a photo of a file.
func (f *filer) readFile(name string) (*draft, error) {
	if err := f.cmd.Context().Err(); err != nil {
		return nil, err
	}
	shot, err := readShot(f.s, name)
	if err != nil {
		return nil, err
	}
	var v sighted
	if looksForTag(f.cmd) {
		v.tag, v.miss = tagged.Find(shot.Picture)
	}
	return f.read(shot, v)
}

// settle files a photo that was read, and says what became of it. Its errors are those that also the next photo would
// meet.
func (f *filer) settle(name string, o outcome) (filed reports.FiledPhoto, err error) {
	filed = reports.FiledPhoto{File: name, Why: []string{}}
	what := ""
	if o.err == nil {
		what, o.err = f.file(o.draft)
	}
	if err := f.cmd.Context().Err(); err != nil {
		return filed, err
	}
	if o.draft != nil {
		filed.Tank, filed.Station, filed.Date = o.draft.tank.ID, o.draft.at.Station, o.draft.at.Date
	}
	if o.err != nil {
		filed.Outcome, filed.Why = reports.FiledNot, []string{f.reason(name, o.err)}
		return filed, fatal(o.err)
	}
	switch doubts := o.draft.doubts(f.s.Units); {
	case len(doubts) > 0:
		filed.Outcome, filed.Why = reports.FiledDoubtful, doubts
	case what == "":
		filed.Outcome = reports.FiledBefore
	default:
		filed.Outcome = reports.FiledNew
	}
	core := o.draft.Findings // without the picture, which is large
	filed.Core = &core
	return filed, nil
}

// reason is an error in words, without the photo's name, which stands beside it.
func (f *filer) reason(name string, err error) string {
	_, err = shell.FaultOf(err)
	text := err.Error()
	for _, begin := range []string{name + ": ", filepath.Base(name) + ": "} {
		if len(text) > len(begin) && text[:len(begin)] == begin {
			return text[len(begin):]
		}
	}
	return text
}

// fatal is an error that is no photo's fault.
func fatal(err error) error {
	var file *logbook.FileError
	if errors.As(err, &file) {
		return err
	}
	return nil
}

// filedLine is a photo's outcome in a line.
func filedLine(p reports.FiledPhoto) string {
	text := fmt.Sprintf("%s: %s", p.File, p.Outcome)
	if p.Core != nil {
		text += fmt.Sprintf(", %s of tank %q", records.CoreName(layers.Core{Station: p.Station, Date: p.Date}), p.Tank)
	}
	for _, why := range p.Why {
		text += "; " + why
	}
	return text
}

// sum prints what became of photos. Refused ones are an error.
func (f *filer) sum(list []reports.FiledPhoto) error {
	if err := shell.Print(f.s, list, table.WriteFiled); err != nil {
		return err
	}
	refused := 0
	for _, p := range list {
		if p.Outcome == reports.FiledNot {
			refused++
		}
	}
	if refused > 0 {
		return &shell.UnreadableError{Reason: fmt.Sprintf("%d of %d photos were refused, the rest is filed: the list says why", refused, len(list))}
	}
	return nil
}
