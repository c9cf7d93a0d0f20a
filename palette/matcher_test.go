package palette

import (
	"strings"
	"testing"
)

// TestMeanings_publishedSoilColours ranks the meanings of the published mineral
// and soil colours of testdata/checks/soilcolours.csv (source and provenance stand
// in each row; the sets of acceptable meanings are the authors' reading of the
// published material name). Rows whose colour is itself a prototype prove
// nothing and are left out.
func TestMeanings_publishedSoilColours(t *testing.T) {
	known := map[string]bool{}
	for _, p := range prototypes {
		known[p.Color.String()] = true
	}
	m := NewMatcher(nil, nil)
	var rows, first, acceptable int
	for _, row := range readChecks(t, "soilcolours.csv") {
		name, want, hex := row[0], strings.Split(row[1], "|"), row[3]
		if known[hex] {
			continue
		}
		color, err := ParseColor(hex)
		if err != nil {
			t.Fatal(err)
		}
		rows++
		got := meaningName(m.Meanings(color.Lab(), DoubtCard)[0])
		switch {
		case got == want[0]:
			first++
			acceptable++
		case contains(want, got):
			acceptable++
		default:
			t.Logf("%-40s %s %s: ranked %s first, acceptable %v", name, row[2], hex, got, want)
		}
	}
	t.Logf("%d rows that are no prototype: %d first-listed, %d acceptable (%.1f %%)", rows, first, acceptable, 100*float64(acceptable)/float64(rows))
	if rows < 35 || float64(acceptable) < 0.95*float64(rows) {
		t.Errorf("an acceptable meaning ranks first in %d of %d rows, want 95 %%", acceptable, rows)
	}
}

// meaningName is a meaning as the table of soil colours writes it.
func meaningName(m Meaning) string {
	switch m.Band {
	case Native:
		return "native:" + m.Kind
	case Unknown:
		return "other"
	}
	return m.Band.String()
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// TestNewMatcher_own: a colour that only the keeper knows is named by it.
func TestNewMatcher_own(t *testing.T) {
	violet := Color{0x70, 0x30, 0x90} // purple bacteria on lit sand, say
	if got := NewMatcher(nil, nil).Meanings(violet.Lab(), DoubtTyped)[0].Band; got != Unknown {
		t.Fatalf("violet is named %v without the keeper's word: this test shows nothing", got)
	}
	m := NewMatcher(nil, []Prototype{{Band: FilmDark, Color: violet, Spread: 5}})
	if got := m.Meanings(violet.Lab(), DoubtTyped)[0].Band; got != FilmDark {
		t.Errorf("violet is named %v, want the keeper's film-dark", got)
	}
}
