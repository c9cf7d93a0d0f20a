package rules

import (
	"panecore/reports"
	"panecore/reports/infer"
)

// verdict is how the draws of one tank ended.
type verdict struct {
	draws   int
	actions [reports.ActionCount]int // by Action.Place
	bed     [reports.ActionCount]int // the same, as if nothing but the bed were amiss
	spoke   []int                    // draws in which each of the rules held
}

func newVerdict() verdict { return verdict{spoke: make([]int, len(rules))} }

// hear lets every rule judge a draw, and gives what it ended in; the first that decides
// settles it, but for what another forbids.
func (v *verdict) hear(t *infer.Truth) reports.Action {
	v.draws++
	settled, bed := fallback, fallback
	var forbidden, forbiddenBed disturbances
	for i := range rules[:fallback] {
		r := &rules[i]
		if !r.test(t) {
			continue
		}
		v.spoke[i]++
		forbidden |= r.forbids
		if r.decides && settled == fallback {
			settled = i
		}
		if r.distress {
			continue
		}
		forbiddenBed |= r.forbids
		if r.decides && bed == fallback {
			bed = i
		}
	}
	if settled == fallback {
		v.spoke[fallback]++
	}
	action := unless(forbidden, rules[settled].action)
	v.actions[action.Place()]++
	v.bed[unless(forbiddenBed, rules[bed].action).Place()]++
	return action
}

// unless is the action, or leaving where it is forbidden.
func unless(forbidden disturbances, a reports.Action) reports.Action {
	if disturbancesOf(a)&forbidden != 0 {
		return reports.Leave
	}
	return a
}

// heard reports whether a rule spoke in enough of the draws to be told.
func (v *verdict) heard(rule int) bool { return v.share(v.spoke[rule]) >= worthSaying }

// worthSaying is the least share of the draws in which a rule must speak to be heard.
const worthSaying = 0.05

// amiss reports whether a rule is told that says a limit is passed or something is amiss.
func (v *verdict) amiss() bool {
	for i := range rules {
		if rules[i].passed && v.heard(i) {
			return true
		}
	}
	return false
}

// share is a number of draws as a part of all.
func (v *verdict) share(draws int) float64 {
	return reports.Round(float64(draws)/float64(v.draws), reports.ShareDigits)
}

// clearly is what the most draws ended in; a hand in the bed only where they are more by
// handMargin than those that end without.
func (v *verdict) clearly() reports.Action {
	action := mostOf(v.actions)
	if action != reports.Leave && v.share(v.actions[action.Place()]) < v.share(v.actions[reports.Leave.Place()])+handMargin {
		return reports.Leave
	}
	return action
}

// handMargin is by how much of the draws a hand must be the better advice (assumption: what is
// left can still be taken next month).
const handMargin = 0.1

// mostOf is what most of the draws ended in.
func mostOf(ended [reports.ActionCount]int) reports.Action {
	best := 0
	for i, n := range ended {
		if n > ended[best] {
			best = i
		}
	}
	return reports.Actions()[best]
}

func total(ended [reports.ActionCount]int) (n int) {
	for _, k := range ended {
		n += k
	}
	return n
}
