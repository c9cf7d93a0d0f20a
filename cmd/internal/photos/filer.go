package photos

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/layers/photo"
	"panecore/layers/photo/tagged"
	"panecore/layers/tag"
	"panecore/palette"
	"panecore/reports"
)

// filer reads photos for a logbook: what the photos of one command share.
type filer struct {
	cmd      *cobra.Command
	s        *shell.Shell
	o        photoOptions
	book     *logbook.Book
	reading  sync.Mutex // of the book
	settings reports.Settings
}

// newFiler prepares to read photos for a logbook.
func newFiler(cmd *cobra.Command, s *shell.Shell, book *logbook.Book, o photoOptions) (*filer, error) {
	f := &filer{cmd: cmd, s: s, o: o, book: book}
	return f, s.Settle(cmd.Context(), book, &f.settings, s.JSON)
}

// draft is a photo as it is about to be filed. One that can't be has no reading, and says as much as is known.
type draft struct {
	*Reading
	tank  layers.Tank
	at    layers.Core // its station and date
	notes []string    // how its marks were come by
}

// doubts are what should be looked at in a reading.
func (d *draft) doubts(u layers.Units) (list []string) {
	how := d.Findings.Photo
	for _, mark := range how.Found {
		if mark.Doubtful {
			list = append(list, "the "+mark.Mark+" is in doubt: "+mark.Note)
		}
	}
	if how.Water != nil {
		list = append(list, waterDoubt(u, *how.Water))
	}
	if !d.Findings.Reliable {
		list = append(list, "the reading is not reliable: check the overlay before you rely on it")
	}
	return list
}

// looksForTag reports that a photo's tag is wanted: a strip and a ruler that are both given need none.
func looksForTag(cmd *cobra.Command) bool {
	return !cmd.Flags().Changed("strip") || !cmd.Flags().Changed("ruler")
}

// sighted is a photo's tag, or why it has none; neither: it was not looked for.
type sighted struct {
	tag  *tagged.Found
	miss *tagged.Miss
}

// Tagged are the tag on the pane and the marks that it gives; nil: none is whole.
func (p *Shot) Tagged() (*tag.Tag, photo.Picks) {
	t, _ := tagged.Find(p.Picture)
	if t == nil {
		return nil, photo.Picks{}
	}
	return &t.Tag, photo.Picks{Plane: &t.Plane, Ruler: t.Ruler(), Neutral: t.Cards}
}

// part reports that a part of a tag is seen.
func (v sighted) part() bool { return v.miss != nil && v.miss.Part }

// readable refuses marks without a ruler or a strip. Where a part of a tag is seen, that says more, also of a ruler that is
// in doubt: the tag's own lines may have been taken for it.
func (v sighted) readable(shot *Shot, b *photo.Proposal) error {
	err := shot.readable(b)
	if v.part() && (err != nil || b.Ruler.Doubtful()) {
		return shot.unreadable(&v.miss.Refusal)
	}
	return err
}

// read reads a photo for the tank and station that flags or its tag name. What was noted when the same photo was filed
// before stays, except for what the flags set. It may be called at the same time for several photos.
func (f *filer) read(shot *Shot, v sighted) (*draft, error) {
	id, station, err := f.place(shot, v)
	if err != nil {
		return nil, err
	}
	tank, own, err := f.tank(shot, id, v.tag)
	if err != nil {
		return nil, err
	}
	station = cmp.Or(station, tank.UsualStation())
	core := layers.Core{Station: station, Date: cmp.Or(f.o.date, shot.Day)}
	d := &draft{tank: tank, at: core}
	marks, err := f.marks(d, shot, v, station)
	if err != nil {
		return d, err
	}
	if core.Date == 0 {
		return d, shell.BadInput(shot.name, errors.New("found no date in the photo, want --date DATE"))
	}
	for _, former := range tank.Cores {
		if former.Station == station && former.Date == core.Date && former.Photo != nil && former.Photo.SHA256 == shot.sum() {
			core = former
		}
	}
	former := core
	if core, err = f.o.seen.PutOn(f.cmd, core); err != nil {
		return d, err
	}
	if d.Reading, err = shot.Read(marks.Picks, core, tank, own); err != nil {
		return d, err
	}
	d.Findings.Photo.Found = foundIn(marks.Proposal)
	if hasLabel(former) && !hasLabel(d.Core) {
		d.notes = append(d.notes, "the layers are not those of before, so the names that you gave them are gone: name them again")
	}
	if !f.cmd.Flags().Changed("sure") {
		d.Core.Sure = d.Core.StaysSure(former)
	}
	if d.Core.Sure {
		d.Findings.Photo.Water = nil
	}
	return d, nil
}

