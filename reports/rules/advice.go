package rules

import (
	"cmp"
	"fmt"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// advice turns the draws into the decision and its reasons; f is when the mulm reaches its limit,
// nil: not known.
func (c *Case) advice(f *reports.Forecast) *reports.Advice {
	v := &c.verdict
	action := v.clearly()
	watch := c.watchSigns()
	c.trouble = v.trouble() || len(watch) > 0 || len(c.doubts()) > 0
	a := &reports.Advice{
		Action:     action,
		Confidence: v.share(v.actions[action.Place()]),
		Shares:     reports.Shares{Leave: v.share(v.actions[0]), Stir: v.share(v.actions[1]), Siphon: v.share(v.actions[2])},
		How:        c.how(action),
		WaterFirst: []string{},
		Later:      []string{},
		First:      []string{},
		Because:    c.because(action),
		Against:    append(c.reasons(action, false, true), c.reasons(action, false, false)...),
		Cautions:   c.Cautions(action),
	}
	a.Clarity, a.LimitedBy = c.clarity(a.Confidence)
	wait := infer.UsualWait
	for i, heard := range v.held {
		r := &rules[i]
		if 2*heard < v.draws {
			continue
		}
		a.First = withMissing(a.First, r.first)
		if r.next != 0 && (r.forbids != 0 || r.action == action) {
			wait = min(wait, r.next)
		}
	}
	for _, sign := range watch {
		a.First = withMissing(a.First, sign.first)
		a.Because = append(a.Because, reports.Reason{Rule: sign.name, Text: sign.text, Share: 1, Mark: sign.mark})
		wait = min(wait, watchWait)
	}
	wait = min(wait, c.runawayWait())
	if (a.Clarity == reports.Unclear || a.Clarity == reports.Divided) && wait > unclearWait {
		wait = unclearWait
	}
	a.WaitDays, a.NextReading = wait, c.nextReading(wait, f)
	if len(c.alarms()) == 0 {
		return a
	}
	urgent := c.urgent()
	urgent.Clarity, urgent.LimitedBy = a.Clarity, a.LimitedBy
	urgent.Later = c.later()
	urgent.Because = append(urgent.Because, slices.DeleteFunc(c.reasons(reports.Leave, true, false), func(r reports.Reason) bool { return !forbids(r) })...)
	return urgent
}

// nextReading is when to read again after so many days: counted from the newest core, or from later
// work on the bed, which has to settle first; not after the mulm has reached its limit, and not
// before the day of judgement.
func (c *Case) nextReading(wait int, f *reports.Forecast) layers.Date {
	from := c.LastRead()
	if c.Worked != nil {
		from = c.Worked.Date
	}
	next := from + layers.Date(wait)
	if f != nil && f.Expected != nil && *f.Expected > c.LastRead() {
		next = min(next, *f.Expected)
	}
	return max(c.AsOf, next)
}

// withMissing is a list with those of the measures added that it lacks.
func withMissing(list, measures []string) []string {
	for _, measure := range measures {
		if !slices.Contains(list, measure) {
			list = append(list, measure)
		}
	}
	return list
}

// because are the reasons for an action: first those that settle at least half of the draws, then
// those that only support it, and last those that settle fewer.
func (c *Case) because(action reports.Action) []reports.Reason {
	few := func(r reports.Reason) bool { return r.Share < 0.5 }
	settling := c.reasons(action, true, true)
	list := slices.DeleteFunc(slices.Clone(settling), few)
	list = append(list, c.reasons(action, true, false)...)
	return append(list, slices.DeleteFunc(settling, func(r reports.Reason) bool { return !few(r) })...)
}

// forbids reports whether the rule behind a reason forbids work on the bed.
func forbids(reason reports.Reason) bool {
	return slices.ContainsFunc(rules[:], func(r rule) bool { return r.name == reason.Rule && r.forbids != 0 })
}

// reasons are the rules heard for an action or against it, either those that decide or those that
// only support, the ones that held in most draws first.
func (c *Case) reasons(action reports.Action, speaksFor, decides bool) []reports.Reason {
	v := &c.verdict
	reasons := []reports.Reason{}
	for i, heard := range v.held {
		r := &rules[i]
		if v.heard(i) && (r.action == action) == speaksFor && r.decides == decides {
			reasons = append(reasons, reports.Reason{Rule: r.name, Text: r.text(c), Share: v.share(heard), Mark: r.mark})
		}
	}
	slices.SortStableFunc(reasons, func(a, b reports.Reason) int { return cmp.Compare(b.Share, a.Share) })
	return reasons
}

// how says what the action means in this tank.
func (c *Case) how(action reports.Action) string {
	usual := c.Limit(layers.LimitSiphonShare)
	switch action {
	case reports.Siphon:
		const siphon = "iphon the top mulm only, from at most %.0f %% of the floor at a time, two to four weeks apart."
		switch {
		case c.Safe.Siphon >= infer.LeastShare:
			return fmt.Sprintf("S"+siphon, 100*min(usual, c.Safe.Siphon))
		case c.Safe.SiphonAerated >= infer.LeastShare:
			return fmt.Sprintf("Start an air stone first: with the water as it is, hardly any share of the floor stays within the limits. Then s"+siphon, 100*min(usual, c.Safe.SiphonAerated))
		}
		return "Siphon the top mulm only, but not yet: hardly any share of the floor stays within the limits, not even with an air stone. See to the water first, then rehearse it."
	case reports.Stir:
		depth := c.Units.Length(c.Limit(layers.LimitStirDepth))
		if c.Safe.Stir >= infer.LeastShare {
			return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time.", depth, 100*min(usual, c.Safe.Stir))
		}
		return fmt.Sprintf("Stir the top %s of the unrooted bed, at most %.0f %% of the floor at a time and with an air stone running. Without one, even that may pass the limits.", depth, 100*min(usual, infer.LeastShare))
	}
	return "Leave the bed as it is."
}
