package judge

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// mulmTank is tankOf with so much mulm a month, over rust.
func mulmTank(mm ...float64) layers.Tank {
	return testbeds.TankOf(len(mm), func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(mm[m], palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	})
}

// only is the timeline's only station.
func only(t *testing.T, line reports.Timeline) reports.StationLine {
	t.Helper()
	if len(line.Stations) != 1 {
		t.Fatalf("%d stations, want one", len(line.Stations))
	}
	return line.Stations[0]
}

// TestLines_straight: 10, 13 and 16 mm, 30 days apart, are followed to a few tenths of a millimetre, and the
// front, 4 mm below, as well.
func TestLines_straight(t *testing.T) {
	station := only(t, NewTimeline(mulmTank(10, 13, 16), testbeds.Few()))
	for name, c := range map[string]struct {
		lines []reports.TrendLine
		below float64
	}{"mulm": {station.Mulm, 0}, "front": {station.Front, 4}} {
		if len(c.lines) != 1 || len(c.lines[0].Points) != 3 {
			t.Fatalf("%s: lines %+v, want one of three points", name, c.lines)
		}
		for i, p := range c.lines[0].Points {
			read := 10 + 3*float64(i) + c.below
			testbeds.Near(t, name+" on "+p.Date.String(), p.MM, read, 0.3)
			if p.Low > read-0.5 || p.High < read+0.5 {
				t.Errorf("%s on %s: %+v claims to know more than was read", name, p.Date, p)
			}
		}
	}
}

// TestLines_siphoned: a siphoning parts two lines of one slope, a reading of its day
// lies before it, and one reading between two of them makes no line.
func TestLines_siphoned(t *testing.T) {
	tank := mulmTank(10, 12, 14, 3, 5, 7, 9, 2)
	tank.Events = []layers.Event{
		{Date: tank.Cores[2].Date, Kind: layers.EventSiphon}, {Date: tank.Cores[7].Date - 1, Kind: layers.EventTopUpSubstrate},
	}
	lines := only(t, NewTimeline(tank, testbeds.Few())).Mulm
	if len(lines) != 2 || len(lines[0].Points) != 3 || len(lines[1].Points) != 4 {
		t.Fatalf("lines %+v, want one of 3 and one of 4 points", lines)
	}
	for i, line := range lines {
		first, last := line.Points[0], line.Points[len(line.Points)-1]
		testbeds.Near(t, "first point", first.MM, []float64{10, 3}[i], 0.2)
		testbeds.Near(t, "slope", (last.MM-first.MM)/first.Date.Months(last.Date), 2*layers.DaysPerMonth/30, 0.1)
	}
	if at := lines[0].Points[2].Date; at != tank.Cores[2].Date {
		t.Errorf("the first line ends on %s, want the day of the siphoning, %s", at, tank.Cores[2].Date)
	}
}

// TestLines_slip: one reading of twenty gone wrong hardly moves the line, which leaves it out.
func TestLines_slip(t *testing.T) {
	var mm []float64
	for m := range 20 {
		mm = append(mm, float64(10+m))
	}
	mm[4] += 30
	tank := mulmTank(mm...)
	points := only(t, NewTimeline(tank, testbeds.Few())).Mulm[0].Points
	if len(points) != 19 {
		t.Errorf("the line has %d points, want all but the slip's", len(points))
	}
	for _, p := range points {
		testbeds.Near(t, p.Date.String(), p.MM, 10+float64(p.Date-tank.Cores[0].Date)/30, 0.5)
	}
}

