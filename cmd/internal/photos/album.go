package photos

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"

	"panecore/cmd/internal/records"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/layers/photo/picture"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/overlay"
)

// Album is the kept photos of a tank's cores.
type Album struct {
	book    *logbook.Book
	tank    layers.Tank
	own     []palette.Prototype
	lessons *infer.Lessons
	kept    map[place]logbook.Photo
}

// place is where and when a core was read.
type place struct {
	station string
	date    layers.Date
}

// OpenAlbum opens the photos of a tank, whose own colours are given.
func OpenAlbum(ctx context.Context, book *logbook.Book, tank layers.Tank, own []palette.Prototype) (*Album, error) {
	list, err := book.Photos(ctx, tank.ID)
	if err != nil {
		return nil, err
	}
	a := &Album{book, tank, own, infer.Learn(tank, own), map[place]logbook.Photo{}}
	for _, p := range list {
		a.kept[place{p.Station, p.Date}] = p.Photo
	}
	return a, nil
}

// of is what is kept of a core's photo.
func (a *Album) of(core layers.Core) (logbook.Photo, bool) {
	kept, found := a.kept[place{core.Station, core.Date}]
	return kept, found && core.Photo != nil
}

// Strips are the strips of the tank's photos without their pictures, in the order of its cores.
func (a *Album) Strips() (list []reports.Strip) {
	for _, core := range a.tank.Cores {
		if kept, found := a.of(core); found {
			if picks, err := DecodePicks(kept.Picks); err == nil {
				list = append(list, stripOf(core, picks))
			}
		}
	}
	return list
}

func stripOf(core layers.Core, picks photo.Picks) reports.Strip {
	return reports.Strip{
		Station: core.Station, Date: core.Date, WidthMM: photo.SliceWidth(picks), AboveMM: photo.SliceAbove, DepthMM: core.DepthMM(),
		Carded: photo.Carded(core.Photo),
	}
}

// Mark is a fingerprint of all that the pictures of a core's photo depend on.
func (a *Album) Mark(core layers.Core) (string, error) {
	kept, _ := a.of(core)
	text, err := json.Marshal([]any{core, kept.SHA256, kept.Picks, a.tank.Native, a.own, a.lessons.About(core)})
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:]), err
}

// look is a core's photo, and what the program sees in it by the marks that were kept.
func (a *Album) look(ctx context.Context, core layers.Core) (*Shot, *photo.View, layers.Marks, error) {
	shot, kept, err := a.open(ctx, core)
	if err != nil {
		return nil, nil, layers.Marks{}, err
	}
	marks, err := layers.DecodeMarks(kept.Picks)
	if err != nil {
		return shot, nil, marks, fmt.Errorf("%s: %w", shot.name, err)
	}
	view, err := photo.Look(shot.Picture, FromMarks(marks), a.lessons.Matcher(core))
	if err != nil {
		return shot, nil, marks, shot.unreadable(err)
	}
	return shot, view, marks, nil
}

