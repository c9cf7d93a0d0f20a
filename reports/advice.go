package reports

import (
	"cmp"
	"fmt"
	"slices"

	"panecore/layers"
)

// verdict is how the draws of one tank ended.
type verdict struct {
	draws   int
	actions [3]int          // by actionOrder
	spoke   [len(rules)]int // draws in which each rule held
}

var actionOrder = [...]Action{Leave, Stir, Siphon}

// hear lets every rule judge a draw; the first that decides settles it.
func (v *verdict) hear(s *scene) {
	v.draws++
	settled, vetoed := fallback, false
	for i := range rules[:fallback] {
		r := &rules[i]
		if !r.test(s) {
			continue
		}
		v.spoke[i]++
		vetoed = vetoed || r.vetoes
		if r.decides && settled == fallback {
			settled = i
		}
	}
	action := rules[settled].action
	switch {
	case settled == fallback:
		v.spoke[fallback]++
	case action == Stir && vetoed:
		action = Leave
	}
	v.actions[slices.Index(actionOrder[:], action)]++
}

// worthSaying is the least share of the draws in which a rule must speak to be heard.
const worthSaying = 0.05

// usualWait is when to read again if nothing says otherwise, days (common practice: monthly).
const usualWait = 30

// advice turns the draws into the decision and its reasons.
func (o *outlook) advice(v *verdict) *Advice {
	share := func(n int) float64 { return round(float64(n)/float64(v.draws), shareDigits) }
	best := 0
	for i, n := range v.actions {
		if n > v.actions[best] {
			best = i
		}
	}
	a := &Advice{
		Action:     actionOrder[best],
		Confidence: share(v.actions[best]),
		Shares:     Shares{Leave: share(v.actions[0]), Stir: share(v.actions[1]), Siphon: share(v.actions[2])},
		First:      []string{},
		Because:    []Reason{},
		Against:    []Reason{},
	}
	wait := usualWait
	for i, heard := range v.spoke {
		r := &rules[i]
		if share(heard) < worthSaying {
			continue
		}
		reason := Reason{Rule: r.name, Text: r.text(o), Share: share(heard), Mark: r.mark}
		if r.action == a.Action {
			a.Because = append(a.Because, reason)
		} else {
			a.Against = append(a.Against, reason)
		}
		if 2*heard < v.draws {
			continue
		}
		for _, measure := range r.first {
			if !slices.Contains(a.First, measure) {
				a.First = append(a.First, measure)
			}
		}
		if r.next != 0 && (r.vetoes || r.action == a.Action) {
			wait = min(wait, r.next)
		}
	}
	slices.SortStableFunc(a.Because, byWeight)
	slices.SortStableFunc(a.Against, byWeight)
	a.How = o.how(a.Action)
	a.Cautions = cautions(a.Action, o.decay())
	a.NextReading = o.asOf + layers.Date(wait)
	return a
}

// byWeight puts the reasons that spoke in most draws first; among equals the rule
// that holds where no other decides.
func byWeight(a, b Reason) int {
	if order := cmp.Compare(b.Share, a.Share); order != 0 {
		return order
	}
	switch rules[fallback].name {
	case a.Rule:
		return -1
	case b.Rule:
		return 1
	}
	return 0
}

// how says in one sentence what the action means here.
func (o *outlook) how(action Action) string {
	switch action {
	case Siphon:
		return fmt.Sprintf("Siphon the top mulm only, from at most %.0f %% of the floor at a time, two to four weeks apart.", 100*o.limits[layers.LimitSiphonShare].value)
	case Stir:
		return fmt.Sprintf("Stir the top %s of the unrooted bed, a part of it at a time.", o.say.Length(o.limits[layers.LimitStirDepth].value))
	}
	return "Leave the bed as it is."
}
