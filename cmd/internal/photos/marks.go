package photos

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"slices"

	"panecore/layers/logbook"
	"panecore/layers/photo"
)

// Marks are those that a photo is read by, and how they were come by.
type Marks struct {
	*photo.Proposal
	Said string // what became of the marks of the last photo, in a sentence without its stop; empty: there is none
}

// LastPhoto is the photo that a station was read from last, by the marks on it.
type LastPhoto struct {
	Content []byte
	Picks   photo.Picks
}

// Marks are the given marks; for the rest those of the station's last photo, where this one is seen to lie to it, but not its
// bed surface, which settles and grows; and for the rest what is found in the picture. last may be nil.
func (p *Shot) Marks(given photo.Picks, last *LastPhoto) Marks {
	if last == nil {
		return Marks{photo.Propose(p.Picture, given), ""}
	}
	if bytes.Equal(last.Content, p.Content) {
		return p.marksAgain(given, last.Picks)
	}
	before, err := Decode("the last photo", last.Content)
	if err != nil {
		return Marks{photo.Propose(p.Picture, given), "the last photo can't be opened, so its marks were not used"}
	}
	followed := photo.Follow(before.Picture, last.Picks, p.Picture)
	picks := given
	if given.Ruler.LengthMM == 0 {
		picks.Ruler = followed.Picks.Ruler
	}
	if given.Strip.W == 0 {
		picks.Strip = followed.Picks.Strip
	}
	if given.Neutral == nil {
		picks.Neutral = followed.Picks.Neutral
	}
	m := Marks{photo.Propose(p.Picture, picks), ""}
	var came []string
	for _, mark := range []struct {
		name  string
		given bool
		by    photo.Sighting
		to    *photo.Sighting
	}{
		{"strip", given.Strip.W > 0, followed.Strip, &m.Strip}, {"ruler", given.Ruler.LengthMM > 0, followed.Ruler, &m.Ruler},
		{"grey card", given.Neutral != nil, followed.Card, &m.Card},
	} {
		if !mark.given && mark.by.Confidence > 0 {
			*mark.to = mark.by
			came = append(came, mark.name)
		}
	}
	m.Said = "no mark of the last photo was used: " + followed.Note
	if came != nil {
		m.Said = listed(came) + " as on the last photo, " + followed.Note
	}
	return m
}

// marksAgain are the marks that this photo was read by before, but for those given now.
func (p *Shot) marksAgain(given, before photo.Picks) Marks {
	picks, came := given, []string{}
	if given.Strip.W == 0 {
		picks.Strip, came = before.Strip, append(came, "strip")
		if given.SurfaceY == nil {
			picks.SurfaceY = before.SurfaceY
		}
		picks.Hidden = append(slices.Clip(given.Hidden), before.Hidden...)
	}
	if given.Ruler.LengthMM == 0 {
		picks.Ruler, picks.Plane, came = before.Ruler, before.Plane, append(came, "ruler")
	}
	if given.Neutral == nil && len(before.Neutral) > 0 {
		picks.Neutral, came = before.Neutral, append(came, "grey card")
	}
	m := Marks{photo.Propose(p.Picture, picks), ""}
	if len(came) > 0 {
		m.Said = listed(came) + " as marked on this photo before"
	}
	return m
}

// listed joins words as a sentence does.
func listed(words []string) string {
	text := words[0]
	for i, word := range words[1:] {
		if i == len(words)-2 {
			text += " and " + word
		} else {
			text += ", " + word
		}
	}
	return text
}

// lastPhoto is the photo that a station was read from last; nil: there is none, or its file is gone.
func lastPhoto(ctx context.Context, book *logbook.Book, tank, station string) (*LastPhoto, error) {
	kept, found, err := book.LastPhoto(ctx, tank, station)
	if err != nil || !found {
		return nil, err
	}
	picks, err := DecodePicks(kept.Picks)
	if err != nil {
		return nil, err
	}
	content, err := KeptFile(ctx, book, kept)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return &LastPhoto{content, picks}, err
}
