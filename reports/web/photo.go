package web

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	"panecore/layers"
	"panecore/reports/words"
)

// photoRoutes are the addresses at which a photo is sent, marked, read and saved.
func (s *server) photoRoutes() map[string]handler {
	return map[string]handler{
		"GET /photo":                    s.photoStart,
		"POST /photo":                   s.photoTake,
		"GET /photo/{draft}":            s.photoPage,
		"GET /photo/{draft}/screen.jpg": s.photoScreen,
		"GET /photo/{draft}/state":      s.photoState,
		"POST /photo/{draft}/read":      s.photoRead,
		"POST /photo/{draft}/save":      s.photoSave,
		"POST /photo/{draft}/drop":      s.photoDrop,
	}
}

// addressOfPhoto is the path of a draft's page.
func addressOfPhoto(draft string) string { return "/photo/" + url.PathEscape(draft) }

// tankChoice is a tank that a photo may be of.
type tankChoice struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Stations []string `json:"stations"`
	Usual    string   `json:"usual"` // the station that is meant where none is named
}

func tankChoices(tanks []layers.Tank) []tankChoice {
	choices := make([]tankChoice, len(tanks))
	for i, tank := range tanks {
		choices[i] = tankChoice{tank.ID, words.TankName(tank.ID, tank.Name), tank.Stations(), tank.UsualStation()}
	}
	return choices
}

// photoChoice is the page on which a photo is chosen.
type photoChoice struct {
	Tanks         []tankChoice
	Tank, Station string
	MostMB        int
	MostDrafts    int
	Drafts        []openDraft
}

// openDraft is a photo that was sent and not yet saved.
type openDraft struct {
	Address string
	Words   string
	Seen    bool // there is a picture of it
}

func (s *server) photoStart(w http.ResponseWriter, r *http.Request) error {
	tanks, err := s.Store.Tanks(r.Context())
	if err != nil {
		return err
	}
	c := photoChoice{Tanks: tankChoices(tanks), Tank: r.FormValue("tank"), Station: r.FormValue("station"), MostMB: mostUpload >> 20, MostDrafts: mostDrafts}
	for _, one := range s.drafts.all() {
		c.Drafts = append(c.Drafts, one.words())
	}
	return s.show(w, r, http.StatusOK, "photo", frame{Title: "Read a photo", Script: "photo-start.js", Style: "photo.css"}, c)
}

// words say which photo a draft is.
func (one *draft) words() openDraft {
	o := openDraft{Address: addressOfPhoto(one.id)}
	var list []string
	if told := one.told(); told != nil {
		for _, text := range []string{told.Tank, told.Station} {
			if text != "" {
				list = append(list, text)
			}
		}
	}
	if seen := one.seen(); seen != nil {
		o.Seen = true
		list = append(list, fmt.Sprintf("%d × %d pixels", seen.width, seen.height))
		if seen.taken != 0 {
			list = append(list, "taken "+seen.taken.String())
		}
	} else {
		list = append(list, fmt.Sprintf("%d kB, not opened yet", (len(one.content)+999)/1000))
	}
	o.Words = strings.Join(list, ", ")
	return o
}

// photoTake takes a photo's file, as it is, and tells where it is read.
func (s *server) photoTake(w http.ResponseWriter, r *http.Request) error {
	if r.ContentLength > mostUpload { // nothing of it is read
		return errTooLarge(&http.MaxBytesError{Limit: mostUpload})
	}
	content, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostUpload))
	var tooLarge *http.MaxBytesError
	switch {
	case errors.As(err, &tooLarge):
		return errTooLarge(tooLarge)
	case err != nil:
		return Fault(ErrInput, fmt.Errorf("the photo did not come whole: send it again (%w)", err))
	case len(content) == 0:
		return Fault(ErrInput, errors.New("the file is empty: choose a photo"))
	}
	one := s.drafts.add(content)
	answer := struct {
		Address string `json:"address"`
		Waiting string `json:"waiting,omitempty"`
	}{Address: addressOfPhoto(one.id)}
	status := http.StatusOK
	if err := s.opened(r.Context(), one); errors.Is(err, errBusy) {
		status, answer.Waiting = http.StatusAccepted, err.Error()
	} else if err != nil {
		return err
	}
	writeJSON(w, status, answer)
	return nil
}

// tooLargeError tells in words that a body is too large.
type tooLargeError struct {
	error
	limit *http.MaxBytesError
}

func (e tooLargeError) Unwrap() error { return e.limit }

func errTooLarge(limit *http.MaxBytesError) error {
	return tooLargeError{fmt.Errorf("the photo is larger than %d MB: save it smaller, or take it with fewer pixels", limit.Limit>>20), limit}
}

// opened sees to it that a draft's photo was decoded once. A file that is no photo is no
// draft.
func (s *server) opened(ctx context.Context, one *draft) error {
	if one.seen() != nil {
		return nil
	}
	one.reading.Lock()
	defer one.reading.Unlock()
	_, err := s.drafts.open(ctx, one, s.Photos)
	if errors.Is(err, ErrInput) {
		s.drafts.drop(one.id)
	}
	return err
}

// photoBody is the page on which a photo is read.
type photoBody struct {
	Address    string
	Signs      []signChoice
	MostCards  int
	MostDrafts int
	Thinnest   float64 // mm that a layer may be cut to
	Units      layers.Units
	PerMM      float64 // of these units
	Decimals   int     // of a depth in them, where it is told as it is moved
}

// thinnestCut is how thin a layer may be cut, mm, as the photo reader's own.
const thinnestCut = 0.5

// signChoice is something that may be noted of a reading.
type signChoice struct{ Name, Words string }

func (s *server) photoPage(w http.ResponseWriter, r *http.Request) error {
	one, err := s.drafts.look(r.PathValue("draft"))
	if err != nil {
		return s.show(w, r, http.StatusNotFound, "photo-gone", frame{Title: "This photo is no longer here"}, mostDrafts)
	}
	b := photoBody{
		Address: addressOfPhoto(one.id), MostCards: mostCards, MostDrafts: mostDrafts, Thinnest: thinnestCut,
		Units: s.Units, PerMM: s.Units.Of(1), Decimals: 1,
	}
	if s.Units == layers.Inches {
		b.Decimals = 2
	}
	for _, sign := range layers.Signs() {
		b.Signs = append(b.Signs, signChoice{string(sign), words.Spaced(sign)})
	}
	return s.show(w, r, http.StatusOK, "photo-read", frame{Title: "Read a photo", Script: "photo.js", Style: "photo.css", Wide: true}, b)
}

func (s *server) photoScreen(w http.ResponseWriter, r *http.Request) error {
	one, err := s.drafts.look(r.PathValue("draft"))
	if err != nil {
		return err
	}
	if err := s.opened(r.Context(), one); errors.Is(err, errBusy) {
		return waiting(w)
	} else if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	_, err = w.Write(one.seen().screen)
	return err
}

// waiting asks a script to come again.
func waiting(w http.ResponseWriter) error {
	writeJSON(w, http.StatusAccepted, map[string]string{"waiting": errBusy.Error()})
	return nil
}

func (s *server) photoDrop(w http.ResponseWriter, r *http.Request) error {
	s.drafts.drop(r.PathValue("draft"))
	say(w, r, "/photo", "The photo was thrown away. Nothing was saved of it.")
	return nil
}