// place is the tank and the station of a photo, empty where not known: those of its tag, which flags may not contradict.
func (f *filer) place(shot *Shot, v sighted) (tank, station string, err error) {
	switch {
	case f.o.tank == "" && v.tag == nil:
		return "", "", shot.unreadable(&v.miss.Refusal)
	case v.tag == nil:
		return f.o.tank, f.o.station, nil
	}
	t := v.tag.Tag
	for _, c := range []struct{ flag, given, shown string }{{"tank", f.o.tank, t.Tank}, {"station", f.o.station, t.Station}} {
		if c.given != "" && c.given != c.shown {
			return "", "", shell.BadInput(shot.name, fmt.Errorf("found a tag of %s %q, want that of %q, which --%s names", c.flag, c.shown, c.given, c.flag))
		}
	}
	return t.Tank, t.Station, nil
}

// tank is a tank of the logbook, and the keeper's own colours for it.
func (f *filer) tank(shot *Shot, id string, by *tagged.Found) (layers.Tank, []palette.Prototype, error) {
	f.reading.Lock()
	defer f.reading.Unlock()
	tank, err := f.book.Tank(f.cmd.Context(), id)
	var missing *logbook.NotFoundError
	if errors.As(err, &missing) && by != nil && f.o.tank == "" {
		return tank, nil, shell.BadInput(shot.name, fmt.Errorf("found a tag of tank %q, want one of the logbook's: 'panecore tank add' adds it", id))
	}
	return tank, f.settings.Own(id), err
}

// marks are a photo's: those given and those of its tag, for the rest those of the station's last photo where they lie on
// this one, and for the rest those found. Beside a tag only the marks of the same photo are taken again.
func (f *filer) marks(d *draft, shot *Shot, v sighted, station string) (m Marks, err error) {
	picks := f.o.picks
	if v.tag != nil {
		picks = d.byTag(v.tag, picks)
	}
	var last *LastPhoto
	if looksForTag(f.cmd) {
		if last, err = f.lastPhoto(d.tank.ID, station); err != nil {
			return m, err
		}
	}
	if v.tag != nil && last != nil && !bytes.Equal(last.Content, shot.Content) {
		last = nil
	}
	m = shot.Marks(picks, last)
	if m.Said != "" {
		d.notes = append(d.notes, fmt.Sprintf("station %s: %s; check the overlay", station, m.Said))
	}
	if v.part() {
		d.notes = append(d.notes, v.miss.Reason)
	}
	if err := v.readable(shot, m.Proposal); err != nil {
		return m, err
	}
	return m, nil
}

// lastPhoto is the photo that a station was read from last; nil: there is none.
func (f *filer) lastPhoto(tank, station string) (*LastPhoto, error) {
	f.reading.Lock()
	defer f.reading.Unlock()
	return lastPhoto(f.cmd.Context(), f.book, tank, station)
}

// byTag completes marks by a tag.
func (d *draft) byTag(t *tagged.Found, marked photo.Picks) photo.Picks {
	picks := marked
	var found []string
	if picks.Ruler.LengthMM == 0 {
		picks.Plane, picks.Ruler = &t.Plane, t.Ruler()
		found = append(found, "scale, roll and tilt")
	}
	if picks.Neutral == nil {
		picks.Neutral = t.Cards
		found = append(found, "light")
	}
	if len(found) > 0 {
		d.notes = append(d.notes, fmt.Sprintf("%s by the tag of station %s", strings.Join(found, " and "), t.Tag.Station))
	}
	return picks
}
