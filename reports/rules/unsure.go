package rules

import (
	"fmt"
	"math"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// unsure counts what the draws come to under each name of the layers that are in doubt.
type unsure []unsureLayer

type unsureLayer struct {
	drawer *infer.Drawer
	layer  int
	under  [palette.Unknown + 1]underName
}

// underName is what the draws come to in which a layer has one name.
type underName struct {
	ended [reports.ActionCount]int
	mulm  float64 // mm, summed
}

func (u *underName) draws() int { return total(u.ended) }

// share is how many of the draws ended in an action, as a part of all.
func (u *underName) share(a reports.Action) float64 {
	return float64(u.ended[a.Place()]) / float64(u.draws())
}

// hangsShare is how much less often the draws must end in an advice under a second name for it
// to hang on the name, as a share of them (assumption).
const hangsShare = 0.3

// meanMulm is the mean of the core's mulm, mm; meaningful where there are draws.
func (u *underName) meanMulm() float64 { return u.mulm / float64(u.draws()) }

func newUnsure(drawers []*infer.Drawer) (list unsure) {
	for _, d := range drawers {
		if d.Core.Sure {
			continue
		}
		for i, name := range d.Reading.Names {
			if d.Match.Probability(i, name) < 1-worthDoubting {
				list = append(list, unsureLayer{drawer: d, layer: i})
			}
		}
	}
	return list
}

// note notes what the draw at hand ended in.
func (u unsure) note(a reports.Action) {
	for i := range u {
		l := &u[i]
		if l.drawer.Stood == l.drawer {
			under := &l.under[l.drawer.Names[l.layer]]
			under.ended[a.Place()]++
			under.mulm += l.drawer.Drawn.Mulm
		}
	}
}

// hangs says what hangs on which of two names a layer has; the weight is zero where nothing
// does.
func (l *unsureLayer) hangs(first, second palette.Band, say layers.Units) (weight int, words string) {
	a, b := &l.under[first], &l.under[second]
	asFirst, asSecond := mostOf(a.ended), mostOf(b.ended)
	if asFirst != asSecond && a.share(asFirst)-b.share(asFirst) >= hangsShare {
		return 2, fmt.Sprintf("The advice hangs on it: %s or %s.", asFirst, asSecond)
	}
	if asFirst, asSecond := a.meanMulm(), b.meanMulm(); math.Abs(asFirst-asSecond) > infer.LeastMoved {
		return 1, fmt.Sprintf("The mulm hangs on it: about %s or %s.", say.Length(asFirst), say.Length(asSecond))
	}
	return 0, ""
}
