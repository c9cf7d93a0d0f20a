package photos

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
)

// runPhotoFile reads a photo of a tank, saves the core and prints it.
func runPhotoFile(cmd *cobra.Command, s *shell.Shell, o photoOptions, shot *Shot, v sighted) error {
	if len(o.native) > 0 {
		return shell.BadUsage(cmd, "found both --tank and --native, want one of them: 'panecore tank edit' sets a tank's native colours")
	}
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		f, err := newFiler(cmd, s, book, o)
		if err != nil {
			return err
		}
		d, err := f.readAsking(shot, v)
		if err != nil {
			return err
		}
		for _, note := range d.notes {
			s.Note(note)
		}
		png, err := overlayFor(s, o.overlay, d.Reading) // before the core is filed, so that an error leaves nothing
		if err != nil {
			return err
		}
		if err := f.fileAndTell(d); err != nil {
			return err
		}
		if err := writeOverlay(s, o.overlay, png); err != nil {
			return err
		}
		if err := records.TellDoubt(ctx, s, book, d.tank.ID, d.Core); err != nil {
			return err
		}
		next := []string{"Judge the tank by it: panecore report " + d.tank.ID}
		if len(d.tank.Native) == 0 {
			next = append(next, "Add the substrate's colour on set-up day, which settles the light and the names: panecore tank edit "+d.tank.ID+" --native '#hex,kind'")
		}
		return PrintPhoto(s, d.Reading, o.overlay, next)
	})
}

// readAsking reads a photo, and asks the keeper about it at a terminal.
func (f *filer) readAsking(shot *Shot, v sighted) (*draft, error) {
	d, err := f.read(shot, v)
	if err != nil {
		return nil, err
	}
	if again, err := d.asksWater(f.s, &f.o.picks); err != nil || !again {
		return d, err
	}
	return f.read(shot, v)
}

// file saves a core with its photo, and says what was done; empty: the logbook had it already.
func (f *filer) file(d *draft) (what string, err error) {
	kept, err := d.Kept()
	if err != nil {
		return "", err
	}
	return f.book.FileCore(f.cmd.Context(), f.s.Env.Now(), d.tank.ID, d.Core, kept, d.Content, f.o.replace)
}

// fileAndTell saves a core with its photo and tells the keeper.
func (f *filer) fileAndTell(d *draft) error {
	what, err := f.file(d)
	var conflict *logbook.ConflictError
	switch {
	case errors.As(err, &conflict):
		f.s.Note("nothing was filed; --replace puts this reading in place of the one below")
		return err
	case err != nil:
		return err
	case what == "":
		f.s.Note(fmt.Sprintf("the logbook already has this reading: %s of tank %q", records.CoreName(d.Core), d.tank.ID))
	default:
		f.s.Done("%s: %s; the photo is kept", what, records.CoreWords(f.s, d.Core))
	}
	for _, doubt := range d.doubts(f.s.Units) {
		f.s.Note(doubt)
	}
	return nil
}
