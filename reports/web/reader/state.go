package reader

import (
	"cmp"
	"context"
	"errors"
	"net/http"

	"panecore/layers"
	"panecore/reports/web/site"
)

// stateAnswer is what a page needs to show a photo with its marks, again after a reload.
type stateAnswer struct {
	Width  int          `json:"width"` // pixels of the upright picture
	Height int          `json:"height"`
	State  readRequest  `json:"state"`
	Count  int64        `json:"count"` // of the state
	Again  bool         `json:"again"` // this photo was saved before with this state
	Tanks  []tankChoice `json:"tanks"`
}

// state answers with what is marked. The query's tank and station are those to begin with.
func (s *room) state(w http.ResponseWriter, r *http.Request) error {
	ctx := r.Context()
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	if err := s.opened(ctx, photo); err != nil {
		return err
	}
	tanks, err := s.Store.Tanks(ctx)
	if err != nil {
		return err
	}
	seen := photo.sight.Load()
	a := stateAnswer{Width: seen.width, Height: seen.height, Tanks: tankChoices(tanks)}
	kept, count := photo.latest()
	a.Count = count
	if kept != nil {
		a.State = *kept
	} else if a.State, a.Again, err = s.firstState(ctx, photo, tanks, r.FormValue("tank"), r.FormValue("station")); err != nil {
		return err
	}
	site.WriteJSON(w, http.StatusOK, a)
	return nil
}

// firstState is what a photo begins with: if it was saved before (again), its state at that time;
// otherwise the tank and station chosen before it was sent.
func (s *room) firstState(ctx context.Context, photo *draft, tanks []layers.Tank, tank, station string) (state readRequest, again bool, err error) {
	of, former := "", layers.Core{}
	for _, t := range tanks {
		for _, core := range t.Cores {
			chosen := t.ID == tank && core.Station == station // of several the one that was chosen
			if core.Photo != nil && core.Photo.SHA256 == photo.sum && (of == "" || chosen) {
				of, former = t.ID, core
			}
		}
		if t.ID == tank {
			state.Tank = tank
		}
	}
	if of != "" {
		state, err = s.formerState(ctx, photo, of, former)
		return state, true, err
	}
	state.Station = station
	state.Date = cmp.Or(photo.sight.Load().taken, s.Today()).String()
	return state, false, nil
}

// formerState is what was marked, changed and noted when a photo was saved.
func (s *room) formerState(ctx context.Context, photo *draft, tank string, core layers.Core) (readRequest, error) {
	state := readRequest{Tank: tank, Station: core.Station, Date: core.Date.String(), Lit: core.Lit, Note: core.Note}
	for _, sign := range core.Signs {
		state.Signs = append(state.Signs, string(sign))
	}
	picks, found, err := s.Store.PicksOf(ctx, tank, core.Station, core.Date)
	if err != nil || !found {
		return state, err
	}
	marked, err := layers.DecodeMarks(picks)
	if err != nil {
		return state, nil // another program's marks
	}
	state.Picks = shownMarks(marked)
	state.Confirmed = []string{"ruler", "card", "strip", "surface", aboutWater} // by saving
	return state, s.recut(ctx, photo, &state, marked, core)
}

// recut puts the edges and names of a saved core into a state if the program reads others by the
// same marks.
func (s *room) recut(ctx context.Context, photo *draft, state *readRequest, marked layers.Marks, saved layers.Core) error {
	task, err := s.task(ctx, state)
	if err == nil {
		err = s.readDraft(ctx, photo, task, func(read Result, _ Shot) error {
			for i, e := range marked.OwnEdges(saved, read.Core) {
				if i == 0 {
					state.Surface, state.Bend = e.DepthMM, e.Bend
				} else {
					state.Cuts = append(state.Cuts, cutRequest{e.DepthMM, saved.Layers[i-1].Band.String(), e.Bend})
				}
			}
			return nil
		})
	}
	if errors.Is(err, site.ErrInput) {
		return nil // the page shows it when it asks for the reading
	}
	return err
}
