package serve

import (
	"context"
	"errors"
	"io"
	"sync"

	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// pageStore is the logbook for the local page. Several goroutines may use it at once, and other
// programs the logbook.
type pageStore struct {
	*shell.Shell
	book   *logbook.Book
	notice string             // on every report
	asOf   func() layers.Date // the day of reports
	alone  *sync.Mutex        // one report or photo at a time: each has photos in memory

	galleries *galleries
}

func newPageStore(s *shell.Shell, book *logbook.Book, notice string, asOf func() layers.Date) pageStore {
	return pageStore{s, book, notice, asOf, new(sync.Mutex), newGalleries()}
}

// pageFault adds the kind of an error of the logbook for the page.
func pageFault(err error) error {
	switch fault, worded := shell.FaultOf(err); fault {
	case shell.Missing:
		return site.WithKind(site.ErrMissing, worded)
	case shell.Taken:
		return site.WithKind(site.ErrTaken, worded)
	case shell.Refused:
		return site.WithKind(site.ErrInput, worded)
	}
	return err
}

func (p pageStore) Tanks(ctx context.Context) ([]layers.Tank, error) {
	tanks, err := shell.AllTanks(ctx, p.book, false)
	return tanks, pageFault(err)
}

func (p pageStore) Tank(ctx context.Context, id string) (layers.Tank, error) {
	tank, err := p.book.Tank(ctx, id)
	return tank, pageFault(err)
}

func (p pageStore) Revisions(ctx context.Context) (map[string]int64, error) {
	found, err := p.book.Revisions(ctx)
	return found, pageFault(err)
}

func (p pageStore) Own(ctx context.Context) (func(tank string) []palette.Prototype, error) {
	own, err := shell.OwnColors(ctx, p.book)
	return own, pageFault(err)
}

func (p pageStore) AddTank(ctx context.Context, tank layers.Tank) error {
	return pageFault(p.book.AddTank(ctx, p.Env.Now(), tank))
}

func (p pageStore) EditTank(ctx context.Context, tank layers.Tank) error {
	return pageFault(p.book.EditTank(ctx, p.Env.Now(), tank))
}

func (p pageStore) AddCore(ctx context.Context, tank string, core layers.Core) error {
	return pageFault(p.book.AddCore(ctx, p.Env.Now(), tank, core))
}

func (p pageStore) AmendCore(ctx context.Context, tank, station string, date layers.Date, core layers.Core) error {
	return pageFault(p.book.AmendCore(ctx, p.Env.Now(), tank, station, date, core))
}

func (p pageStore) RemoveCore(ctx context.Context, tank, station string, date layers.Date) error {
	return pageFault(p.book.RemoveCore(ctx, p.Env.Now(), tank, station, date))
}

func (p pageStore) FileCore(ctx context.Context, tank string, core layers.Core, photo site.KeptPhoto, replace bool) error {
	kept := logbook.Photo{Kind: photo.Kind, Width: photo.Width, Height: photo.Height, Picks: photo.Picks, Preview: photo.Preview}
	_, err := p.book.FileCore(ctx, p.Env.Now(), tank, core, kept, photo.Content, replace)
	return pageFault(err)
}

func (p pageStore) LastPhoto(ctx context.Context, tank, station string) (last site.KeptPhoto, found bool, err error) {
	kept, found, err := p.book.LastPhoto(ctx, tank, station)
	if err != nil || !found {
		return last, false, pageFault(err)
	}
	last = site.KeptPhoto{Kind: kept.Kind, Width: kept.Width, Height: kept.Height, Picks: kept.Picks, Preview: kept.Preview}
	last.Content, err = photos.KeptFile(ctx, p.book, kept)
	return last, true, pageFault(err)
}

func (p pageStore) PicksOf(ctx context.Context, tank, station string, date layers.Date) (picks []byte, found bool, err error) {
	photo, found, err := p.book.PhotoOf(ctx, tank, station, date)
	return photo.Picks, found, pageFault(err)
}

func (p pageStore) AddWater(ctx context.Context, tank string, test layers.WaterTest) error {
	return pageFault(p.book.AddWater(ctx, p.Env.Now(), tank, test))
}

func (p pageStore) RemoveWater(ctx context.Context, tank string, date layers.Date, clock string) error {
	return pageFault(p.book.RemoveWater(ctx, p.Env.Now(), tank, date, clock))
}

func (p pageStore) AddEvent(ctx context.Context, tank string, event layers.Event) error {
	return pageFault(p.book.AddEvent(ctx, p.Env.Now(), tank, event))
}

func (p pageStore) RemoveEvent(ctx context.Context, tank string, event layers.Event) error {
	return pageFault(p.book.RemoveEvent(ctx, p.Env.Now(), tank, event))
}

func (p pageStore) Undo(ctx context.Context, change int64) (what string, err error) {
	now := p.Env.Now()
	undone, err := p.book.Undo(ctx, now, change)
	if err != nil {
		return "", pageFault(err)
	}
	return shell.ChangeWords(undone, now), nil
}

func (p pageStore) Last(ctx context.Context) (change int64, what string, err error) {
	change, last, err := p.book.LastChange(ctx)
	switch {
	case errors.Is(err, logbook.ErrNothingToUndo):
		return 0, "", nil
	case err != nil:
		return 0, "", pageFault(err)
	}
	return change, shell.ChangeWords(last, p.Env.Now()), nil
}

func (p pageStore) Report(ctx context.Context, id string) ([]byte, error) {
	settings := reports.DefaultSettings()
	if err := p.Settle(ctx, p.book, &settings, false); err != nil {
		return nil, pageFault(err)
	}
	settings.AsOf = p.asOf()
	tank, err := p.book.Tank(ctx, id)
	if err != nil {
		return nil, pageFault(err)
	}
	p.alone.Lock()
	defer p.alone.Unlock()
	report, err := photos.Page(ctx, p.Shell, p.book, tank, settings, p.notice)
	return report, pageFault(err)
}

func (p pageStore) Export(ctx context.Context, w io.Writer) error {
	tanks, err := shell.AllTanks(ctx, p.book, false)
	if err != nil {
		return pageFault(err)
	}
	return layers.Encode(w, tanks)
}

func (p pageStore) Backup(ctx context.Context, w io.Writer) error {
	return pageFault(zipBackup(ctx, p.book, w))
}
