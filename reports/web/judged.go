package web

import (
	"context"
	"errors"
	"iter"
	"maps"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/web/site"
)

// mostJudged is of how many tanks the findings are kept (assumption: more than a keeper has; of
// each some 10 KB).
const mostJudged = 2000

// judged keeps the findings of tanks for the overview: a tank that has not changed since is judged
// the same on the same day. Several callers may use it at once; what it hands out is not to be
// changed.
type judged struct {
	turn chan struct{} // held by the caller who judges, so that no tank is judged twice at once
	asOf layers.Date
	kept map[string]judgedTank
}

// judgedTank is what was found of a tank at one revision.
type judgedTank struct {
	revision int64
	found    reports.Tank
}

func newJudged() *judged {
	return &judged{turn: make(chan struct{}, 1), kept: map[string]judgedTank{}}
}

// findings are those of every tank, by id, as of the day that the settings say.
func (j *judged) findings(ctx context.Context, store site.Store, settings reports.Settings, revisions map[string]int64) (found reports.Findings, err error) {
	select {
	case j.turn <- struct{}{}:
		defer func() { <-j.turn }()
	case <-ctx.Done():
		return found, ctx.Err()
	}
	if j.asOf != settings.AsOf {
		clear(j.kept)
		j.asOf = settings.AsOf
	}
	maps.DeleteFunc(j.kept, func(id string, k judgedTank) bool { return k.revision != revisions[id] })
	fresh := map[string]reports.Tank{}
	changed, failed := j.changed(ctx, store, revisions)
	for _, tank := range judge.Interpret(changed, settings).Tanks {
		fresh[tank.ID] = tank
		if len(j.kept) < mostJudged {
			j.kept[tank.ID] = judgedTank{revisions[tank.ID], tank}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(revisions)) {
		if k, ok := j.kept[id]; ok {
			found.Tanks = append(found.Tanks, k.found)
		} else if tank, ok := fresh[id]; ok {
			found.Tanks = append(found.Tanks, tank)
		}
	}
	return found, failed()
}

// fewChanged is the share of the tanks up to which each is read by itself: one takes several times
// as long so as among all.
const fewChanged = 0.2

// changed are the tanks whose findings are not kept, and, after the last of them, the error that
// ended them.
func (j *judged) changed(ctx context.Context, store site.Store, revisions map[string]int64) (tanks iter.Seq[layers.Tank], failed func() error) {
	var ids []string
	for id := range revisions {
		if _, ok := j.kept[id]; !ok {
			ids = append(ids, id)
		}
	}
	var err error
	failed = func() error { return err }
	if float64(len(ids)) > fewChanged*float64(len(revisions)) {
		var all []layers.Tank
		all, err = store.Tanks(ctx)
		return func(yield func(layers.Tank) bool) {
			for _, tank := range all {
				if stopped := ctx.Err(); stopped != nil { // nobody is waiting
					err = stopped
					return
				}
				if slices.Contains(ids, tank.ID) && !yield(tank) {
					return
				}
			}
		}, failed
	}
	return func(yield func(layers.Tank) bool) {
		for _, id := range ids {
			var tank layers.Tank
			switch tank, err = store.Tank(ctx, id); {
			case errors.Is(err, site.ErrMissing): // taken back meanwhile
				err = nil
			case err != nil || !yield(tank):
				return
			}
		}
	}, failed
}

// Warm judges every tank, so that the first caller of the overview need not wait for it. What is
// wrong with the logbook that caller is told.
func (p *Page) Warm(ctx context.Context) {
	if r, err := http.NewRequestWithContext(ctx, http.MethodGet, "/", nil); err == nil {
		p.server.findings(r)
	}
}

// findings are those of every tank, and the settings that they were made by.
func (s *server) findings(r *http.Request) (found reports.Findings, settings reports.Settings, err error) {
	revisions, err := s.Store.Revisions(r.Context()) // before all that they are of, which then is not older
	if err != nil {
		return found, settings, err
	}
	if settings, err = s.Settings(r); err != nil {
		return found, settings, err
	}
	found, err = s.judged.findings(r.Context(), s.Store, settings, revisions)
	return found, settings, err
}
