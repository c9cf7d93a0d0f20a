package page

import (
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// advice is the decision as the page words it.
type advice struct {
	Action, Sure, Draws string
	How                 string
	Shares              []share
	First               []string
	Next                layers.Date
	Because, Against    []reason
	Others              []string
}

// share is how many of the draws ended in an action.
type share struct {
	Action string
	Draws  string
	Of100  int
	Chosen bool
}

// reason is what a rule says, and where the rule comes from.
type reason struct{ Text, Mark string }

func newAdvice(t reports.Tank) *advice {
	a := t.Advice
	if a == nil {
		return nil
	}
	v := &advice{
		Action: words.Action(a.Action), Sure: words.Confidence(a.Confidence), Draws: words.Draws(a.Confidence), How: a.How,
		First: a.First, Next: a.NextReading, Because: reasons(a.Because), Against: reasons(a.Against), Others: words.OtherActions(*a),
	}
	for _, of := range []struct {
		action reports.Action
		part   float64
	}{{reports.Leave, a.Shares.Leave}, {reports.Stir, a.Shares.Stir}, {reports.Siphon, a.Shares.Siphon}} {
		v.Shares = append(v.Shares, share{words.Action(of.action), words.Draws(of.part), words.Hundred(of.part), of.action == a.Action})
	}
	return v
}

func reasons(list []reports.Reason) (out []reason) {
	for i, line := range words.Reasons(list) {
		out = append(out, reason{list[i].Text, strings.TrimSpace(strings.TrimPrefix(line, list[i].Text))})
	}
	return out
}
