package photos

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"panecore/cmd/internal/records"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
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
	r := page.Report{Record: judge.NewRecord(tank, settings), Notice: notice}
	album, err := OpenAlbum(ctx, book, tank, settings.Own(tank.ID))
	if err != nil {
		return nil, err
	}
	if r.Photos, err = pagePhotos(ctx, s, album, r.Record.Tank.Cores); err != nil {
		return nil, err
	}
	if r.Strips, err = album.Years(ctx, s.Note); err != nil {
		return nil, err
	}
	r.Changes = newestChanges(ctx, album, r)
	return s.EncodePage(r)
}

// newestChanges are those between the two newest strips of each station that are in a report. A photo that can't be
// shown is among the strips neither.
func newestChanges(ctx context.Context, album *Album, r page.Report) (list []reports.Change) {
	for _, line := range r.Record.Timeline.Stations {
		var two []layers.Core
		for _, core := range album.tank.Cores {
			read := slices.ContainsFunc(line.Cores, func(c reports.Core) bool { return c.Station == core.Station && c.Date == core.Date })
			if read && slices.ContainsFunc(r.Strips, func(s reports.Strip) bool { return s.Station == core.Station && s.Date == core.Date }) {
				two = append(two, core)
			}
		}
		if len(two) < 2 {
			continue
		}
		if c, err := album.Change(ctx, two[len(two)-2], two[len(two)-1]); err == nil {
			list = append(list, c)
		}
	}
	return list
}

// pagePhotos are the kept photos of the newest cores, each also with its reading drawn on it.
func pagePhotos(ctx context.Context, s *shell.Shell, album *Album, newest []reports.Core) (shown []page.Photo, err error) {
	for _, core := range album.tank.Cores {
		_, found := album.of(core)
		if !found || !slices.ContainsFunc(newest, func(c reports.Core) bool { return c.Station == core.Station && c.Date == core.Date }) {
			continue
		}
		shot, r, err := album.read(ctx, core)
		switch {
		case ctx.Err() != nil:
			return nil, err
		case shot == nil:
			s.Note(fmt.Sprintf("left out the photo of %s: %v", records.CoreName(core), err))
			continue
		case err != nil:
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
	p.Overlay, err = Packed(overlay.Image(drawing(s.Units, r)), overlayQuality)
	return p, err
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
