package infer

import (
	"math"
	"slices"
	"strconv"

	"panecore/palette"
)

// A sort is layers that look alike and lie at the same place down the core, in any of a tank's
// readings.
type sort struct {
	place, count int
	l, a, b      float64 // CIELAB, summed
	votes        [palette.Unknown + 1]int
	other        palette.Band // in the way to name the record that is tried; NoBand: as settled
}

// What counts as alike (assumptions): typed colours of one layer stray by some 2 CIELAB, and bands are
// mostly further apart than alikeColor.
const (
	alikeColor  = 8.0 // CIELAB (1976)
	leastOfSort = 3   // layers
	labelVotes  = 3   // of a layer that the keeper has named
)

// settle names the layers of all readings once more, for the trends: a layer that looks as others at
// its place do in other readings has the name that most of these have. By itself it may be named
// otherwise from one month to the next, and mulm would seem to come and go.
func (o *Outlook) settle() {
	for _, r := range o.Readings {
		r.sorts = make([]*sort, len(r.Names))
		place := -1
		for i, name := range r.Names {
			if name.IsOverlay() {
				continue
			}
			place++
			lab := r.column.Layers[i].Lab
			s := nearest(o.sorts, place, lab)
			switch {
			case s != nil:
			case len(o.sorts) == mostSorts:
				continue
			default:
				s = &sort{place: place}
				o.sorts = append(o.sorts, s)
			}
			votes := 1
			if r.Core.Layers[i].Band != palette.NoBand {
				votes = labelVotes
			}
			s.count, s.l, s.a, s.b = s.count+1, s.l+lab.L, s.a+lab.A, s.b+lab.B
			s.votes[name] += votes
			r.sorts[i] = s
		}
	}
	o.mergeSorts()
	for _, r := range o.Readings {
		r.settledNames, r.Settled = r.Names, r.Named
		r.settledNames = r.named((*sort).settled)
		if &r.settledNames[0] != &r.Names[0] {
			r.Settled = newProfile(r.Edges, r.settledNames, 0.5)
		}
	}
}

// mergeSorts puts sorts together that turned out alike, into the larger.
func (o *Outlook) mergeSorts() {
	into := map[*sort]*sort{}
	slices.SortStableFunc(o.sorts, func(a, b *sort) int { return b.count - a.count })
	kept := o.sorts[:0]
	for _, s := range o.sorts {
		n := float64(s.count)
		if t := nearest(kept, s.place, palette.Lab{L: s.l / n, A: s.a / n, B: s.b / n}); t != nil {
			into[s] = t
			for band, votes := range s.votes {
				t.votes[band] += votes
			}
			continue
		}
		kept = append(kept, s)
	}
	o.sorts = kept
	for _, r := range o.Readings {
		for i, s := range r.sorts {
			if t := into[s]; t != nil {
				r.sorts[i] = t
			}
		}
	}
}

// named are a reading's settled names with those changed that the keeper has not given and that their
// sorts have otherwise; the same list if none.
func (r *Reading) named(by func(*sort) palette.Band) []palette.Band {
	names := r.settledNames
	changed := false
	for i, s := range r.sorts {
		if s == nil || r.Core.Layers[i].Band != palette.NoBand {
			continue
		}
		if name := by(s); name != palette.NoBand && name != names[i] {
			if !changed {
				names, changed = slices.Clone(names), true
			}
			names[i] = name
		}
	}
	return names
}

// mostSorts is how many sorts are told apart; layers beyond them keep their own names (assumption: a
// tank has a dozen, and slips a few more).
const mostSorts = 64

// nearest is the sort of a place that a colour belongs to; nil: none.
func nearest(sorts []*sort, place int, lab palette.Lab) (best *sort) {
	least := alikeColor
	for _, s := range sorts {
		n := float64(s.count)
		d := math.Hypot(math.Hypot(s.l/n-lab.L, s.a/n-lab.A), s.b/n-lab.B)
		if s.place == place && d < least {
			best, least = s, d
		}
	}
	return best
}

// settled is the name that most of the sort have; NoBand: they are too few.
func (s *sort) settled() palette.Band {
	best := palette.NoBand
	for band, votes := range s.votes {
		if votes > s.votes[best] {
			best = palette.Band(band)
		}
	}
	if s.count < leastOfSort {
		return palette.NoBand
	}
	return best
}

// nameDraws is how many ways to name a record are tried if its names are in doubt (assumption:
// enough to see a second name with a probability of one in ten two times in three).
const nameDraws = 12

// doubtNames works out what other names of the layers would make of the rates: each way is drawn for
// the newest readings and holds for all layers of the same sorts.
func (o *Outlook) doubtNames(courses []*course, seed uint64) {
	if o.mulm.rate == nil && o.front.rate == nil {
		return
	}
	for n := range nameDraws {
		rng := newDice(seed, o.Tank.ID, "names", strconv.Itoa(n))
		if !o.rename(rng) {
			continue
		}
		for _, r := range o.Readings {
			r.other = r.Settled
			if names := r.named(func(s *sort) palette.Band { return s.other }); &names[0] != &r.settledNames[0] {
				r.other = newProfile(r.Edges, names, 0.5)
			}
		}
		for _, c := range courses {
			if c.names == nil {
				c.names = make([]float64, nameDraws)
			}
			c.names[n] = c.renamed(o)
		}
	}
}

// rename draws names for the newest readings' sorts and reports whether any is not as settled.
func (o *Outlook) rename(rng *dice) (changed bool) {
	for _, s := range o.sorts {
		s.other = palette.NoBand
	}
	for _, r := range o.Newest {
		names := make([]palette.Band, len(r.Names))
		r.Match.Sample(rng.Rand, names)
		for i, s := range r.sorts {
			if s != nil && s.other == palette.NoBand {
				s.other = names[i]
				changed = changed || names[i] != r.settledNames[i]
			}
		}
	}
	return changed
}