// TestLines_notReached: where the front was not seen it has no point.
func TestLines_notReached(t *testing.T) {
	tank := testbeds.TankOf(4, func(m int) []layers.Layer {
		column := []layers.Layer{testbeds.Of(float64(10+m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
		if m == 1 {
			return slices.Delete(column, 1, 2)
		}
		return column
	})
	station := only(t, NewTimeline(tank, testbeds.Few()))
	if len(station.Mulm[0].Points) != 4 || len(station.Front[0].Points) != 3 {
		t.Errorf("%d points of the mulm and %d of the front, want 4 and 3", len(station.Mulm[0].Points), len(station.Front[0].Points))
	}
}

// TestLines_unknown: where there is no line the lists are empty, not null.
func TestLines_unknown(t *testing.T) {
	text, err := json.Marshal(only(t, NewTimeline(mulmTank(10), testbeds.Few())))
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(text, &fields); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"mulm_trend", "front_trend", "gaps"} {
		if list := string(fields[name]); list != "[]" {
			t.Errorf("%s: found %s, want []", name, list)
		}
	}
}

// TestLines_holdTogether checks what must be true of the lines of any records at all.
func TestLines_holdTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawRecords(t)
		line := NewTimeline(tank, testbeds.Few())
		for _, station := range line.Stations {
			var read []layers.Date
			for _, core := range station.Cores {
				read = append(read, core.Date)
			}
			for name, lines := range map[string][]reports.TrendLine{"mulm": station.Mulm, "front": station.Front} {
				for _, l := range lines {
					if len(l.Points) < 2 {
						t.Fatalf("%s of %s has a line of %d points", name, station.Station, len(l.Points))
					}
					checkPoints(t, name+" of "+station.Station, l.Points)
					for _, p := range l.Points {
						if !slices.Contains(read, p.Date) {
							t.Fatalf("%s of %s has a point on %s, when it was not read", name, station.Station, p.Date)
						}
					}
				}
			}
		}
	})
}

// checkPoints fails unless points come by date and their limits hold them, at or below the bed
// surface.
func checkPoints(t *rapid.T, name string, points []reports.TrendPoint) {
	for i, p := range points {
		checkEstimate(t, name, &reports.Estimate{Value: p.MM, Low: p.Low, High: p.High})
		if p.Low < 0 || i > 0 && p.Date <= points[i-1].Date {
			t.Fatalf("%s: %+v", name, points)
		}
	}
}

// TestNewTimeline_orderDoesNotMatter: neither the order of cores nor of stations
// changes a timeline.
func TestNewTimeline_orderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawRecords(t)
		shuffled := tank
		shuffled.Cores = rapid.Permutation(tank.Cores).Draw(t, "order")
		if diff := cmp.Diff(NewTimeline(tank, testbeds.Few()), NewTimeline(shuffled, testbeds.Few())); diff != "" {
			t.Fatalf("in another order (-was +is):\n%s", diff)
		}
	})
}

// TestGaps_only: a gap is twice the station's own interval and a month and a half.
func TestGaps_only(t *testing.T) {
	for _, c := range []struct {
		name string
		days []int // since the first reading
		want [][2]int
	}{
		{"monthly", []int{0, 30, 61, 91, 122}, nil},
		{"monthly but for a quarter", []int{0, 30, 60, 150, 180}, [][2]int{{60, 150}}},
		{"twice the usual is no gap", []int{0, 30, 60, 120, 150}, nil},
		{"weekly but for five weeks", []int{0, 7, 14, 49, 56}, nil},
		{"weekly but for seven weeks", []int{0, 7, 14, 63, 70}, [][2]int{{14, 63}}},
		{"a quarter apart", []int{0, 90, 181, 270}, nil},
		{"twice in a year", []int{0, 365}, nil},
		{"twice left", []int{0, 30, 60, 160, 190, 290, 320}, [][2]int{{60, 160}, {190, 290}}},
		{"once", []int{0}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			tank := mulmTank(make([]float64, len(c.days))...)
			first := tank.Cores[0].Date
			for i, since := range c.days {
				tank.Cores[i].Date = first + layers.Date(since)
				tank.Cores[i].Layers = []layers.Layer{testbeds.Of(10, palette.MulmLight), testbeds.Of(40, palette.Native)}
			}
			want := []reports.Gap{}
			for _, g := range c.want {
				want = append(want, reports.Gap{From: first + layers.Date(g[0]), Until: first + layers.Date(g[1])})
			}
			if diff := cmp.Diff(want, only(t, NewTimeline(tank, testbeds.Few())).Gaps); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}
