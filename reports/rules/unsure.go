package rules

import (
	"fmt"
	"math"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// unsure counts how the draws end under each name of the layers in doubt.
type unsure []unsureLayer

type unsureLayer struct {
	drawer *infer.Drawer
	layer  int
	under  [palette.Unknown + 1]underName
}

// underName is how the draws end in which a layer has one name.
type underName struct {
	ended [reports.ActionCount]int
	mulm  float64 // mm, summed
}

func (u *underName) draws() int { return total(u.ended) }

// share is the part of the draws that ended in an action.
func (u *underName) share(a reports.Action) float64 {
	return float64(u.ended[a.Place()]) / float64(u.draws())
}

// dependsShare is by what share of the draws an action must be rarer under a second name for the
// advice to depend on the name (assumption).
const dependsShare = 0.3

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

// note counts the action that a draw ended in.
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

// depends says what depends on which of two names a layer has, the advice (weight 2) or the mulm
// (1); the weight is zero where nothing does.
func (l *unsureLayer) depends(first, second palette.Band, units layers.Units) (weight int, words string) {
	a, b := &l.under[first], &l.under[second]
	asFirst, asSecond := mostOf(a.ended), mostOf(b.ended)
	if asFirst != asSecond && a.share(asFirst)-b.share(asFirst) >= dependsShare {
		return 2, fmt.Sprintf("The advice depends on this: %s or %s.", asFirst, asSecond)
	}
	if asFirst, asSecond := a.meanMulm(), b.meanMulm(); math.Abs(asFirst-asSecond) > infer.LeastMoved {
		return 1, fmt.Sprintf("The mulm depends on this: about %s or %s.", units.Length(asFirst), units.Length(asSecond))
	}
	return 0, ""
}
