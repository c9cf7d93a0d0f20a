package figure

import (
	"strings"

	"panecore/reports"
	"panecore/reports/words"
)

// second says when the tank was read and what the numbers stand on.
func (p *rehearsalPicture) second() string {
	text := "Read " + p.r.AsOf.String()
	for _, n := range p.r.Numbers {
		if n.After != nil {
			if basis := words.Basis(*n.After); basis != "" {
				text += ", " + basis
			}
			break
		}
	}
	return text + ". Dot: median; bar: 90 % range; arrowhead: further than drawn."
}

// numberWords tell a number in one line.
func (p *rehearsalPicture) numberWords(n reports.Rehearsed) string {
	text := n.Name + ": " + orNotKnown(n.After, words.Rehearsed(n))
	if n.Limit != nil {
		for _, line := range p.rightOf(n) {
			text += ", " + line.Text
		}
	}
	return text
}

// told is the picture in words.
func (p *rehearsalPicture) told() string {
	parts := []string{words.RehearsalVerdict(p.r, p.units), "Afterwards:"}
	for _, n := range p.r.Numbers {
		parts = append(parts, p.numberWords(n)+";")
	}
	parts = append(parts, "the largest share of the floor that stays within every limit in 95 of 100 draws:")
	for _, l := range p.r.Largest {
		parts = append(parts, p.shareName(l)+": "+words.AtMost(l.Share)+" as it is, "+words.AtMost(l.Aerated)+" with an air stone;")
	}
	return strings.TrimSuffix(strings.Join(parts, " "), ";") + "."
}
