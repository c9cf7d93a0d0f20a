package cli

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/reports"
	"panecore/reports/overlay"
)

// runPhotoFile reads a photo of a tank, files the core and shows it.
func runPhotoFile(cmd *cobra.Command, s *shell, o photoOptions) error {
	if len(o.native) > 0 {
		return badUsage(cmd, "found both --tank and --native, want one of them: 'panecore tank edit' tells a tank's native colours")
	}
	ctx := cmd.Context()
	return s.inBook(ctx, false, func(book *logbook.Book) error {
		tank, err := book.Tank(ctx, o.tank)
		if err != nil {
			return err
		}
		r, err := s.readOf(cmd, book, tank, o)
		if err != nil {
			return err
		}
		png, err := s.overlay(o.overlay, r) // before the core is filed: what goes wrong leaves nothing
		if err != nil {
			return err
		}
		if err := s.fileReading(ctx, book, tank.ID, r, o.replace); err != nil {
			return err
		}
		if err := s.writeOverlay(o.overlay, png); err != nil {
			return err
		}
		if err := s.tellDoubt(ctx, book, tank.ID, r.core); err != nil {
			return err
		}
		next := []string{"Judge the tank by it: panecore report " + tank.ID}
		if len(tank.Native) == 0 {
			next = append(next, "Tell the substrate's colour on set-up day, which settles the light and the names: panecore tank edit "+tank.ID+" --native '#hex,kind'")
		}
		return s.printPhoto(r, o.overlay, next)
	})
}

// readOf reads a photo of a tank, with what its logbook knows. What was noted besides
// when the same photo was filed stays, but for what the flags say.
func (s *shell) readOf(cmd *cobra.Command, book *logbook.Book, tank layers.Tank, o photoOptions) (*shotReading, error) {
	station := usualStation(tank, o.station)
	picks, err := s.picksOf(cmd, book, tank.ID, station, o.picks)
	if err != nil {
		return nil, err
	}
	var settings reports.Settings
	if err := s.settle(cmd.Context(), book, &settings, s.json); err != nil {
		return nil, err
	}
	shot, err := s.shot(o.file)
	if err != nil {
		return nil, err
	}
	core := layers.Core{Station: station, Date: cmp.Or(o.date, shot.taken)}
	if core.Date == 0 {
		return nil, badInput(shot.name, errors.New("found no date in the photo, want --date DATE"))
	}
	for _, former := range tank.Cores {
		if former.Station == station && former.Date == core.Date && former.Photo != nil && former.Photo.SHA256 == shot.sum() {
			core = former
		}
	}
	former := core
	if core, err = o.seen.putOn(cmd, core); err != nil {
		return nil, err
	}
	r, err := shot.read(picks, core, tank, settings.Own(tank.ID))
	if err == nil && !cmd.Flags().Changed("sure") {
		r.core.Sure = r.core.StaysSure(former)
	}
	return r, err
}

// picksOf is what was marked now, and for the rest what was marked on the station's last
// photo.
func (s *shell) picksOf(cmd *cobra.Command, book *logbook.Book, tank, station string, marked photo.Picks) (photo.Picks, error) {
	given := cmd.Flags().Changed
	if given("strip") && given("ruler") {
		return marked, nil
	}
	kept, found, err := book.LastPicks(cmd.Context(), tank, station)
	switch {
	case err != nil:
		return marked, err
	case !found:
		return marked, requireFlags(cmd, "strip", "ruler")
	}
	picks, err := decodePicks(kept)
	if err != nil {
		return marked, err
	}
	var again []string
	if given("strip") {
		picks.Strip, picks.SurfaceY = marked.Strip, nil
	} else {
		again = append(again, "strip")
	}
	if given("surface") {
		picks.SurfaceY = marked.SurfaceY
	}
	if given("ruler") {
		picks.Ruler = marked.Ruler
	} else {
		again = append(again, "ruler")
	}
	if given("neutral") {
		picks.Neutral = marked.Neutral
	} else if len(picks.Neutral) > 0 {
		again = append(again, "grey card")
	}
	s.note(fmt.Sprintf("%s as marked on the last photo of station %s: look at the overlay", strings.Join(again, ", "), station))
	return picks, nil
}

// previewSide is the longer side of a photo's small copy in the logbook, pixels, and
// previewQuality how well it is packed (assumptions: enough to tell one from another).
const (
	previewSide    = 320
	previewQuality = 80 // JPEG, of 100
)

// kept is what the logbook keeps of the photo beside its file.
func (r *shotReading) kept() (logbook.Photo, error) {
	picks, err := json.Marshal(toMarks(r.picks))
	if err != nil {
		return logbook.Photo{}, err
	}
	preview, err := packed(overlay.Shrink(r.Picture, previewSide), previewQuality)
	return logbook.Photo{Kind: r.Format, Width: r.Width, Height: r.Height, Picks: picks, Preview: preview}, err
}

// fileReading files a core and keeps its photo.
func (s *shell) fileReading(ctx context.Context, book *logbook.Book, tank string, r *shotReading, replace bool) error {
	kept, err := r.kept()
	if err != nil {
		return err
	}
	what, err := book.FileCore(ctx, s.env.Now(), tank, r.core, kept, r.content, replace)
	var conflict *logbook.ConflictError
	switch {
	case errors.As(err, &conflict):
		s.note("nothing was filed; --replace puts this reading in the place of the one below")
		return err
	case err != nil:
		return err
	case what == "":
		s.note(fmt.Sprintf("the logbook holds this reading already: %s of tank %q", coreName(r.core), tank))
	default:
		s.done("%s: %s; the photo is kept", what, s.coreWords(r.core))
	}
	if !r.findings.Reliable {
		s.note("the reading is not reliable: look at the overlay before you go by it")
	}
	return nil
}
