package rules

import (
	"panecore/reports"
	"panecore/reports/infer"
)

// verdict is how the draws of one tank ended.
type verdict struct {
	draws   int
	actions [reports.ActionCount]int // by Action.Place
	bed     [reports.ActionCount]int // the same by the bed alone, leaving out the rules of distress
	held    []int                    // draws in which each of the rules held
}

func newVerdict() verdict { return verdict{held: make([]int, len(rules))} }

// hear lets every rule judge a draw and gives the action it ended in: the first rule that decides
// settles it, unless another forbids it.
func (v *verdict) hear(t *infer.Truth) reports.Action {
	v.draws++
	settled, bed := fallback, fallback
	var forbidden, forbiddenBed disturbances
	for i := range rules[:fallback] {
		r := &rules[i]
		if !r.test(t) {
			continue
		}
		v.held[i]++
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
		v.held[fallback]++
	}
	action := unless(forbidden, rules[settled].action)
	v.actions[action.Place()]++
	v.bed[unless(forbiddenBed, rules[bed].action).Place()]++
	return action
}

// unless is the action, or Leave if it is forbidden.
func unless(forbidden disturbances, a reports.Action) reports.Action {
	if disturbancesOf(a)&forbidden != 0 {
		return reports.Leave
	}
	return a
}

// heard reports whether a rule held in enough of the draws to be mentioned.
func (v *verdict) heard(rule int) bool { return v.share(v.held[rule]) >= worthSaying }

// worthSaying is the least share of the draws in which a rule must hold to be heard (assumption).
const worthSaying = 0.05

// trouble reports whether a rule was heard that says that a limit is passed or something is wrong.
func (v *verdict) trouble() bool {
	for i := range rules {
		if rules[i].trouble && v.heard(i) {
			return true
		}
	}
	return false
}

// share is so many draws as a part of all.
func (v *verdict) share(draws int) float64 {
	return reports.Round(float64(draws)/float64(v.draws), reports.ShareDigits)
}

// clearly is the action that most draws ended in; working the bed must lead leaving it by
// workMargin.
func (v *verdict) clearly() reports.Action {
	action := mostOf(v.actions)
	if action != reports.Leave && v.share(v.actions[action.Place()]) < v.share(v.actions[reports.Leave.Place()])+workMargin {
		return reports.Leave
	}
	return action
}

// workMargin is by what share of the draws working the bed must be the better advice (assumption:
// what is left today can still be taken out next month).
const workMargin = 0.1

// mostOf is the action that most of the draws ended in.
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
