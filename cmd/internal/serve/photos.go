package serve

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"

	"panecore/cmd/internal/photos"
	"panecore/layers"
	"panecore/layers/photo"
	"panecore/palette"
	"panecore/reports/infer"
	"panecore/reports/overlay"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// pagePhotoReader reads photos for the local page, as the photo command does.
type pagePhotoReader struct{}

func (pagePhotoReader) Open(content []byte) (reader.Shot, error) {
	shot, err := photos.Decode("the photo", content)
	if err != nil {
		return nil, err
	}
	return &pageShot{Shot: shot}, nil
}

// The picture to click on (assumptions: sharp on a screen of twice the usual width, and without
// visible JPEG blocks).
const (
	screenSide    = 2400 // the longer side, pixels
	screenQuality = 85   // JPEG, of 100
)

// pageShot is a photo being read on the page.
type pageShot struct {
	*photos.Shot
	screen  []byte          // nil: not made yet
	records records         // what lessons depends on
	lessons *infer.Lessons  // nil: none yet
	seen    sight           // what view depends on
	view    *photo.View     // nil: none yet
	last    *photos.Reading // nil: none yet
}

// records are everything that lessons depend on.
type records struct {
	tank layers.Tank
	own  []palette.Prototype
}

// sight is everything that a view of a photo depends on.
type sight struct {
	picks  photo.Picks
	native []layers.Native
	own    []palette.Prototype
	taught palette.Lessons
}

func (p *pageShot) Size() (width, height int) { return p.Width, p.Height }

func (p *pageShot) Taken() layers.Date { return p.Day }

func (p *pageShot) Screen() (picture []byte, err error) {
	if p.screen == nil {
		p.screen, err = photos.Packed(overlay.Shrink(p.Picture, screenSide), screenQuality)
	}
	return p.screen, err
}

// tagSure is how sure a tag's marks are: its text is checked by its code, and its size by its corners (assumption).
const tagSure = 0.97

func (p *pageShot) Found(of reader.Place, last func(reader.Place) (reader.LastPhoto, bool, error)) (found reader.Found, err error) {
	before, any, err := last(of)
	if err != nil {
		return found, err
	}
	var by *photos.LastPhoto
	if any {
		by = &photos.LastPhoto{Content: before.Content, Picks: photos.FromMarks(before.Marks)}
	}
	var given photo.Picks
	tag, picks := p.Tagged()
	if tag != nil && (by == nil || !bytes.Equal(by.Content, p.Content)) {
		given, by = picks, nil
	}
	marks := p.Marks(given, by)
	if given.Plane != nil {
		byTag := photo.Sighting{Confidence: tagSure, Note: fmt.Sprintf("by the tag of station %s of tank %q", tag.Station, tag.Tank)}
		marks.Ruler, marks.Card = byTag, byTag
		at := reader.Place{Tank: tag.Tank, Station: tag.Station}
		switch {
		case of.Tank == "":
			of = at
		case of != at:
			marks.Said = fmt.Sprintf("the tag on the pane is of station %s of tank %q: check which one the photo is of", at.Station, at.Tank)
		}
	}
	sighted := func(s photo.Sighting) reader.Sighting {
		return reader.Sighting{Confidence: s.Confidence, Doubtful: s.Doubtful(), Note: s.Note}
	}
	return reader.Found{
		Place: of, Marks: photos.ToMarks(marks.Picks), Said: marks.Said,
		Ruler: sighted(marks.Ruler), Card: sighted(marks.Card), Surface: sighted(marks.Surface), Strip: sighted(marks.Strip),
	}, nil
}

func (p *pageShot) Read(task reader.Task) (reader.Result, error) {
	picks := photos.FromMarks(task.Marks)
	found, err := p.look(picks, task)
	if err != nil {
		return reader.Result{}, site.WithKind(site.ErrInput, err) // a refusal, or an impossible cut
	}
	p.last = p.Interpret(found, picks, task.Core, p.lessons)
	result := reader.Result{PhotoCore: p.last.Findings, Core: p.last.Core}
	for _, edge := range found.Set {
		result.Shifts = append(result.Shifts, edge.ShiftMM)
	}
	for i, corner := range found.Strip {
		result.Strip[i] = [2]float64{corner.X, corner.Y}
	}
	for _, edge := range found.Edges {
		var line [][2]float64
		for _, at := range edge {
			line = append(line, [2]float64{at.X, at.Y})
		}
		result.Edges = append(result.Edges, line)
	}
	return result, nil
}

// look reads the photo by picks and cuts. It reuses the view if what it depends on is the last one's.
func (p *pageShot) look(picks photo.Picks, task reader.Task) (*photo.Reading, error) {
	if by := (records{task.Tank, task.Own}); p.lessons == nil || !reflect.DeepEqual(by, p.records) {
		p.records, p.lessons = by, infer.Learn(task.Tank, task.Own)
	}
	if by := (sight{picks, task.Tank.Native, task.Own, p.lessons.About(task.Core)}); p.view == nil || !reflect.DeepEqual(by, p.seen) {
		view, err := photo.Look(p.Picture, picks, p.lessons.Matcher(task.Core))
		if err != nil {
			return nil, err
		}
		p.seen, p.view = by, view
	}
	if len(task.Cuts) == 0 && task.Surface.BottomMM == 0 && len(task.Surface.Bend) == 0 {
		return p.view.Reading, nil
	}
	cuts := make([]photo.Cut, len(task.Cuts))
	for i, cut := range task.Cuts {
		cuts[i] = photo.Cut(cut)
	}
	return p.view.Recut(photo.Cut(task.Surface), cuts)
}

func (p *pageShot) Kept() (site.KeptPhoto, error) {
	if p.last == nil {
		return site.KeptPhoto{}, site.WithKind(site.ErrInput, errors.New("found no reading of the photo yet, want one before it is saved"))
	}
	kept, err := p.last.Kept()
	return site.KeptPhoto{
		Kind: kept.Kind, Width: kept.Width, Height: kept.Height, Picks: kept.Picks, Preview: kept.Preview, Content: p.Content,
	}, err
}
