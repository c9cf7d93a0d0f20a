package page_test

import (
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/page"
	"panecore/reports/words"
)

// The report says what there is to say of a runaway, with the signs that the reasons do not name, and how
// the front moves in both frames, with the number for each.
func TestWrite_watchAndFrames(t *testing.T) {
	for _, test := range []struct {
		probability float64
		want        string // empty: nothing is said
	}{{0.03, ""}, {0.3, "A runaway may be beginning (30 %)"}, {0.87, "A runaway is under way with a probability of 87 %"}} {
		r := recordOf(demoTank(t, "sill-tray"))
		reason := r.Tank.Advice.Because[0].Text
		r.Tank.Watch = &reports.Watch{Probability: &test.probability, NextReading: r.Tank.AsOf + 14, Signs: []string{"The black zone thickens.", reason}}
		r.Tank.FrontShift, r.Tank.FloorShift = &reports.Estimate{Value: 1, Low: 0.5, High: 1.5}, &reports.Estimate{Value: -2.5, Low: -3, High: -2}
		r.Timeline.FrontShift, r.Timeline.FloorShift = r.Tank.FrontShift, r.Tank.FloorShift
		text := plainText(written(t, page.Report{Record: r}))
		text, _, _ = strings.Cut(text, "h2: The method") // which says what a runaway is
		if !strings.Contains(text, test.want) || strings.Contains(text, "runaway") != (test.want != "") {
			t.Errorf("%v: the page does not say %q, or says something else", test.probability, test.want)
		}
		if strings.Contains(text, "The black zone thickens.") != (test.want != "") || strings.Count(text, reason) != 1 {
			t.Errorf("%v: the signs are missing, or said twice", test.probability)
		}
		for _, want := range []string{words.Frames(r.Tank.FrontShift, r.Tank.FloorShift, layers.MM), "front shift against the floor, rising | −2.5 mm/month | −3.0 to −2.0"} {
			if !strings.Contains(text, want) {
				t.Errorf("the page does not say %q", want)
			}
		}
	}
}

// A floor that is out of view is said to be so, and is no number that the notices explain.
func TestWrite_floorNotSeen(t *testing.T) {
	r := recordOf(demoTank(t, "sill-tray"))
	r.Tank.FrontShift, r.Tank.FloorShift = &reports.Estimate{Value: 1, Low: 0.8, High: 1.2}, nil
	if text := plainText(written(t, page.Report{Record: r})); !strings.Contains(text, "front shift against the floor | the floor is not seen") {
		t.Error("the page does not say that the floor is not seen")
	}
}
