package page

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// advice is the decision in words.
type advice struct {
	Headline, Clear  string
	WaterFirst       []reason // signs and measurements that put the water first
	Later            []string // see reports.Advice
	Asked            []string // questions that only the keeper can settle
	How              string
	Shares           []share
	First            []string
	Next             layers.Date
	Again            string // Next in a sentence
	Because, Against []reason
	Others           []string
}

// share is the part of the draws that ended in an action.
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
		Headline: words.Headline(a.Action, a.WaterFirst), Clear: words.HowClear(*a), How: a.How,
		WaterFirst: reasons(words.Seen(*a)), Later: a.Later, Asked: words.Questions(t.Questions),
		First: a.First, Next: a.NextReading, Again: words.NextReading(*a, len(t.Cores) > 0), Because: reasons(words.Besides(*a)), Against: reasons(a.Against), Others: words.OtherActions(*a),
	}
	for _, action := range reports.Actions() {
		part := a.Shares.Of(action)
		v.Shares = append(v.Shares, share{words.Action(action), words.Draws(part), words.Hundred(part), action == a.Action})
	}
	return v
}

func reasons(list []reports.Reason) (out []reason) {
	for _, r := range list {
		out = append(out, reason{r.Text, words.Mark(r)})
	}
	return out
}
