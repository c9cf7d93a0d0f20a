package timeline

import (
	"math"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

// A runaway that is told has a bar from its day to the newest reading, or from the picture's left where it
// began before; one that is not told has none.
func TestTimeline_runaway(t *testing.T) {
	told := testpictures.Runaway()
	for _, test := range []struct {
		name        string
		probability float64
		since       layers.Date
		label       string // empty: nothing is drawn
	}{
		{"told", 0.87, told.Watch.Since, "runaway since " + told.Watch.Since.String()},
		{"before the picture", 0.5, told.Stations[0].Cores[0].Date - 900, "runaway since " + (told.Stations[0].Cores[0].Date - 900).String()},
		{"after the newest reading", 0.9, told.AsOf + 40, "runaway since " + (told.AsOf + 40).String()},
		{"since when is not known", 0.5, 0, "runaway"},
		{"may be beginning", 0.49, told.Watch.Since, ""},
	} {
		line := testpictures.Runaway()
		line.Watch.Probability, line.Watch.Since = &test.probability, test.since
		l := newPicture(line, Options{})
		marks := testpictures.MarksOf(l.Figure)
		var labels []string
		for _, text := range marks.Texts {
			if strings.HasPrefix(text.Text, "runaway") {
				labels = append(labels, text.Text)
			}
		}
		if got := strings.Join(labels, "; "); got != test.label {
			t.Errorf("%s: labelled %q, want %q", test.name, got, test.label)
		}
		if told := strings.Contains(l.Desc, "A runaway is under way"); told != (test.label != "") {
			t.Errorf("%s: described as %q", test.name, l.Desc)
		}
		var bars []pen.Box
		for _, r := range marks.Rects {
			if r.Ink == pen.InkLimit {
				bars = append(bars, r.Box)
			}
		}
		if test.label == "" {
			if len(bars) > 0 {
				t.Errorf("%s: a bar at %v", test.name, bars)
			}
			continue
		}
		until := l.time.x(l.lastCore())
		from := until - runawayLeast
		if test.since != 0 && test.since < l.lastCore() {
			from = l.time.x(max(test.since, l.time.from))
		}
		if len(bars) != 1 || math.Abs(bars[0].Left-from) > 1e-6 || math.Abs(bars[0].Right-until) > 1e-6 || bars[0].Foot > l.rows[0].top-rowHeading {
			t.Errorf("%s: bars at %v, want one from %v to %v above %v", test.name, bars, from, until, l.rows[0].top)
		}
	}
}

// What the front does against the floor and the surface stands in the picture and in its description.
func TestTimeline_frames(t *testing.T) {
	f := Figure(testpictures.Runaway(), Options{})
	if found := strings.Join(testpictures.MarksOf(f).Words(), " "); !strings.Contains(found, "rises by 2.5 mm a month against the floor,") || !strings.Contains(f.Desc, "rises by 2.5 mm a month against the floor, though") {
		t.Errorf("shown as %q, described as %q", found, f.Desc)
	}
}
