package figure

import (
	"strings"

	"panecore/reports"
	"panecore/reports/words"
)

// second says when the tank was read and what the numbers rest on.
func (p *rehearsalPicture) second() string {
	var list []*reports.Estimate
	for _, n := range p.r.Numbers {
		list = append(list, n.After)
	}
	return readWords(p.r.AsOf, list) + ". Dot: median; bar: 90 % range; arrowhead: beyond the gauge."
}

// numberWords describe a number in one line.
func (p *rehearsalPicture) numberWords(n reports.Rehearsed) string {
	text := n.Name + ": " + orNotKnown(n.After, words.Rehearsed(n))
	if n.Limit != nil {
		for _, line := range p.rightOf(n) {
			text += ", " + line.Text
		}
	}
	return text
}

// shareWords describe a largest share in one line.
func (p *rehearsalPicture) shareWords(l reports.LargestShare) string {
	return p.shareName(l) + ": " + words.AtMost(l.Share) + " as it is, " + words.AtMost(l.Aerated) + " with an air stone"
}

// description is the picture in words.
func (p *rehearsalPicture) description() string {
	parts := []string{words.RehearsalVerdict(p.r, p.units), "Afterwards:"}
	for _, n := range p.r.Numbers {
		parts = append(parts, p.numberWords(n)+";")
	}
	parts = append(parts, strings.ToLower(words.LargestShares)+":")
	for _, l := range p.r.Largest {
		parts = append(parts, p.shareWords(l)+";")
	}
	return strings.TrimSuffix(strings.Join(parts, " "), ";") + "."
}
