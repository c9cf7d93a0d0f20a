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
	bed     [3]int          // the same, as if nothing but the bed were amiss
	spoke   [len(rules)]int // draws in which each rule held
}

var actionOrder = [...]Action{Leave, Stir, Siphon}

// Actions lists what the advice may come to, the gentlest first.
func Actions() []Action { return slices.Clone(actionOrder[:]) }

// hear lets every rule judge a draw, and gives what it ended in; the first that decides
// settles it, but for what another forbids.
func (v *verdict) hear(s *scene) Action {
	v.draws++
	settled, bed := fallback, fallback
	var forbidden, forbiddenBed hands
	for i := range rules[:fallback] {
		r := &rules[i]
		if !r.test(s) {
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
	action := rules[settled].action.unless(forbidden)
	v.actions[placeOf(action)]++
	v.bed[placeOf(rules[bed].action.unless(forbiddenBed))]++
	return action
}

// unless is the action, or leaving where it is forbidden.
func (a Action) unless(forbidden hands) Action {
	if handsOf(a)&forbidden != 0 {
		return Leave
	}
	return a
}

// placeOf is an action's place in actionOrder.
func placeOf(a Action) int { return slices.Index(actionOrder[:], a) }

// heard reports whether a rule spoke in enough of the draws to be told.
func (v *verdict) heard(rule int) bool { return v.share(v.spoke[rule]) >= worthSaying }

// amiss reports whether a rule is told that says a limit is passed or something is amiss.
func (v *verdict) amiss() bool {
	for i := range rules {
		if rules[i].passed && v.heard(i) {
			return true
		}
	}
	return false
}

// vetoed is why a method is not to be used, a sentence each, and what helps instead.
type vetoed struct{ why, instead []string }

// vetoes are what forbids a hand in the bed in at least half of the draws. A rehearsal and the
// advice ask the same list.
func (o *outlook) vetoes(v *verdict, hand hands) (out vetoed) {
	for _, alarm := range o.alarms() {
		out.why = append(out.why, alarm.text)
	}
	if len(out.why) > 0 {
		out.instead = o.waterSteps()
	}
	for i := range rules {
		r := &rules[i]
		if r.forbids&hand == 0 || 2*v.spoke[i] < v.draws || r.rehearsed {
			continue
		}
		out.why = append(out.why, r.text(o))
		for _, measure := range r.first {
			if !slices.Contains(out.instead, measure) {
				out.instead = append(out.instead, measure)
			}
		}
	}
	return out
}

// worthSaying is the least share of the draws in which a rule must speak to be heard.
const worthSaying = 0.05

// usualWait is when to read again if nothing says otherwise, days (common practice: monthly).
const usualWait = 30

// clearly is what the most draws ended in; a hand in the bed only where they are more by
// handMargin than those that end without.
func (v *verdict) clearly() Action {
	action := mostOf(v.actions)
	if action != Leave && v.share(v.actions[placeOf(action)]) < v.share(v.actions[placeOf(Leave)])+handMargin {
		return Leave
	}
	return action
}

// handMargin is by how much of the draws a hand must be the better advice (assumption: what is
// left can still be taken next month).
const handMargin = 0.1

// advice turns the draws into the decision and its reasons; f is when the mulm reaches its
// limit, nil where that is not known.
func (o *outlook) advice(v *verdict, f *Forecast) *Advice {
	action := v.clearly()
	watch := o.watchSigns()
	o.amiss = v.amiss() || len(watch) > 0
	a := &Advice{
		Action:     action,
		Confidence: v.share(v.actions[placeOf(action)]),
		Shares:     Shares{Leave: v.share(v.actions[0]), Stir: v.share(v.actions[1]), Siphon: v.share(v.actions[2])},
		How:        o.how(action),
		WaterFirst: []string{},
		Later:      []string{},
		First:      []string{},
		Because:    o.because(v, action),
		Against:    append(o.reasons(v, action, false, true), o.reasons(v, action, false, false)...),
		Cautions:   o.cautions(action),
	}
	a.Clarity, a.LimitedBy = o.clarity(a.Confidence)
	wait := usualWait
	for i, heard := range v.spoke {
		r := &rules[i]
		if 2*heard < v.draws {
			continue
		}
		a.first(r.first)
		if r.next != 0 && (r.forbids != 0 || r.action == action) {
			wait = min(wait, r.next)
		}
	}
	for _, sign := range watch {
		a.first(sign.first)
		a.Because = append(a.Because, Reason{Rule: sign.name, Text: sign.text, Share: 1, Mark: sign.mark})
		wait = min(wait, watchWait)
	}
	if (a.Clarity == Unclear || a.Clarity == Divided) && wait > unclearWait {
		wait = unclearWait
	}
	a.WaitDays, a.NextReading = wait, o.nextReading(wait, f)
	if len(o.alarms()) == 0 {
		return a
	}
	urgent := o.urgent()
	urgent.Clarity, urgent.LimitedBy = a.Clarity, a.LimitedBy
	urgent.Later = o.later(v)
	urgent.Because = append(urgent.Because, slices.DeleteFunc(o.reasons(v, Leave, true, false), func(r Reason) bool { return !forbidding(r) })...)
	return urgent
}

// nextReading is when to read again after so many days: from the newest core, or from what was
// done since, which stirred things up that settle first; not after the mulm has reached its
// limit, and not before the day of judgement.
func (o *outlook) nextReading(wait int, f *Forecast) layers.Date {
	from := o.lastRead()
	if o.worked != nil {
		from = o.worked.Date
	}
	next := from + layers.Date(wait)
	if f != nil && f.Expected != nil && *f.Expected > o.lastRead() {
		next = min(next, *f.Expected)
	}
	return max(o.asOf, next)
}

// first adds measures that are not told yet.
func (a *Advice) first(measures []string) {
	for _, measure := range measures {
		if !slices.Contains(a.First, measure) {
			a.First = append(a.First, measure)
		}
	}
}

// share is a number of draws as a part of all.
func (v *verdict) share(draws int) float64 {
	return round(float64(draws)/float64(v.draws), shareDigits)
}

// because are the reasons for an action: those that settle most of the draws, then what else
// speaks for it, and last what settles few.
func (o *outlook) because(v *verdict, action Action) []Reason {
	few := func(r Reason) bool { return r.Share < 0.5 }
	settling := o.reasons(v, action, true, true)
	list := slices.DeleteFunc(slices.Clone(settling), few)
	list = append(list, o.reasons(v, action, true, false)...)
	return append(list, slices.DeleteFunc(settling, func(r Reason) bool { return !few(r) })...)
}

// forbidding reports whether the rule behind a reason forbids a hand.
func forbidding(reason Reason) bool {
	return slices.ContainsFunc(rules[:], func(r rule) bool { return r.name == reason.Rule && r.forbids != 0 })
}

// reasons are the rules that were heard for an action or against it, those that decide
// apart from those that only support, the ones of most draws first.
func (o *outlook) reasons(v *verdict, action Action, speaksFor, decides bool) []Reason {
	reasons := []Reason{}
	for i, heard := range v.spoke {
		r := &rules[i]
		if v.heard(i) && (r.action == action) == speaksFor && r.decides == decides {
			reasons = append(reasons, Reason{Rule: r.name, Text: r.text(o), Share: v.share(heard), Mark: r.mark})
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
		switch {
		case o.safe.siphon >= leastShare:
			return fmt.Sprintf("S"+siphon, 100*min(usual, o.safe.siphon))
		case o.safe.siphonAerated >= leastShare:
			return fmt.Sprintf("Set an air stone going first, since as the water stands hardly any share of the floor stays within the limits; then s"+siphon, 100*min(usual, o.safe.siphonAerated))
		}
		return "Siphon the top mulm only, but not yet: hardly any share of the floor stays within the limits, not even with an air stone. See to the water first, then rehearse it."
	case Stir:
		depth := o.say.Length(o.limits[layers.LimitStirDepth].value)
		if o.safe.stir >= leastShare {
			return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time.", depth, 100*min(usual, o.safe.stir))
		}
		return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time and with an air stone running. Without one even that may pass the limits.", depth, 100*min(usual, leastShare))
	}
	return "Leave the bed as it is."
}
