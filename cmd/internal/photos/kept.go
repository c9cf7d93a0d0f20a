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
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
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
	p.Text = overlayText(s, r.Findings.Core)
	p.Overlay, err = Packed(overlay.Image(drawing(s, r)), overlayQuality)
	return p, err
}

// KeptFile is the file of a photo of the logbook, which may have changed since.
func KeptFile(ctx context.Context, book *logbook.Book, kept logbook.Photo) ([]byte, error) {
	file, err := book.OpenPhoto(ctx, kept.SHA256)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, picture.MaxBytes))
}

// keptShot reads a photo of the logbook, and refuses one that has changed.
func keptShot(ctx context.Context, book *logbook.Book, name string, kept logbook.Photo) (*Shot, error) {
	content, err := KeptFile(ctx, book, kept)
	if err != nil {
		return nil, err
	}
	shot, err := NewShot(name, content)
	if err == nil && shot.sum() != kept.SHA256 {
		err = fmt.Errorf("found a changed file; 'panecore check' says more")
	}
	return shot, err
}

// readAgain reads a photo as it was read when it was filed. A different result, by another version
// or with another native colour, would contradict the report.
func readAgain(shot *Shot, kept logbook.Photo, core layers.Core, tank layers.Tank, own []palette.Prototype) (*Reading, error) {
	picks, err := DecodePicks(kept.Picks)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shot.name, err)
	}
	r, err := shot.Read(picks, core, tank, own)
	if err != nil {
		return nil, err
	}
	if !sameLayers(r.Core, core) {
		return nil, fmt.Errorf("%s: it reads differently now than when it was filed: 'panecore photo' reads it again", shot.name)
	}
	return r, nil
}

// overlayText describes an overlay for those who can't see it.
func overlayText(s *shell.Shell, c reports.Core) string {
	var read []string
	for _, l := range c.Layers {
		read = append(read, fmt.Sprintf("%s from %s %s down", words.Band(l), words.OnRuler(s.Units, l.TopMM), s.Units))
	}
	text := "The edges as traced: " + strings.Join(read, ", ")
	if c.OxicDepth != nil {
		text += "; colour oxic depth " + words.Length(s.Units).Estimate(*c.OxicDepth)
	}
	return text + "."
}
