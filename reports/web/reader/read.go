package reader

import (
	"context"
	"errors"
	"io"
	"net/http"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
)

// readAnswer answers a script: with a reading, the marks it wants, or why it was refused.
type readAnswer struct {
	*readFound
	Wanted  []string   `json:"wanted,omitempty"` // marks that are missing
	Asks    []question `json:"asks,omitempty"`
	Refused string     `json:"refused,omitempty"` // why it can't be read, and what helps
	Field   string     `json:"field,omitempty"`   // with the error
}

// readFound is a reading and its place in the picture.
type readFound struct {
	Read  reports.PhotoCore `json:"read"`
	Strip [4][2]float64     `json:"strip"`
	Edges [][][2]float64    `json:"edges"`
	Words readWords         `json:"words"`

	Shifts []float64 `json:"shifts,omitempty"` // mm by which their bends make the edges deeper
}

// read keeps what the page sends and reads the photo by it.
func (s *room) read(w http.ResponseWriter, r *http.Request) error {
	photo, err := s.drafts.find(r.PathValue("draft"))
	if err != nil {
		return err
	}
	q, err := takeRequest[readRequest](w, r)
	if err != nil {
		return refused(w, err)
	}
	if err := s.drafts.keep(photo, w, r, &q); err != nil {
		return err
	}
	if _, _, err := q.Picks.typed(); err != nil { // before the strip is marked too
		return refused(w, err)
	}
	if wanted := q.Picks.wanted(); len(wanted) > 0 {
		site.WriteJSON(w, http.StatusOK, readAnswer{Wanted: wanted, Asks: photo.found.Load().questions(&q)})
		return nil
	}
	task, err := s.task(r.Context(), &q)
	if err != nil {
		return refused(w, err)
	}
	var found readFound
	asks := photo.found.Load().questions(&q)
	err = s.readDraft(r.Context(), photo, task, func(result Result, _ Shot) error {
		asks = append(asks, s.waterQuestion(&q, result)...)
		said := s.readWords(result.PhotoCore, s.Question(task.Tank, result.Core, task.Own), task, len(q.Picks.Cards))
		found = readFound{result.PhotoCore, result.Strip, result.Edges, said, result.Shifts}
		found.Words.ask(asks)
		return nil
	})
	if err != nil {
		return refused(w, err)
	}
	site.WriteJSON(w, http.StatusOK, readAnswer{readFound: &found, Asks: asks})
	return nil
}

// refused answers a script whose photo can't be read. Other errors are returned.
func refused(w http.ResponseWriter, err error) error {
	if !errors.Is(err, site.ErrInput) {
		return err
	}
	var field fieldError
	errors.As(err, &field)
	site.WriteJSON(w, http.StatusUnprocessableEntity, readAnswer{Refused: err.Error(), Field: field.field})
	return nil
}

func takeRequest[Request readRequest | saveRequest | nativeRequest](w http.ResponseWriter, r *http.Request) (q Request, err error) {
	text, err := io.ReadAll(http.MaxBytesReader(w, r.Body, mostRequest))
	if err != nil {
		return q, site.WithKind(err, errors.New("not everything that this page sent arrived: try again"))
	}
	return parseRequest[Request](text)
}

// task is what a request asks for. Its marks must be complete.
func (s *room) task(ctx context.Context, q *readRequest) (t Task, err error) {
	if t.Marks, err = q.Picks.complete(); err != nil {
		return t, err
	}
	if t.Core, err = q.core(); err != nil {
		return t, err
	}
	if t.Cuts, err = q.cuts(); err != nil {
		return t, err
	}
	if t.Tank, err = s.tankOf(ctx, q.Tank); err != nil {
		return t, err
	}
	own, err := s.Store.Own(ctx)
	if err != nil {
		return t, err
	}
	t.Own, t.Surface = own(q.Tank), Cut{BottomMM: q.Surface, Bend: q.Bend}
	return t, nil
}

// tankOf is a photo's tank; the zero one if none is chosen.
func (s *room) tankOf(ctx context.Context, id string) (layers.Tank, error) {
	if id == "" {
		return layers.Tank{}, nil
	}
	tank, err := s.Store.Tank(ctx, id)
	if errors.Is(err, site.ErrMissing) { // else the page would say that the photo is gone
		return tank, inField("tank", errors.New(err.Error()))
	}
	return tank, err
}

// readDraft reads a draft's photo, and uses the result before another request reads that photo.
func (s *room) readDraft(ctx context.Context, photo *draft, task Task, use func(Result, Shot) error) error {
	photo.reading.Lock()
	defer photo.reading.Unlock()
	if err := ctx.Err(); err != nil {
		return err // the page has asked again since
	}
	shot, err := s.drafts.open(ctx, photo, s.photos)
	if err != nil {
		return err
	}
	result, err := shot.Read(task)
	if err != nil {
		return err
	}
	return use(result, shot)
}
