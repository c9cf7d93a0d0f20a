package serve

import (
	"context"
	"errors"
	"sync"

	"panecore/cmd/internal/photos"
	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
)

// How many pictures made from photos stay in memory (assumptions: what a page or two shows; with the largest
// sizes together 30 MB).
const (
	mostDrawn   = 16
	mostStrips  = 400
	mostChanges = 16
)

// galleries are the pictures made from photos that were shown lately.
type galleries struct {
	drawn, strips gallery[[]byte]
	changes       gallery[reports.Change]
}

func newGalleries() *galleries {
	return &galleries{gallery[[]byte]{most: mostDrawn}, gallery[[]byte]{most: mostStrips}, gallery[reports.Change]{most: mostChanges}}
}

// gallery holds the latest things that were made, each by a key that tells all that it depends on.
type gallery[T any] struct {
	most int
	mu   sync.Mutex
	made map[string]T
	keys []string // the oldest first
}

func (g *gallery[T]) find(key string) (T, bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	one, found := g.made[key]
	return one, found
}

func (g *gallery[T]) keep(key string, one T) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.made == nil {
		g.made = map[string]T{}
	}
	if _, found := g.made[key]; !found {
		g.keys = append(g.keys, key)
	}
	if g.made[key] = one; len(g.keys) > g.most {
		delete(g.made, g.keys[0])
		g.keys = g.keys[1:]
	}
}

// shown is what a gallery holds of a tank's cores, made anew where it does not: one photo at a time.
func shown[T any](ctx context.Context, p pageStore, g *gallery[T], tank layers.Tank, make func(*photos.Album) (T, error), cores ...layers.Core) (one T, err error) {
	album, err := p.album(ctx, tank)
	if err != nil {
		return one, pageFault(err)
	}
	key := ""
	for _, core := range cores {
		mark, err := album.Mark(core)
		if err != nil {
			return one, err
		}
		key += mark
	}
	if one, found := g.find(key); found {
		return one, nil
	}
	p.alone.Lock()
	defer p.alone.Unlock()
	if err := ctx.Err(); err != nil {
		return one, err
	}
	one, err = make(album)
	var unreadable *shell.UnreadableError
	switch {
	case errors.As(err, &unreadable):
		return one, site.WithKind(site.ErrInput, err)
	case err != nil:
		return one, pageFault(err)
	}
	g.keep(key, one)
	return one, nil
}

func (p pageStore) album(ctx context.Context, tank layers.Tank) (*photos.Album, error) {
	own, err := p.Own(ctx)
	if err != nil {
		return nil, err
	}
	return photos.OpenAlbum(ctx, p.book, tank, own(tank.ID))
}

func (p pageStore) Strips(ctx context.Context, tank layers.Tank) ([]reports.Strip, error) {
	album, err := p.album(ctx, tank)
	if err != nil {
		return nil, pageFault(err)
	}
	return album.Strips(), nil
}

func (p pageStore) PhotoFile(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	kept, found, err := p.book.PhotoOf(ctx, tank.ID, core.Station, core.Date)
	if err == nil && !found {
		err = photos.NoPhoto(core)
	}
	if err != nil {
		return nil, pageFault(err)
	}
	content, err := photos.KeptFile(ctx, p.book, kept)
	return content, pageFault(err)
}

func (p pageStore) Drawn(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	return shown(ctx, p, &p.galleries.drawn, tank, func(a *photos.Album) ([]byte, error) { return a.Drawn(ctx, core, p.Units) }, core)
}

func (p pageStore) Strip(ctx context.Context, tank layers.Tank, core layers.Core) ([]byte, error) {
	return shown(ctx, p, &p.galleries.strips, tank, func(a *photos.Album) ([]byte, error) { return a.Strip(ctx, core) }, core)
}

func (p pageStore) Change(ctx context.Context, tank layers.Tank, before, after layers.Core) (reports.Change, error) {
	return shown(ctx, p, &p.galleries.changes, tank, func(a *photos.Album) (reports.Change, error) { return a.Change(ctx, before, after) }, before, after)
}
