package rules

import "panecore/reports"

// Veto is why a method is not to be used, a sentence each, and what helps instead.
type Veto struct{ Why, Instead []string }

// Vetoes are what forbids a method in at least half of the draws; nothing where no core has been
// read. They come from the rules that the advice asks too.
func (c *Case) Vetoes(m reports.Method) (out Veto) {
	v, disturbance := &c.verdict, disturbancesOf(m.Action())
	if v.draws == 0 {
		return Veto{}
	}
	for _, alarm := range c.alarms() {
		out.Why = append(out.Why, alarm.text)
	}
	if len(out.Why) > 0 {
		out.Instead = c.waterSteps()
	}
	for i := range rules {
		r := &rules[i]
		if r.forbids&disturbance == 0 || 2*v.held[i] < v.draws || r.rehearsed {
			continue
		}
		out.Why = append(out.Why, r.text(c))
		out.Instead = withMissing(out.Instead, r.first)
	}
	return out
}
