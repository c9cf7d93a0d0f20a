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

// Actions lists what the advice may come to, the gentlest first.
func Actions() []Action { return slices.Clone(actionOrder[:]) }

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
	best := 0
	for i, n := range v.actions {
		if n > v.actions[best] {
			best = i
		}
	}
	action := actionOrder[best]
	a := &Advice{
		Action:     action,
		Confidence: v.share(v.actions[best]),
		Shares:     Shares{Leave: v.share(v.actions[0]), Stir: v.share(v.actions[1]), Siphon: v.share(v.actions[2])},
		How:        o.how(action),
		First:      []string{},
		Because:    append(o.reasons(v, action, true, true), o.reasons(v, action, true, false)...),
		Against:    append(o.reasons(v, action, false, true), o.reasons(v, action, false, false)...),
		Cautions:   cautions(action, o.decay()),
	}
	wait := usualWait
	for i, heard := range v.spoke {
		r := &rules[i]
		if 2*heard < v.draws {
			continue
		}
		for _, measure := range r.first {
			if !slices.Contains(a.First, measure) {
				a.First = append(a.First, measure)
			}
		}
		if r.next != 0 && (r.vetoes || r.action == action) {
			wait = min(wait, r.next)
		}
	}
	a.NextReading = o.asOf + layers.Date(wait)
	return a
}

// share is a number of draws as a part of all.
func (v *verdict) share(draws int) float64 {
	return round(float64(draws)/float64(v.draws), shareDigits)
}

// reasons are the rules that were heard for an action or against it, those that decide
// apart from those that only support, the ones of most draws first.
func (o *outlook) reasons(v *verdict, action Action, speaksFor, decides bool) []Reason {
	reasons := []Reason{}
	for i, heard := range v.spoke {
		r := &rules[i]
		if share := v.share(heard); share >= worthSaying && (r.action == action) == speaksFor && r.decides == decides {
			reasons = append(reasons, Reason{Rule: r.name, Text: r.text(o), Share: share, Mark: r.mark})
		}
	}
	slices.SortStableFunc(reasons, func(a, b Reason) int { return cmp.Compare(b.Share, a.Share) })
	return reasons
}

// leastShare is the least share of the floor that is worth a hand in the tank (assumption).
const leastShare = 0.05

// how says in one sentence what the action means here.
func (o *outlook) how(action Action) string {
	usual := o.limits[layers.LimitSiphonShare].value
	switch action {
	case Siphon:
		const siphon = "iphon the top mulm only, from at most %.0f %% of the floor at a time, two to four weeks apart."
		switch share := min(usual, o.safe.siphon); {
		case share >= leastShare:
			return fmt.Sprintf("S"+siphon, 100*share)
		case o.safe.siphonAerated >= leastShare:
			return fmt.Sprintf("Set an air stone going first, since as the water stands hardly any share of the floor stays within the limits; then s"+siphon, 100*min(usual, o.safe.siphonAerated))
		}
		return "Siphon the top mulm only, but not yet: hardly any share of the floor stays within the limits, not even with an air stone. See to the water first, then rehearse it."
	case Stir:
		depth := o.say.Length(o.limits[layers.LimitStirDepth].value)
		if share := min(usual, o.safe.stir); share >= leastShare {
			return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time.", depth, 100*share)
		}
		return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time and with an air stone running: as the water stands, even that is not surely within the limits.", depth, 100*leastShare)
	}
	return "Leave the bed as it is."
}
