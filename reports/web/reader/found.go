package reader

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"reflect"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// Place is a tank and a station of it; either may be empty.
type Place struct{ Tank, Station string }

// LastPhoto is the photo that a station was read from last.
type LastPhoto struct {
	Content []byte
	Marks   layers.Marks
}

// Found is what a picture says of itself before a keeper marks anything on it.
type Found struct {
	Place                       Place        // as asked, or what a tag on the pane tells
	Marks                       layers.Marks // what was not found is zero
	Ruler, Card, Surface, Strip Sighting
	Said                        string // how the marks came from the last photo, or why they did not; empty: there is none
}

// Sighting is how surely a mark was found.
type Sighting struct {
	Confidence float64 `json:"confidence"` // that it is right, 0 to 1; 0: not found
	Doubtful   bool    `json:"doubtful"`   // to be confirmed before numbers count
	Note       string  `json:"note"`       // what was found, in a sentence without its stop
}

// foundMarks are what was found in a draft, as the page has it.
type foundMarks struct {
	of    Place // that was asked for
	place Place
	picks marks
	said  string
	by    map[string]Sighting // by the step of the mark
}

// foundAnswer answers a script with what was found.
type foundAnswer struct {
	Tank      string              `json:"tank"`
	Station   string              `json:"station"`
	Picks     marks               `json:"picks"`
	Sightings map[string]Sighting `json:"sightings"`
	Said      string              `json:"said"`
}

// found looks for the marks of a photo of the query's tank and station, once.
func (s *room) found(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	of := Place{r.FormValue("tank"), r.FormValue("station")}
	found := photo.found.Load()
	if found == nil || found.of != of {
		if found, err = s.lookFor(r.Context(), photo, of); err != nil {
			return err
		}
	}
	site.WriteJSON(w, http.StatusOK, foundAnswer{found.place.Tank, found.place.Station, found.picks, found.by, found.said})
	return nil
}

// lookFor looks for a draft's marks and keeps them.
func (s *room) lookFor(ctx context.Context, photo *draft, of Place) (*foundMarks, error) {
	photo.reading.Lock()
	defer photo.reading.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	shot, err := s.drafts.open(ctx, photo, s.photos)
	if err != nil {
		return nil, err
	}
	seen, err := shot.Found(of, func(place Place) (LastPhoto, bool, error) { return s.lastPhoto(ctx, place) })
	if err != nil {
		return nil, err
	}
	found := &foundMarks{
		of: of, place: seen.Place, picks: marksFound(seen.Marks), said: sentence(seen.Said),
		by: map[string]Sighting{"ruler": seen.Ruler, "card": seen.Card, "strip": seen.Strip, "surface": seen.Surface},
	}
	photo.found.Store(found)
	return found, nil
}

// lastPhoto is the photo that a station was read from last, unless there is none.
func (s *room) lastPhoto(ctx context.Context, of Place) (last LastPhoto, found bool, err error) {
	if of.Tank == "" || of.Station == "" {
		return last, false, nil
	}
	kept, found, err := s.Store.LastPhoto(ctx, of.Tank, of.Station)
	if err != nil || !found {
		if errors.Is(err, site.ErrMissing) {
			err = nil // the tank was removed elsewhere
		}
		return last, false, err
	}
	if last.Marks, err = layers.DecodeMarks(kept.Picks); err != nil {
		return last, false, nil // another program's marks
	}
	last.Content = kept.Content
	return last, true, nil
}

// marksFound are found marks for the page, to a tenth of a pixel.
func marksFound(k layers.Marks) marks {
	tenths(k.Ruler[:4])
	tenths(k.Strip[:])
	if k.Surface != nil {
		row := [1]float64{*k.Surface}
		tenths(row[:])
		k.Surface = &row[0]
	}
	k.Neutral = slices.Clone(k.Neutral)
	for i := range k.Neutral {
		tenths(k.Neutral[i].Box[:])
	}
	m := shownMarks(k)
	if k.Ruler[4] == 0 {
		m.Ruler = nil
	}
	if k.Strip[2] == 0 {
		m.Strip = nil
	}
	return m
}

func tenths(list []float64) {
	for i, v := range list {
		list[i] = math.Round(10*v) / 10
	}
}

// A question is asked on the page about what was found, before numbers count.
type question struct {
	About   string   `json:"about"` // the step of the mark, or "water"
	Text    string   `json:"text"`
	Yes     string   `json:"yes,omitempty"` // empty: it can't be confirmed
	No      string   `json:"no"`
	Surface *float64 `json:"surface,omitempty"` // the row that the bed begins at if it is water
}

// questions are what to ask about the marks of a request that are as they were found, and about those that were not
// found. Who took one away knows that it is missing.
func (f *foundMarks) questions(q *readRequest) []question {
	list := []question{}
	if f == nil {
		return list
	}
	for _, mark := range []struct {
		step      string
		given     bool
		as        bool // it was found
		which, do string
	}{
		{"ruler", q.Picks.Ruler != nil, reflect.DeepEqual(q.Picks.Ruler, f.picks.Ruler), "ruler", "mark two points on it"},
		{"card", len(q.Picks.Cards) > 0, reflect.DeepEqual(q.Picks.Cards, f.picks.Cards), "grey card", "mark it"},
		{"strip", q.Picks.Strip != nil, reflect.DeepEqual(q.Picks.Strip, f.picks.Strip), "strip to read", "draw one"},
		{"surface", q.Picks.Surface != nil, reflect.DeepEqual(q.Picks.Surface, f.picks.Surface), "bed surface", "mark it"},
	} {
		by := f.by[mark.step]
		switch {
		case !mark.given && by.Confidence == 0 && (mark.step == "ruler" || mark.step == "strip"):
			text := "No " + mark.which + " was found"
			if by.Note != "" {
				text += ": " + by.Note
			}
			list = append(list, question{About: mark.step, Text: text + ".", No: capital(mark.do)})
		case mark.step == "surface" && !mark.given && q.Picks.Strip != nil && !slices.Contains(q.Confirmed, mark.step):
			list = append(list, question{About: mark.step, Text: "No bed surface was found for sure. Does the bed begin at the uppermost line?", Yes: "Yes, it does", No: "No, show it"})
		case mark.given && mark.as && by.Doubtful && !slices.Contains(q.Confirmed, mark.step):
			list = append(list, question{About: mark.step, Text: fmt.Sprintf("Is the %s right? %s.", mark.which, capital(by.Note)), Yes: "Yes, it is right", No: "No, show it"})
		}
	}
	return list
}

func sentence(text string) string {
	if text == "" {
		return text
	}
	return capital(text) + "."
}

func capital(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// waterQuestion asks whether the upper layers of a reading are water, unless a keeper has said that they are bed.
func (s *room) waterQuestion(q *readRequest, read Result) []question {
	w := read.Photo.Water
	if w == nil || len(q.Cuts) > 0 || slices.Contains(q.Confirmed, aboutWater) {
		return nil
	}
	return []question{{
		About: aboutWater, Surface: &w.Surface,
		Text: capital(words.TopWater(s.Units, *w)) + ". Is this water above the bed?",
		Yes:  "Yes, cut it off", No: "No, it is bed",
	}}
}

// aboutWater is what the question is about whether a reading begins in the water.
const aboutWater = "water"
