package photos

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/judge"
	"panecore/reports/overlay"
	"panecore/reports/page"
	"panecore/reports/words"
)

const jpegType = "image/jpeg"

// Sizes of the pictures in a page (assumptions: sharp at the width of a printed page, and a page
// with four of them stays below two megabytes).
const (
	pageSide       = 1200 // the longer side of a photo, pixels
	pageQuality    = 80   // of a photo, JPEG, of 100
	overlayQuality = 85   // of one with fine lines and names
)

// Page is the report of a tank of the logbook as a page, with its photos.
func Page(ctx context.Context, s *shell.Shell, book *logbook.Book, tank layers.Tank, settings reports.Settings, notice string) ([]byte, error) {
	record := judge.NewRecord(tank, settings)
	photos, err := pagePhotos(ctx, s, book, tank, record.Tank.Cores, settings.Own(tank.ID))
	if err != nil {
		return nil, err
	}
	return s.EncodePage(record, photos, notice)
}

// pagePhotos are the kept photos of the newest cores, each also with its reading drawn on it.
func pagePhotos(ctx context.Context, s *shell.Shell, book *logbook.Book, tank layers.Tank, newest []reports.Core, own []palette.Prototype) ([]page.Photo, error) {
	var shown []page.Photo
	for _, core := range tank.Cores {
		if !slices.ContainsFunc(newest, func(c reports.Core) bool { return c.Station == core.Station && c.Date == core.Date }) {
			continue
		}
		kept, found, err := book.PhotoOf(ctx, tank.ID, core.Station, core.Date)
		if err != nil {
			return nil, err
		}
		if !found {
			continue
		}
		shot, err := keptShot(ctx, book, records.CoreName(core), kept)
		if err != nil {
			s.Note(fmt.Sprintf("left out the photo of %s: %v", records.CoreName(core), err))
			continue
		}
		r, err := readAgain(shot, kept, core, tank, own)
		if err != nil {
			s.Note("nothing was drawn on the photo of " + err.Error())
		}
		p, err := pagePhoto(s, core, shot, r)
		if err != nil {
			return nil, err
		}
		shown = append(shown, p)
	}
	return shown, nil
}

// pagePhoto is the photo of a core for a page; r is nil if there is no reading to draw on it.
func pagePhoto(s *shell.Shell, core layers.Core, shot *Shot, r *Reading) (p page.Photo, err error) {
	p = page.Photo{Station: core.Station, Date: core.Date, PictureType: jpegType, OverlayType: jpegType}
	if p.Picture, err = Packed(overlay.Shrink(shot.Picture, pageSide), pageQuality); err != nil || r == nil {
		return p, err
	}
	p.Text = overlayText(s.Units, r)
	p.Overlay, err = Packed(overlay.Image(drawing(s, r)), overlayQuality)
	return p, err
}

// keptShot reads a photo of the logbook, and refuses one that has changed.
func keptShot(ctx context.Context, book *logbook.Book, name string, kept logbook.Photo) (*Shot, error) {
	file, err := book.OpenPhoto(ctx, kept.SHA256)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	content, err := io.ReadAll(io.LimitReader(file, picture.MaxBytes))
	if err != nil {
		return nil, err
	}
	shot, err := NewShot(name, content)
	if err == nil && shot.sum() != kept.SHA256 {
		err = fmt.Errorf("found a changed file; 'panecore check' says more")
	}
	return shot, err
}

// readAgain reads a photo as it was read when it was filed, with the edges and names that the keeper set. A different
// result would contradict the report.
func readAgain(shot *Shot, kept logbook.Photo, core layers.Core, tank layers.Tank, own []palette.Prototype) (*Reading, error) {
	picks, err := DecodePicks(kept.Picks)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shot.name, err)
	}
	lessons := infer.Learn(tank, own)
	view, err := photo.Look(shot.Picture, picks, lessons.Matcher(core))
	if err != nil {
		return nil, shot.unreadable(err)
	}
	found, err := asFiled(view, core)
	if err != nil || !sameLayers(found.Core, core) {
		return nil, fmt.Errorf("%s: its layers are no longer those of the photo: 'panecore photo' reads it again", shot.name)
	}
	return shot.Interpret(found, picks, core, lessons), nil
}

// asFiled is a view's reading with the edges and names of the core that was filed.
func asFiled(view *photo.View, core layers.Core) (*photo.Reading, error) {
	surface, bottoms := core.OwnEdges(view.Reading.Core)
	if bottoms == nil {
		return view.Reading, nil
	}
	cuts := make([]photo.Cut, len(bottoms))
	for i, bottom := range bottoms {
		cuts[i] = photo.Cut{BottomMM: bottom, Band: core.Layers[i].Band}
	}
	return view.Recut(surface, cuts)
}

// overlayText describes an overlay for those who can't see it.
func overlayText(u layers.Units, r *Reading) string {
	c := r.Findings.Core
	var read, moved []string
	for _, l := range c.Layers {
		read = append(read, fmt.Sprintf("%s from %s %s down", words.Band(l), words.OnRuler(u, l.TopMM), u))
	}
	for k, own := range r.found.Moved {
		switch {
		case own && k == 0:
			moved = append(moved, "the bed surface")
		case own:
			moved = append(moved, "the foot of "+words.Band(c.Layers[k-1]))
		}
	}
	text := "The edges as filed: " + strings.Join(read, ", ")
	if len(moved) > 0 {
		text += "; set by hand: " + strings.Join(moved, ", ")
	}
	if c.OxicDepth != nil {
		text += "; colour oxic depth " + words.Length(u).Estimate(*c.OxicDepth)
	}
	return text + "."
}
