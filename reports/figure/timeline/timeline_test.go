package timeline

import (
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

func drawnOptions(t *rapid.T) Options {
	return Options{
		Units: rapid.SampledFrom([]layers.Units{layers.MM, layers.Inches}).Draw(t, "units"),
		Align: rapid.SampledFrom([]Align{AlignSurface, AlignFloor}).Draw(t, "align"),
	}
}

// Whatever was recorded, words stand clear of each other and within the picture.
func TestTimeline_wordsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { testpictures.Clear(t, Figure(drawnTimeline(t), drawnOptions(t))) })
}

// No pole of a flag runs through the words of another, and each event has its mark or is
// told as not drawn.
func TestTimeline_flags(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newPicture(drawnTimeline(t), Options{})
		if len(l.record.Stations) == 0 {
			return
		}
		flags := l.flags(l.events())
		counted := 0
		for i, f := range flags {
			counted += 1 + len(f.more)
			for _, other := range flags[:i] {
				if other.row == f.row && math.Abs(other.x-f.x) < markPitch {
					t.Errorf("two marks of row %d lie on each other, at %v and %v", f.row, other.x, f.x)
				}
			}
			if !f.worded {
				continue
			}
			if f.lane < 0 || f.lane >= flagLanes {
				t.Fatalf("lane %d", f.lane)
			}
			left, right := f.span()
			for j, other := range flags {
				if i != j && other.worded && other.lane >= f.lane && other.x > left && other.x < right {
					t.Errorf("the pole of %q at %v runs through %q from %v to %v", other.text, other.x, f.text, left, right)
				}
			}
		}
		if counted < len(l.record.Events) && !slices.ContainsFunc(testpictures.MarksOf(l.Figure).Texts, func(w testpictures.Text) bool { return strings.HasPrefix(w.Text, "Not drawn") }) {
			t.Errorf("%d of %d events are drawn, and nothing tells of the others", counted, len(l.record.Events))
		}
	})
}

// Removals have words before all else.
func TestTimeline_removalsFirst(t *testing.T) {
	line := testpictures.Siphoned()
	line.Events = nil
	for i := range 40 {
		line.Events = append(line.Events, layers.Event{Date: line.AsOf - 300 + layers.Date(i), Kind: layers.EventNote, Note: "fed"})
	}
	line.Events = append(line.Events, layers.Event{Date: line.AsOf - 280, Kind: layers.EventSiphon})
	bare := 0
	l := newPicture(line, Options{})
	for _, f := range l.flags(l.events()) {
		if !f.worded {
			bare++
			if f.Kind.Splits() {
				t.Error("the siphoning has no words")
			}
		}
	}
	if bare == 0 {
		t.Error("all have words: nothing was to be chosen")
	}
}

// Of a note stand whole words, or none; words go on where nothing follows, and many events of
// one day are one mark with their number.
func TestTimeline_eventWords(t *testing.T) {
	const note = "all along the pane and below the stone, as far as the hose would go, with the wide bell"
	for _, test := range []struct {
		name   string
		events []layers.Event // days after the first core
		want   []string
	}{
		{"nothing follows", []layers.Event{{Date: 20, Kind: layers.EventSiphon, Note: note}}, []string{"siphon: " + note}},
		{"another follows", []layers.Event{{Date: 300, Kind: layers.EventSiphon, Note: note}, {Date: 320, Kind: layers.EventPlantMelt}}, []string{"siphon: all along the pane …", "plant melt"}},
		{"no room for two words", []layers.Event{{Date: 300, Kind: layers.EventTopUpSubstrate, Note: "unwashed quarry sand"}, {Date: 320, Kind: layers.EventPlantMelt}}, []string{"top up substrate", "plant melt"}},
		{"one day", slices.Repeat([]layers.Event{{Date: 300, Kind: layers.EventNote, Note: "fed"}}, 8), []string{"note: fed", "note: fed", "note: fed", "note: fed", "note: fed + 3 events"}},
	} {
		line := testpictures.Siphoned()
		first := line.Stations[0].Cores[0].Date
		line.SetUp, line.Events = 0, nil
		for _, e := range test.events {
			e.Date += first
			line.Events = append(line.Events, e)
		}
		var got []string
		l := newPicture(line, Options{})
		for _, f := range l.flags(l.events()) {
			got = append(got, f.text)
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// Time runs evenly: readings stand apart by their days, the first at the left, and what is
// ahead takes no more than its share.
func TestTimeline_trueToTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newPicture(drawnTimeline(t), drawnOptions(t))
		var days, places []float64
		for _, r := range l.rows {
			for i, core := range r.Cores {
				shared := i > 0 && r.Cores[i-1].Date == core.Date || i+1 < len(r.Cores) && r.Cores[i+1].Date == core.Date
				if s := r.slots[i]; !shared {
					days, places = append(days, float64(core.Date)), append(places, s.x)
				}
				if r.slots[i].left < l.left-1e-9 || r.slots[i].right > pen.PaperWidth-pen.Margin {
					t.Errorf("a core at %v stands outside", r.slots[i])
				}
			}
		}
		for i := range days {
			if want := places[0] + (days[i]-days[0])*l.time.perDay; math.Abs(places[i]-want) > 1e-6 {
				t.Errorf("day %v is at %v mm, want %v", days[i], places[i], want)
			}
		}
		if len(l.rows) > 0 && l.time.now > l.time.from {
			if ahead := l.time.x(l.time.end) - l.time.x(l.time.now); ahead > pen.PaperWidth/3 {
				t.Errorf("%v mm ahead", ahead)
			}
		}
	})
}

