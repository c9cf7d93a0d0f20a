package reader

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	"panecore/layers"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// addressOf is the path of a draft's page.
func addressOf(draft string) string { return "/photo/" + url.PathEscape(draft) }

// tankChoice is a tank that a photo may be of.
type tankChoice struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Stations []string `json:"stations"`
	Usual    string   `json:"usual"` // the station if none is given
}

func tankChoices(tanks []layers.Tank) []tankChoice {
	choices := make([]tankChoice, len(tanks))
	for i, tank := range tanks {
		choices[i] = tankChoice{tank.ID, words.TankName(tank.ID, tank.Name), tank.Stations(), tank.UsualStation()}
	}
	return choices
}

// startView is the page on which a photo is chosen.
type startView struct {
	Tanks         []tankChoice
	Tank, Station string
	MostMB        int
	TooLarge      string // what is said of a larger file
	MostDrafts    int
	Drafts        []openDraft
}

// openDraft is a photo that was not yet saved.
type openDraft struct {
	Address string
	Words   string
	Seen    bool // there is a picture to show
}

func (s *room) start(w http.ResponseWriter, r *http.Request) error {
	tanks, err := s.Store.Tanks(r.Context())
	if err != nil {
		return err
	}
	c := startView{Tanks: tankChoices(tanks), Tank: r.FormValue("tank"), Station: r.FormValue("station"), MostMB: mostUpload >> 20, TooLarge: errTooLarge.Error(), MostDrafts: mostDrafts}
	for _, photo := range s.drafts.all() {
		c.Drafts = append(c.Drafts, photo.words())
	}
	return s.Show(w, r, http.StatusOK, "photo", site.Frame{Title: "Read a photo", Script: "photo/start.js", Style: "photo.css"}, c)
}

func (photo *draft) words() openDraft {
	o := openDraft{Address: addressOf(photo.id)}
	var list []string
	if kept := photo.state.Load(); kept != nil {
		for _, text := range []string{kept.Tank, kept.Station} {
			if text != "" {
				list = append(list, text)
			}
		}
	}
	if seen := photo.sight.Load(); seen != nil {
		o.Seen = true
		list = append(list, fmt.Sprintf("%d × %d pixels", seen.width, seen.height))
		if seen.taken != 0 {
			list = append(list, "taken "+seen.taken.String())
		}
	} else {
		list = append(list, fmt.Sprintf("%d kB, not opened yet", (len(photo.content)+999)/1000))
	}
	o.Words = strings.Join(list, ", ")
	return o
}

// take receives a photo's file, and answers with the address of its page.
func (s *room) take(w http.ResponseWriter, r *http.Request) error {
	if r.ContentLength > mostUpload { // nothing of it is read
		return errTooLarge
	}
	content, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostUpload))
	var limit *http.MaxBytesError
	switch {
	case errors.As(err, &limit):
		return errTooLarge
	case err != nil:
		return site.WithKind(site.ErrInput, errors.New("the photo did not arrive complete: send it again"))
	case len(content) == 0:
		return site.WithKind(site.ErrInput, errors.New("the file is empty: choose a photo"))
	}
	photo := s.drafts.add(content)
	if photo.of.Swap(nil) != nil {
		s.drafts.keepState(photo)
	}
	answer := struct {
		Address string `json:"address"`
		Waiting string `json:"waiting,omitempty"`
	}{Address: addressOf(photo.id)}
	status := http.StatusOK
	if err := s.opened(r.Context(), photo); errors.Is(err, errBusy) {
		status, answer.Waiting = http.StatusAccepted, err.Error()
	} else if err != nil {
		return err
	}
	site.WriteJSON(w, status, answer)
	return nil
}

var errTooLarge = site.WithKind(&http.MaxBytesError{Limit: mostUpload},
	fmt.Errorf("this photo is larger than %d MB: save it smaller, or take it with fewer pixels", mostUpload>>20))

// opened decodes a draft's photo unless that was done before. A file that is not a photo is
// dropped.
func (s *room) opened(ctx context.Context, photo *draft) error {
	if photo.sight.Load() != nil {
		return nil
	}
	photo.reading.Lock()
	defer photo.reading.Unlock()
	_, err := s.drafts.open(ctx, photo, s.photos)
	if errors.Is(err, site.ErrInput) {
		s.drafts.drop(photo.id, &goneError{photo.id, "the file is not a photo that can be opened. Choose another", ""})
	}
	return err
}

// readerView is the page on which a photo is read.
type readerView struct {
	Address   string
	Signs     []signChoice
	MostCards int
	Thinnest  float64 // mm that a layer may be cut to
	Units     layers.Units
	PerMM     float64 // how many of these units
	Decimals  int     // of a depth in these units
}

// thinnestCut is how thin a layer may be cut, mm: the limit of package photo.
const thinnestCut = 0.5

type signChoice struct{ Name, Words string }

func (s *room) reader(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.look(r.PathValue("draft"))
	if err != nil {
		return s.showGone(w, r, err)
	}
	b := readerView{
		Address: addressOf(photo.id), MostCards: mostCards, Thinnest: thinnestCut,
		Units: s.Units, PerMM: s.Units.Of(1), Decimals: 1,
	}
	if s.Units == layers.Inches {
		b.Decimals = 2
	}
	for _, sign := range layers.Signs() {
		b.Signs = append(b.Signs, signChoice{string(sign), words.Spaced(sign)})
	}
	return s.Show(w, r, http.StatusOK, "photo-read", site.Frame{Title: "Read a photo", Script: "photo.js", Style: "photo.css", Wide: true}, b)
}

func (s *room) screen(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.look(r.PathValue("draft"))
	if err != nil {
		return err
	}
	if err := s.opened(r.Context(), photo); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/jpeg")
	_, err = w.Write(photo.sight.Load().screen)
	return err
}

// patient asks a script to try again while another photo is being decoded, and tells it what
// became of its draft.
func patient(handle site.Handler) site.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		err := handle(w, r)
		var gone *goneError
		var stale staleError
		switch {
		case errors.Is(err, errBusy):
			site.WriteJSON(w, http.StatusAccepted, map[string]string{"waiting": errBusy.Error()})
		case errors.As(err, &gone) && site.WantsJSON(r):
			goneAnswer(w, gone)
		case errors.As(err, &stale):
			staleAnswer(w, stale)
		default:
			return err
		}
		return nil
	}
}

func (s *room) drop(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("draft")
	s.drafts.drop(id, thrownAway(id))
	site.Say(w, r, "/photo", "The photo was thrown away; nothing was saved.")
	return nil
}
