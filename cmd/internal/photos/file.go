package photos

import (
	"cmp"
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/reports"
)

// runPhotoFile reads a photo of a tank, saves the core and prints it.
func runPhotoFile(cmd *cobra.Command, s *shell.Shell, o photoOptions) error {
	if len(o.native) > 0 {
		return shell.BadUsage(cmd, "found both --tank and --native, want one of them: 'panecore tank edit' sets a tank's native colours")
	}
	ctx := cmd.Context()
	return s.InBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		r, err := readOf(cmd, s, book, tank, o)
		if err != nil {
			return err
		}
		png, err := overlayFor(s, o.overlay, r) // before the core is filed, so that an error leaves nothing
		if err != nil {
			return err
		}
		if err := fileReading(ctx, s, book, tank.ID, r, o.replace); err != nil {
			return err
		}
		if err := writeOverlay(s, o.overlay, png); err != nil {
			return err
		}
		if err := records.TellDoubt(ctx, s, book, tank.ID, r.Core); err != nil {
			return err
		}
		next := []string{"Judge the tank by it: panecore report " + tank.ID}
		if len(tank.Native) == 0 {
			next = append(next, "Add the substrate's colour on set-up day, which settles the light and the names: panecore tank edit "+tank.ID+" --native '#hex,kind'")
		}
		return PrintPhoto(s, r, o.overlay, next)
	})
}

// readOf reads a photo of a tank. What was noted when the same photo was filed before stays,
// except for what the flags set.
func readOf(cmd *cobra.Command, s *shell.Shell, book *logbook.Book, tank layers.Tank, o photoOptions) (*Reading, error) {
	station := cmp.Or(o.station, tank.UsualStation())
	var settings reports.Settings
	if err := s.Settle(cmd.Context(), book, &settings, s.JSON); err != nil {
		return nil, err
	}
	shot, err := readShot(s, o.file)
	if err != nil {
		return nil, err
	}
	marks, err := marksOn(cmd, s, book, shot, tank.ID, station, o.picks)
	if err != nil {
		return nil, err
	}
	core := layers.Core{Station: station, Date: cmp.Or(o.date, shot.Day)}
	if core.Date == 0 {
		return nil, shell.BadInput(shot.name, errors.New("found no date in the photo, want --date DATE"))
	}
	for _, former := range tank.Cores {
		if former.Station == station && former.Date == core.Date && former.Photo != nil && former.Photo.SHA256 == shot.sum() {
			core = former
		}
	}
	former := core
	if core, err = o.seen.PutOn(cmd, core); err != nil {
		return nil, err
	}
	r, err := shot.Read(marks.Picks, core, tank, settings.Own(tank.ID))
	if err == nil {
		r.Findings.Photo.Found = foundIn(marks.Proposal)
	}
	if err == nil && hasLabel(former) && !hasLabel(r.Core) {
		s.Note("the layers are not those of before, so the names that you gave them are gone: name them again")
	}
	if err == nil && !cmd.Flags().Changed("sure") {
		r.Core.Sure = r.Core.StaysSure(former)
	}
	return r, err
}

// marksOn are the marks of the command line, for the rest those of the station's last photo where they lie on this one, and
// for the rest those found.
func marksOn(cmd *cobra.Command, s *shell.Shell, book *logbook.Book, shot *Shot, tank, station string, marked photo.Picks) (m Marks, err error) {
	var last *LastPhoto
	if given := cmd.Flags().Changed; !given("strip") || !given("ruler") {
		if last, err = lastPhoto(cmd.Context(), book, tank, station); err != nil {
			return m, err
		}
	}
	m = shot.Marks(marked, last)
	if m.Said != "" {
		s.Note(fmt.Sprintf("station %s: %s; check the overlay", station, m.Said))
	}
	return m, shot.readable(m.Proposal)
}

// fileReading saves a core with its photo.
func fileReading(ctx context.Context, s *shell.Shell, book *logbook.Book, tank string, r *Reading, replace bool) error {
	kept, err := r.Kept()
	if err != nil {
		return err
	}
	what, err := book.FileCore(ctx, s.Env.Now(), tank, r.Core, kept, r.Content, replace)
	var conflict *logbook.ConflictError
	switch {
	case errors.As(err, &conflict):
		s.Note("nothing was filed; --replace puts this reading in place of the one below")
		return err
	case err != nil:
		return err
	case what == "":
		s.Note(fmt.Sprintf("the logbook already has this reading: %s of tank %q", records.CoreName(r.Core), tank))
	default:
		s.Done("%s: %s; the photo is kept", what, records.CoreWords(s, r.Core))
	}
	if !r.Findings.Reliable {
		s.Note("the reading is not reliable: check the overlay before you rely on it")
	}
	return nil
}