// NoPhoto is the error for a core whose photo is not kept.
func NoPhoto(core layers.Core) error {
	return &logbook.NotFoundError{What: "photo of " + records.CoreName(core)}
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

// open decodes a core's photo, and refuses one that has changed.
func (a *Album) open(ctx context.Context, core layers.Core) (*Shot, logbook.Photo, error) {
	name := records.CoreName(core)
	kept, found := a.of(core)
	if !found {
		return nil, kept, NoPhoto(core)
	}
	content, err := KeptFile(ctx, a.book, kept)
	if err != nil {
		return nil, kept, err
	}
	shot, err := NewShot(name, content)
	if err == nil && shot.sum() != kept.SHA256 {
		return nil, kept, fmt.Errorf("found a changed file; 'panecore check' says more")
	}
	return shot, kept, err
}

// read reads a core's photo as it was read when it was filed, with the edges and names that the keeper set. A different
// result would contradict the records, so it is an error; the photo comes with it.
func (a *Album) read(ctx context.Context, core layers.Core) (*Shot, *Reading, error) {
	shot, view, marks, err := a.look(ctx, core)
	if err != nil {
		return shot, nil, err
	}
	found, err := asFiled(view, marks, core)
	if err != nil || !sameLayers(found.Core, core) {
		return shot, nil, fmt.Errorf("%s: its layers are no longer those of the photo: 'panecore photo' reads it again", shot.name)
	}
	return shot, shot.Interpret(found, FromMarks(marks), core, a.lessons), nil
}

// asFiled is a view's reading with the edges and names of the core that was filed.
func asFiled(view *photo.View, marks layers.Marks, core layers.Core) (*photo.Reading, error) {
	edges := marks.OwnEdges(core, view.Reading.Core)
	if edges == nil {
		return view.Reading, nil
	}
	cuts := make([]photo.Cut, len(edges))
	for i, e := range edges {
		cuts[i] = photo.Cut{BottomMM: e.DepthMM, Bend: e.Bend}
		if i > 0 {
			cuts[i].Band = core.Layers[i-1].Band
		}
	}
	return view.Recut(cuts[0], cuts[1:])
}

// Drawn is a core's photo with what was filed drawn on it, a JPEG, or with why nothing can be.
func (a *Album) Drawn(ctx context.Context, core layers.Core, u layers.Units) ([]byte, error) {
	shot, r, err := a.read(ctx, core)
	switch {
	case shot == nil:
		return nil, err
	case err != nil:
		return Packed(overlay.Bare(shot.Picture, "Nothing is drawn: the layers in the logbook are not those of this photo."), overlayQuality)
	}
	return Packed(overlay.Image(drawing(u, r)), overlayQuality)
}

// slice is the strip of a core as a picture.
func (a *Album) slice(ctx context.Context, core layers.Core) (*photo.Slice, reports.Strip, error) {
	_, view, marks, err := a.look(ctx, core)
	if err != nil {
		return nil, reports.Strip{}, err
	}
	found, err := asFiled(view, marks, core)
	if err != nil { // the keeper's layers are not those of the photo, but the bed is
		found = view.Reading
	}
	s, strip := view.Slice(found, core.DepthMM()), stripOf(core, FromMarks(marks))
	strip.Picture = s.Image(ground)
	return s, strip, nil
}

// ground is the colour of what a strip's picture lacks, a light grey.
var ground = palette.Color{R: 0xc8, G: 0xce, B: 0xd3}

// stripQuality is that of a strip alone, JPEG, of 100 (assumption: grains without visible blocks).
const stripQuality = 85

// Strip is the strip of a core's photo, a JPEG of photo.SlicePxPerMM.
func (a *Album) Strip(ctx context.Context, core layers.Core) ([]byte, error) {
	_, strip, err := a.slice(ctx, core)
	if err != nil {
		return nil, err
	}
	return Packed(strip.Picture, stripQuality)
}

// Years are the strips of all photos with their pictures, in the order of the tank's cores. What can't be shown is told.
func (a *Album) Years(ctx context.Context, tell func(string)) (list []reports.Strip, err error) {
	for _, core := range a.tank.Cores {
		if _, found := a.of(core); !found {
			continue
		}
		_, strip, err := a.slice(ctx, core)
		switch {
		case ctx.Err() != nil:
			return nil, err
		case err != nil:
			tell(fmt.Sprintf("left out the strip of %s: %v", records.CoreName(core), err))
		default:
			list = append(list, strip)
		}
	}
	return list, nil
}

// Change is where the bed changed between two photos of a station.
func (a *Album) Change(ctx context.Context, before, after layers.Core) (c reports.Change, err error) {
	var slices [2]*photo.Slice
	for i, core := range []layers.Core{before, after} {
		if slices[i], c.Strips[i], err = a.slice(ctx, core); err != nil {
			return c, err
		}
	}
	found := photo.Compare(slices[0], slices[1])
	c.CellMM, c.Width, c.Difference = 1/photo.ChangePxPerMM, found.Width, found.Difference
	c.Least, c.Share, c.LightEV = found.Least, found.Share, found.LightEV
	return c, nil
}
