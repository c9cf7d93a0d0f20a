package jsonio

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// MaxFaults is how many faults of one document are told (assumption: a screenful).
const MaxFaults = 20

// Fault is one thing wrong with a document or with what was typed: the place, what stands there
// and what should. The place is empty where it is plain to see.
type Fault struct{ Where, Found, Want string }

func (f Fault) Error() string {
	switch {
	case f.Want == "": // it counts the faults left out
		return f.Found
	case f.Where == "":
		return "found " + f.Found + ", want " + f.Want
	}
	return f.Where + ": found " + f.Found + ", want " + f.Want
}

// Faults lists what is wrong with a document, in the order of reading: up to
// MaxFaults, and one line behind them that counts any others.
type Faults []Fault

func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, fault := range f {
		lines[i] = fault.Error()
	}
	return strings.Join(lines, "\n")
}

// Told cuts a list of faults to what is told: MaxFaults, and one that counts the others.
func (f Faults) Told() Faults {
	if untold := len(f) - MaxFaults; untold > 0 {
		return append(f[:MaxFaults], Fault{Found: fmt.Sprintf("further faults: %d", untold)})
	}
	return f
}

// WholeDocument is the place of a fault that no field has.
const WholeDocument = "document"

// Quote writes text in quotes on one line, cut where it is long.
func Quote(text string) string {
	if short, cut := shorten(text); cut {
		return strconv.Quote(short) + "…"
	}
	return strconv.Quote(text)
}

// clip is quote for a number, which needs no quotes.
func clip(number string) string {
	if short, cut := shorten(number); cut {
		return short + "…"
	}
	return number
}

func shorten(text string) (short string, cut bool) {
	const longest = 40 // characters, assumption: the line stays readable
	if utf8.RuneCountInString(text) <= longest {
		return text, false
	}
	return string([]rune(text)[:longest]), true
}

// Nearest is the known name that a mistyped one may stand for, or "".
func Nearest(name string, known []string) string {
	const (
		longest = 40 // bytes, longer than any field's name
		fewest  = 3  // letters that tell a name by a part of it: "temp"
		slips   = 2  // letters mistyped, one in three at most
	)
	if len(name) > longest {
		return ""
	}
	name = strings.ToLower(name)
	best, distance := "", min(slips, len(name)/3)+1
	for _, k := range known {
		if e := edits(name, k); e < distance {
			best, distance = k, e
		}
	}
	if best == "" && len(name) >= fewest {
		if i := slices.IndexFunc(known, func(k string) bool { return strings.Contains(k, name) }); i >= 0 {
			best = known[i]
		}
	}
	return best
}

// edits is the number of letters put in, left out or changed between two names
// (the distance of Levenshtein).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
