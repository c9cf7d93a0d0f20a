package reports

import (
	"cmp"
	"slices"

	"panecore/palette"
)

// SwatchFormat names the JSON form of a Swatch.
const SwatchFormat = "panecore-swatch/1"

// Swatch is one colour of a photo, under the corrected light, and what it may mean.
type Swatch struct {
	Format      string        `json:"format"`
	Hex         palette.Color `json:"hex"`
	Lab         [3]float64    `json:"lab"`    // CIE L*, a*, b* (D65)
	Spread      float64       `json:"spread"` // of what was marked about it, root-mean-square CIEDE2000
	MaskedShare float64       `json:"masked_share"`
	Bands       []Meaning     `json:"bands"` // the likeliest first
	Cards       int           `json:"cards"` // grey cards that the light is known from
	Gain        [3]float64    `json:"gain"`  // red, green, blue, in linear light
	Warnings    []string      `json:"warnings"`
}

// Meaning is a band that a colour may have by itself.
type Meaning struct {
	Band        palette.Band `json:"band"`
	Kind        string       `json:"kind,omitempty"` // of a native substrate
	Probability float64      `json:"probability"`
}

// NameSwatch completes a swatch, of which all but the format, the Lab and the bands is
// known, by what its colour means where it is typed.
func NameSwatch(s Swatch, matcher *palette.Matcher) Swatch {
	s.Format, s.Bands = SwatchFormat, Meanings(s.Hex, matcher)
	lab := s.Hex.Lab()
	s.Lab = [3]float64{round(lab.L, labDigits), round(lab.A, labDigits), round(lab.B, labDigits)}
	s.Spread, s.MaskedShare = round(s.Spread, labDigits), round(s.MaskedShare, shareDigits)
	for i := range s.Gain {
		s.Gain[i] = round(s.Gain[i], shareDigits)
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
func Meanings(color palette.Color, matcher *palette.Matcher) []Meaning {
	var list []Meaning
	for _, m := range matcher.Meanings(color.Lab(), palette.DoubtTyped) {
		at := slices.IndexFunc(list, func(told Meaning) bool { return told.Band == m.Band })
		if at < 0 {
			list = append(list, Meaning{m.Band, m.Kind, m.Probability})
		} else {
			list[at].Probability += m.Probability
		}
	}
	slices.SortStableFunc(list, func(a, b Meaning) int { return cmp.Compare(b.Probability, a.Probability) })
	list = list[:mostMeanings]
	for i := range list {
		list[i].Probability = round(list[i].Probability, shareDigits)
	}
	return list
}

// labDigits are the decimals of CIELAB and CIEDE2000 figures.
const labDigits = 2