// Each layer stands in its core's slot, as deep and as thick as it was read by the scale
// of the ruler: from the row's top down, or from its foot up.
func TestTimeline_toScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newPicture(drawnTimeline(t), drawnOptions(t))
		var found []testpictures.Rect
		for _, r := range testpictures.MarksOf(l.Figure).Rects {
			if r.Ink.Role == "" {
				found = append(found, r)
			}
		}
		for _, r := range l.rows {
			for i, core := range r.Cores {
				for n, layer := range core.Layers {
					if len(found) == 0 {
						t.Fatal("a layer is not drawn")
					}
					got, top, foot := found[0].Box, r.top+layer.TopMM*l.scale, r.top+layer.BottomMM()*l.scale
					if l.Align == AlignFloor {
						lift := r.foot - r.top - core.DepthMM()*l.scale
						top, foot = top+lift, foot+lift
					}
					if n < len(core.Layers)-1 {
						foot += seam
					}
					want := pen.Box{Left: r.slots[i].left, Top: top, Right: r.slots[i].right, Foot: foot}
					for _, off := range []float64{got.Left - want.Left, got.Top - want.Top, got.Right - want.Right, got.Foot - want.Foot} {
						if math.Abs(off) > 1e-6 {
							t.Fatalf("layer %d of core %d lies at %v, want %v", n, i, got, want)
						}
					}
					found = found[1:]
				}
			}
		}
		if len(found) > 0 {
			t.Errorf("%d layers too many", len(found))
		}
	})
}

// No core hides another, the narrowest is still seen, and one with room is as wide as
// wanted.
func TestSlotsOf_apart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Float64Range(leastWidth, coreWidths.most).Draw(t, "width")
		at := 10.0
		var places []float64
		for range rapid.IntRange(1, 40).Draw(t, "cores") {
			places = append(places, at)
			at += rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(leastClipped, 2), rapid.Float64Range(leastClipped, 20)).Draw(t, "then")
		}
		removals := rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(places), rapid.Float64Range(0, at)), 0, 3).Draw(t, "removals")
		slots := slotsOf(places, removals, width)
		for i, s := range slots {
			if s.left > s.x || s.x > s.right {
				t.Errorf("%v does not hold its place", s)
			}
			if i > 0 && s.left < slots[i-1].right-1e-9 {
				t.Errorf("%v hides %v", s, slots[i-1])
			}
			for _, x := range removals {
				if over := min(s.right-x, x-s.left); over > leastClipped {
					t.Errorf("%v reaches %v mm over the removal at %v", s, over, x)
				}
			}
			alone := len(removals) == 0 && (i == 0 || places[i]-places[i-1] >= width) && (i+1 == len(places) || places[i+1]-places[i] >= width)
			if alone && math.Abs(s.right-s.left-width) > 1e-9 {
				t.Errorf("%v is not %v mm wide, with room on both sides", s, width)
			}
			shared := i > 0 && places[i] == places[i-1] || i+1 < len(places) && places[i] == places[i+1]
			if !shared && s.right-s.left < leastClipped-1e-9 {
				t.Errorf("%v is narrower than %v mm", s, leastClipped)
			}
		}
	})
}

// joinedIn are the lines that join readings in an ink, by the places of their ends.
func joinedIn(l *picture, ink pen.Ink) (lines [][]pen.Point) {
	for _, line := range testpictures.MarksOf(l.Figure).Lines {
		if line.Ink == ink && line.Width == depthWidth && line.Dash == 0 {
			lines = append(lines, line.Points)
		}
	}
	return lines
}

