package cli

import (
	"context"
	"errors"
	"io"
	"sync"

	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// pageStore is the logbook as the local page uses it. It may be used by several
// goroutines at once, and the logbook by other programs beside.
type pageStore struct {
	*shell
	book   *logbook.Book
	notice string             // on every report
	asOf   func() layers.Date // that reports are as of
	alone  *sync.Mutex        // held by the report that is made: each has a tank's photos in memory
}

func newPageStore(s *shell, book *logbook.Book, notice string, asOf func() layers.Date) pageStore {
	return pageStore{s, book, notice, asOf, new(sync.Mutex)}
}

// pageFault tells the page what kind of fault an error of the logbook is.
func pageFault(err error) error {
	var (
		file     *logbook.FileError
		faults   layers.Faults
		conflict *logbook.ConflictError
		missing  *logbook.NotFoundError
		taken    *logbook.TakenError
	)
	switch {
	case errors.As(err, &missing), errors.Is(err, logbook.ErrNothingToUndo), errors.As(err, &file) && file.Trouble == logbook.Missing:
		return site.WithKind(site.ErrMissing, err)
	case errors.As(err, &taken), errors.As(err, &conflict), errors.Is(err, logbook.ErrNotLast):
		return site.WithKind(site.ErrTaken, err)
	case errors.As(err, &faults):
		return site.WithKind(site.ErrInput, err)
	}
	return err
}

func (p pageStore) Tanks(ctx context.Context) ([]layers.Tank, error) {
	tanks, err := allTanks(ctx, p.book, false)
	return tanks, pageFault(err)
}

func (p pageStore) Tank(ctx context.Context, id string) (layers.Tank, error) {
	tank, err := p.book.Tank(ctx, id)
	return tank, pageFault(err)
}

func (p pageStore) Own(ctx context.Context) (func(tank string) []palette.Prototype, error) {
	own, err := ownColors(ctx, p.book)
	return own, pageFault(err)
}

func (p pageStore) AddTank(ctx context.Context, tank layers.Tank) error {
	return pageFault(p.book.AddTank(ctx, p.env.Now(), tank))
}

func (p pageStore) EditTank(ctx context.Context, tank layers.Tank) error {
	return pageFault(p.book.EditTank(ctx, p.env.Now(), tank))
}

func (p pageStore) AddCore(ctx context.Context, tank string, core layers.Core) error {
	return pageFault(p.book.AddCore(ctx, p.env.Now(), tank, core))
}

func (p pageStore) AmendCore(ctx context.Context, tank, station string, date layers.Date, core layers.Core) error {
	return pageFault(p.book.AmendCore(ctx, p.env.Now(), tank, station, date, core))
}

func (p pageStore) RemoveCore(ctx context.Context, tank, station string, date layers.Date) error {
	return pageFault(p.book.RemoveCore(ctx, p.env.Now(), tank, station, date))
}

func (p pageStore) FileCore(ctx context.Context, tank string, core layers.Core, photo site.KeptPhoto, replace bool) error {
	kept := logbook.Photo{Kind: photo.Kind, Width: photo.Width, Height: photo.Height, Picks: photo.Picks, Preview: photo.Preview}
	_, err := p.book.FileCore(ctx, p.env.Now(), tank, core, kept, photo.Content, replace)
	return pageFault(err)
}

func (p pageStore) LastPicks(ctx context.Context, tank, station string) (picks []byte, found bool, err error) {
	picks, found, err = p.book.LastPicks(ctx, tank, station)
	return picks, found, pageFault(err)
}

func (p pageStore) PicksOf(ctx context.Context, tank, station string, date layers.Date) (picks []byte, found bool, err error) {
	photo, found, err := p.book.PhotoOf(ctx, tank, station, date)
	return photo.Picks, found, pageFault(err)
}

func (p pageStore) AddWater(ctx context.Context, tank string, test layers.WaterTest) error {
	return pageFault(p.book.AddWater(ctx, p.env.Now(), tank, test))
}

func (p pageStore) RemoveWater(ctx context.Context, tank string, date layers.Date, clock string) error {
	return pageFault(p.book.RemoveWater(ctx, p.env.Now(), tank, date, clock))
}

func (p pageStore) AddEvent(ctx context.Context, tank string, event layers.Event) error {
	return pageFault(p.book.AddEvent(ctx, p.env.Now(), tank, event))
}

func (p pageStore) RemoveEvent(ctx context.Context, tank string, event layers.Event) error {
	return pageFault(p.book.RemoveEvent(ctx, p.env.Now(), tank, event))
}

func (p pageStore) Undo(ctx context.Context, change int64) (what string, err error) {
	now := p.env.Now()
	undone, err := p.book.Undo(ctx, now, change)
	if err != nil {
		return "", pageFault(err)
	}
	return changeWords(undone, now), nil
}

func (p pageStore) Last(ctx context.Context) (change int64, what string, err error) {
	change, last, err := p.book.LastChange(ctx)
	switch {
	case errors.Is(err, logbook.ErrNothingToUndo):
		return 0, "", nil
	case err != nil:
		return 0, "", pageFault(err)
	}
	return change, changeWords(last, p.env.Now()), nil
}

func (p pageStore) Report(ctx context.Context, id string) ([]byte, error) {
	settings := reports.DefaultSettings()
	if err := p.settle(ctx, p.book, &settings, false); err != nil {
		return nil, pageFault(err)
	}
	settings.AsOf = p.asOf()
	tank, err := p.book.Tank(ctx, id)
	if err != nil {
		return nil, pageFault(err)
	}
	p.alone.Lock()
	defer p.alone.Unlock()
	report, err := p.page(ctx, p.book, tank, settings, p.notice)
	return report, pageFault(err)
}

func (p pageStore) Export(ctx context.Context, w io.Writer) error {
	tanks, err := allTanks(ctx, p.book, false)
	if err != nil {
		return pageFault(err)
	}
	return layers.Encode(w, tanks)
}

func (p pageStore) Backup(ctx context.Context, w io.Writer) error {
	return pageFault(zipBackup(ctx, p.book, w))
}
