package words_test

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// A runaway is told from one in two on, spoken of as a possibility from one in five on, and below that
// nothing is said.
func TestWatch_spoken(t *testing.T) {
	const next = " Read the bed again by 2026-09-29."
	for _, test := range []struct {
		probability float64
		since, want string
	}{
		{0, "", ""}, {0.03, "2026-08-02", ""}, {0.199, "", ""},
		{0.2, "2026-08-02", "A runaway may be beginning (20 %): read the bed again by 2026-09-29."},
		{0.3, "", "A runaway may be beginning (30 %): read the bed again by 2026-09-29."},
		{0.5, "", "A runaway is under way with a probability of 50 %: black is swelling up through the bed towards the surface." + next},
		{0.87, "2026-08-02", "A runaway is under way with a probability of 87 %, since 2026-08-02: black is swelling up through the bed towards the surface." + next},
		{0.9999, "2026-08-02", "A runaway is under way with a probability of over 99 %, since 2026-08-02: black is swelling up through the bed towards the surface." + next},
	} {
		w := &reports.Watch{Probability: &test.probability, NextReading: day(t, "2026-09-29")}
		if test.since != "" {
			w.Since = day(t, test.since)
		}
		if got := words.Watch(w); got != test.want {
			t.Errorf("%v: found %q, want %q", test.probability, got, test.want)
		}
		if got := words.Runaway(w); (got == "") == w.Runaway() || !strings.HasPrefix(test.want, got) {
			t.Errorf("%v: told as %q", test.probability, got)
		}
	}
	for _, w := range []*reports.Watch{nil, {Signs: []string{"A dark film was seen."}}} {
		if words.Watch(w) != "" || words.Runaway(w) != "" || words.WatchSigns(w, nil) != nil {
			t.Errorf("%+v: something is said without a probability", w)
		}
	}
}

// A sign that stands among the reasons is not said twice, and a quiet watch lists none.
func TestWatchSigns_once(t *testing.T) {
	advice := &reports.Advice{Because: []reports.Reason{{Text: "A dark film was seen."}}}
	likely, hardly := 0.4, 0.1
	w := &reports.Watch{Probability: &likely, Signs: []string{"The black zone thickens.", "A dark film was seen."}}
	if got := words.WatchSigns(w, advice); !slices.Equal(got, w.Signs[:1]) {
		t.Errorf("beside the advice: %q", got)
	}
	if got := words.WatchSigns(w, nil); !slices.Equal(got, w.Signs) {
		t.Errorf("without advice: %q", got)
	}
	w.Probability = &hardly
	if got := words.WatchSigns(w, nil); got != nil {
		t.Errorf("of a quiet watch: %q", got)
	}
}

func TestRunawaySince(t *testing.T) {
	for since, want := range map[layers.Date]string{0: "runaway", day(t, "2026-08-02"): "runaway since 2026-08-02"} {
		if got := words.RunawaySince(&reports.Watch{Since: since}); got != want {
			t.Errorf("found %q, want %q", got, want)
		}
	}
}