// Readings are joined through the depths as read; no line crosses a removal, a time
// without a reading, or a core whose front lies below the view. A removal on the day of a
// reading came after it.
func TestTimeline_joined(t *testing.T) {
	line := testpictures.Siphoned()
	line.Stations[0].Cores[4].OxicDepth.Basis = reports.NotReached
	line.Stations[0].Cores[9].Date = line.Events[1].Date
	for _, align := range []Align{AlignSurface, AlignFloor} {
		l := newPicture(line, Options{Align: align})
		for _, test := range []struct {
			ink  pen.Ink
			want []int // readings a line
		}{{pen.InkMulm, []int{10, 11, 10, 3, 4}}, {pen.InkOxic, []int{4, 5, 11, 10, 3, 4}}} {
			lines := joinedIn(l, test.ink)
			var got []int
			for _, points := range lines {
				got = append(got, len(points))
			}
			if !slices.Equal(got, test.want) {
				t.Errorf("%v, %s: lines of %v readings, want %v", align, test.ink.Role, got, test.want)
			}
		}
		r := l.rows[0]
		core := r.Cores[0]
		want := pen.At(l.time.x(core.Date), r.top+core.Mulm.Value*l.scale)
		if align == AlignFloor {
			want.Y = r.foot - core.DepthMM()*l.scale
		}
		if got := joinedIn(l, pen.InkMulm)[0][0]; math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
			t.Errorf("%v: the first reading is at %v, want %v", align, got, want)
		}
	}
}

// What is said of the limit is what the record says.
func TestTimeline_limit(t *testing.T) {
	day := func(text string) *layers.Date {
		d, err := layers.ParseDate(text)
		if err != nil {
			t.Fatal(err)
		}
		return &d
	}
	asOf := *day("2026-10-01")
	for want, f := range map[string]reports.Forecast{
		"may never reach it":                     {},
		"in 2026-12 at the earliest, or never":   {Earliest: day("2026-12-30")},
		"has reached it":                         {Earliest: &asOf, Expected: &asOf},
		"about 2026-12":                          {Earliest: day("2026-12-02"), Expected: day("2026-12-30")},
		"about 2027-05, 2026-12 at the earliest": {Earliest: day("2026-12-02"), Expected: day("2027-05-30")},
	} {
		if got := whenReached(f, asOf); got != want {
			t.Errorf("found %q, want %q", got, want)
		}
	}
	line := testpictures.Siphoned()
	for want, latest := range map[string]layers.Date{
		"The mulm has reached its limit of 50 mm.": line.AsOf, "The mulm has most likely reached its limit of 50 mm.": line.AsOf + 90,
	} {
		line.LimitReached = &reports.Forecast{LimitMM: 50, Earliest: &line.AsOf, Expected: &line.AsOf, Latest: &latest}
		if f := Figure(line, Options{}); !strings.HasSuffix(f.Desc, want) {
			t.Errorf("described as %q, want it to end in %q", f.Desc, want)
		}
	}
	line.LimitReached = nil
	line.Forecast = nil
	for _, w := range testpictures.MarksOf(Figure(line, Options{})).Texts {
		if strings.Contains(w.Text, "limit") {
			t.Errorf("%q, though nothing is known of it", w.Text)
		}
	}
}

func TestTimeline_unread(t *testing.T) {
	f := Figure(reports.Timeline{ID: "new", Stations: []reports.StationLine{{Station: "front"}}}, Options{})
	testpictures.Clear(t, f)
	if f.Desc != "No core has been read." || !slices.ContainsFunc(testpictures.MarksOf(f).Texts, func(w testpictures.Text) bool { return w.Text == f.Desc }) {
		t.Errorf("described as %q; want it told that no core has been read", f.Desc)
	}
}

func TestParseAlign(t *testing.T) {
	for _, a := range []Align{AlignSurface, AlignFloor} {
		if got, err := ParseAlign(string(a)); got != a || err != nil {
			t.Errorf("%s is read as %v, %v", a, got, err)
		}
	}
	if _, err := ParseAlign("middle"); err == nil || err.Error() != `found alignment "middle", want surface or floor` {
		t.Errorf("error %v", err)
	}
}

func BenchmarkTimeline_svg(b *testing.B) {
	line := testpictures.TenYears()
	for b.Loop() {
		if err := Figure(line, Options{}).WriteSVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTimeline_png(b *testing.B) {
	line := testpictures.TenYears()
	for b.Loop() {
		if err := Figure(line, Options{}).WritePNG(io.Discard, 8); err != nil {
			b.Fatal(err)
		}
	}
}
