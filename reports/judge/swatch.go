package judge

import (
	"cmp"
	"slices"

	"panecore/palette"
	"panecore/reports"
)

// NameSwatch completes a swatch, of which all but the format, the Lab and the bands is
// known, by what its colour means where it is typed.
func NameSwatch(s reports.Swatch, matcher *palette.Matcher) reports.Swatch {
	s.Format, s.Bands = reports.SwatchFormat, Meanings(s.Hex, matcher)
	lab := s.Hex.Lab()
	s.Lab = [3]float64{reports.Round(lab.L, labDigits), reports.Round(lab.A, labDigits), reports.Round(lab.B, labDigits)}
	s.Spread, s.MaskedShare = reports.Round(s.Spread, labDigits), reports.Round(s.MaskedShare, reports.ShareDigits)
	for i := range s.Gain {
		s.Gain[i] = reports.Round(s.Gain[i], reports.ShareDigits)
	}
	if s.Warnings == nil {
		s.Warnings = []string{}
	}
	return s
}

// mostMeanings is how many bands a colour is told to mean (the project's definition).
const mostMeanings = 3

// Meanings are the likeliest bands of a colour that is typed, by itself, each once and
// with the kind that speaks most for it.
func Meanings(color palette.Color, matcher *palette.Matcher) []reports.Meaning {
	var list []reports.Meaning
	for _, m := range matcher.Meanings(color.Lab(), palette.DoubtTyped) {
		at := slices.IndexFunc(list, func(told reports.Meaning) bool { return told.Band == m.Band })
		if at < 0 {
			list = append(list, reports.Meaning{Band: m.Band, Kind: m.Kind, Probability: m.Probability})
		} else {
			list[at].Probability += m.Probability
		}
	}
	slices.SortStableFunc(list, func(a, b reports.Meaning) int { return cmp.Compare(b.Probability, a.Probability) })
	list = list[:mostMeanings]
	for i := range list {
		list[i].Probability = reports.Round(list[i].Probability, reports.ShareDigits)
	}
	return list
}

// labDigits are the decimals of CIELAB and CIEDE2000 figures.
const labDigits = 2
