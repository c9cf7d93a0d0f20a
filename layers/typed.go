package layers

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"panecore/layers/jsonio"
	"panecore/palette"
)

// ParseLayer reads a layer as it is typed: its thickness, its colour, and where
// they are given its band and last a note in double quotes, as in
//
//	18mm #6b4a2b rust "a few worms"
//
// A colour is '#' and six hexadecimal digits or the name of one that named knows.
// A named colour does not label the layer: only a band that is typed does. An
// error is a [Fault] whose place is the part of the layer.
func ParseLayer(s string, named func(name string) (palette.Color, bool)) (l Layer, err error) {
	word, rest := cutLength(s)
	if l.ThicknessMM, err = parseThickness(word); err != nil {
		return Layer{}, err
	}
	word, rest = cutWord(rest)
	if word == "" {
		return Layer{}, Fault{Where: "colour", Found: "nothing", Want: "one behind the thickness, both within quotes: '18mm #6b4a2b'"}
	}
	if l.Color, err = parseColor(word, named); err != nil {
		return Layer{}, err
	}
	if rest != "" && rest[0] != '"' {
		word, rest = cutWord(rest)
		if l.Band, err = parseBand(word); err != nil {
			return Layer{}, err
		}
	}
	if rest != "" {
		l.Note, err = parseQuoted(rest)
	}
	if err != nil {
		return Layer{}, err
	}
	return l, nil
}

// cutWord parts the first word of s from what follows, both without blanks around.
func cutWord(s string) (word, rest string) {
	s = strings.TrimSpace(s)
	end := strings.IndexFunc(s, unicode.IsSpace)
	if end < 0 {
		return s, ""
	}
	return s[:end], strings.TrimSpace(s[end:])
}

// cutLength is cutWord, except that a number and its unit may stand apart.
func cutLength(s string) (length, rest string) {
	length, rest = cutWord(s)
	if !IsBare(length) {
		return length, rest
	}
	next, after := cutWord(rest)
	for _, unit := range lengthUnits {
		if strings.EqualFold(next, unit.name) {
			return length + next, after
		}
	}
	return length, rest
}

func parseThickness(s string) (mm float64, err error) {
	mm, want := lengthIn(s)
	return thickness(s, mm, want)
}

// thickness is what was typed as one, in its range, unless something else is wanted.
func thickness(s string, mm float64, want string) (float64, error) {
	if want == "" && !thicknessRange.Holds(mm) {
		want = thicknessRange.String()
	}
	if want != "" {
		return 0, Fault{Where: "thickness", Found: typed(s), Want: want}
	}
	return mm, nil
}

// typed quotes what was typed, if anything was.
func typed(s string) string {
	if s == "" {
		return "nothing"
	}
	return jsonio.Quote(s)
}

func parseColor(s string, named func(string) (palette.Color, bool)) (palette.Color, error) {
	if color, ok := named(s); ok {
		return color, nil
	}
	color, err := palette.ParseColor(s)
	if err != nil {
		return color, Fault{Where: "colour", Found: typed(s), Want: "'#' and six hexadecimal digits, as in #8b5e3c, or the name of a swatch"}
	}
	return color, nil
}

func parseBand(s string) (palette.Band, error) {
	band, err := palette.ParseBand(strings.ToLower(s))
	if err != nil {
		return band, Fault{Where: "band", Found: typed(s), Want: wanted(s, bandNames())}
	}
	return band, nil
}

func bandNames() []string {
	var names []string
	for _, band := range palette.Bands() {
		names = append(names, band.String())
	}
	return names
}

// wanted says which word was meant, or lists them all.
func wanted(found string, words []string) string {
	if near := Nearest(found, words); near != "" {
		return "a known one: did you mean " + near + "?"
	}
	return jsonio.OneOf(words)
}

// parseQuoted reads a note in double quotes, which it may hold itself.
func parseQuoted(s string) (string, error) {
	if len(s) < 2 || s[0] != '"' || s[len(s)-1] != '"' {
		return "", Fault{Where: "note", Found: jsonio.Quote(s), Want: "a note in double quotes behind the rest"}
	}
	note := s[1 : len(s)-1]
	if found := faultOfText(note, faultOfNote); found != "" {
		return "", Fault{Where: "note", Found: found, Want: noteWanted}
	}
	return note, nil
}

// ParseName takes a name, an id or a station that is fit for the logbook document.
func ParseName(s string) (string, error) { return parseText(s, faultOfLabel, labelWanted) }

// ParseNote takes a note that is fit for the logbook document.
func ParseNote(s string) (string, error) { return parseText(s, faultOfNote, noteWanted) }

func parseText(s string, faultOf func([]byte) string, want string) (string, error) {
	if found := faultOfText(s, faultOf); found != "" {
		return "", Fault{Found: found, Want: want}
	}
	return s, nil
}

func faultOfText(s string, faultOf func([]byte) string) string {
	if !utf8.ValidString(s) {
		return "bytes that are no UTF-8 text"
	}
	return faultOf([]byte(s))
}

// ParseYesNo reads an answer.
func ParseYesNo(s string) (*bool, error) {
	yes := s == "yes"
	if !yes && s != "no" {
		return nil, Fault{Found: jsonio.Quote(s), Want: "yes or no"}
	}
	return &yes, nil
}

// YesNo is an answer in words, empty where none was given.
func YesNo(answer *bool) string {
	switch {
	case answer == nil:
		return ""
	case *answer:
		return "yes"
	}
	return "no"
}
