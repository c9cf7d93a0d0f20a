package judge

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// drawColumn is any layers at all.
func drawColumn(t *rapid.T) []layers.Layer {
	n := rapid.IntRange(1, 7).Draw(t, "layers")
	column := make([]layers.Layer, n)
	for i := range column {
		column[i] = layers.Layer{
			ThicknessMM: rapid.Float64Range(0.5, 200).Draw(t, "mm"),
			Color:       palette.Color{R: rapid.Byte().Draw(t, "R"), G: rapid.Byte().Draw(t, "G"), B: rapid.Byte().Draw(t, "B")},
			Band:        palette.Band(rapid.SampledFrom([]int{0, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}).Draw(t, "label")),
		}
	}
	return column
}

// drawRecords is a tank of any records at all, at one to three stations.
func drawRecords(t *rapid.T) layers.Tank {
	tank := layers.Tank{ID: rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "id"), Flow: layers.Still}
	if rapid.Bool().Draw(t, "set up") {
		tank.SetUp = testbeds.Day("2025-01-01")
	}
	for _, station := range []string{"back", "front", "left"}[:rapid.IntRange(1, 3).Draw(t, "stations")] {
		for m := range rapid.IntRange(1, 6).Draw(t, "months") {
			date := testbeds.Day("2025-03-01") + layers.Date(30*m+rapid.IntRange(0, 3).Draw(t, "late"))
			tank.Cores = append(tank.Cores, layers.Core{Date: date, Station: station, Layers: drawColumn(t)})
		}
	}
	if rapid.Bool().Draw(t, "siphoned") {
		tank.Events = []layers.Event{{Date: testbeds.Day("2025-05-15"), Kind: layers.EventSiphon}}
	}
	return tank
}

// checkEstimate fails where limits do not hold the value, or a number is no number.
func checkEstimate(t *rapid.T, name string, e *reports.Estimate) {
	if e == nil {
		return
	}
	for _, x := range []float64{e.Value, e.Low, e.High} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s: %+v", name, *e)
		}
	}
	if e.Low > e.Value || e.Value > e.High {
		t.Fatalf("%s: limits do not hold the value: %+v", name, *e)
	}
}

// TestInterpret_holdsTogether checks what must be true of any records at all.
func TestInterpret_holdsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawRecords(t)
		found := Interpret(slices.Values([]layers.Tank{tank}), testbeds.Few()).Tanks[0]
		for name, e := range map[string]*reports.Estimate{
			"oxic depth": found.OxicDepth, "mulm": found.Mulm, "black top": found.BlackTop, "black zone": found.BlackZone,
			"accumulation": found.Accumulation, "front shift": found.FrontShift,
		} {
			checkEstimate(t, name, e)
		}
		s := found.Advice.Shares
		if sum := s.Leave + s.Stir + s.Siphon; math.Abs(sum-1) > 2e-4 {
			t.Fatalf("shares add up to %v", sum)
		}
		if !slices.IsSortedFunc(found.Cores, func(a, b reports.Core) int { return cmp.Compare(a.Station, b.Station) }) {
			t.Fatalf("cores are not in the order of stations")
		}
		for _, core := range found.Cores {
			var depth float64
			for _, layer := range core.Layers {
				checkEstimate(t, "thickness", &layer.Thickness)
				if math.Abs(layer.TopMM-depth) > 0.05 {
					t.Fatalf("layer at %v, those above add up to %v", layer.TopMM, depth)
				}
				depth += layer.Thickness.Value
			}
			if core.Mulm.Value+core.BlackZone.Value > depth+2 {
				t.Fatalf("mulm %v and black %v in %v mm", core.Mulm.Value, core.BlackZone.Value, depth)
			}
		}
	})
}

// TestInterpret_orderDoesNotMatter: neither the order of a tank's records nor what
// stands beside it in the logbook changes its findings.
func TestInterpret_orderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawRecords(t)
		other := drawRecords(t)
		other.ID = "other"
		shuffled := tank
		shuffled.Cores = rapid.Permutation(tank.Cores).Draw(t, "order")
		want := encoded(t, Interpret(slices.Values([]layers.Tank{tank, other}), testbeds.Few()).Tanks[0])
		got := encoded(t, Interpret(slices.Values([]layers.Tank{other, shuffled}), testbeds.Few()).Tanks[1])
		if got != want {
			t.Fatalf("findings differ:\n%s\n%s", want, got)
		}
	})
}

func encoded(t interface{ Fatal(...any) }, tank reports.Tank) string {
	b, err := json.Marshal(tank)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestInterpret_sameSeedSameBytes runs many tanks at once, twice.
func TestInterpret_sameSeedSameBytes(t *testing.T) {
	var tanks []layers.Tank
	for i := range 40 {
		tank := testbeds.Steady(testbeds.Of(float64(10+i), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(20, palette.Black), testbeds.Of(40, palette.Native))
		tank.ID = string(rune('A' + i))
		tanks = append(tanks, tank)
	}
	first := Interpret(slices.Values(tanks), testbeds.Few())
	again := Interpret(slices.Values(tanks), testbeds.Few())
	for i := range tanks {
		if first.Tanks[i].ID != tanks[i].ID {
			t.Fatalf("tank %d is %s, want %s", i, first.Tanks[i].ID, tanks[i].ID)
		}
		if encoded(t, first.Tanks[i]) != encoded(t, again.Tanks[i]) {
			t.Errorf("tank %s: two runs differ", tanks[i].ID)
		}
	}
	other := Interpret(slices.Values(tanks[:1]), reports.Settings{Draws: 200, Seed: 2})
	if encoded(t, other.Tanks[0]) == encoded(t, first.Tanks[0]) {
		t.Error("another seed gives the same draws")
	}
}

// TestInterpret_oxicDepth: the oxic depth ends at the rust front's lower edge (common
// practice, no source), else at the first reduced band, else it is a lower bound.
func TestInterpret_oxicDepth(t *testing.T) {
	for _, c := range []struct {
		name    string
		column  []layers.Layer
		depth   float64
		basis   reports.Basis
		atLeast bool
		mulm    float64
	}{
		{"rust front", []layers.Layer{testbeds.Of(12, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(20, palette.Black)}, 16, reports.RustFront, false, 12},
		{"no rust", []layers.Layer{testbeds.Of(12, palette.MulmLight), testbeds.Of(9, palette.Native), testbeds.Of(20, palette.Grey)}, 21, reports.ReducedTop, false, 12},
		{"nothing reduced", []layers.Layer{testbeds.Of(12, palette.MulmLight), testbeds.Of(40, palette.Native)}, 52, reports.NotReached, true, 12},
		{"rust deeper too", []layers.Layer{testbeds.Of(10, palette.Rust), testbeds.Of(20, palette.Black), testbeds.Of(5, palette.Rust)}, 10, reports.RustFront, false, 0},
		{"rust below black only", []layers.Layer{testbeds.Of(10, palette.MulmDark), testbeds.Of(20, palette.Black), testbeds.Of(5, palette.Rust)}, 10, reports.ReducedTop, false, 10},
		{"rust in two shades", []layers.Layer{testbeds.Of(10, palette.MulmDark), testbeds.Of(3, palette.Rust), testbeds.Of(5, palette.Rust), testbeds.Of(9, palette.Native)}, 18, reports.RustFront, false, 10},
		{"mulm in two shades under a mat", []layers.Layer{testbeds.Of(2, palette.MatWhite), testbeds.Of(8, palette.MulmLight), testbeds.Of(5, palette.MulmDark), testbeds.Of(9, palette.Rust)}, 24, reports.RustFront, false, 13},
		{"film on the mulm", []layers.Layer{testbeds.Of(4, palette.FilmGreen), testbeds.Of(8, palette.MulmLight), testbeds.Of(5, palette.Rust)}, 17, reports.RustFront, false, 12},
	} {
		t.Run(c.name, func(t *testing.T) {
			core := interpret(testbeds.Steady(c.column...)).Cores[0]
			o := core.OxicDepth
			if math.Abs(o.Value-c.depth) > 0.1 || o.Basis != c.basis || o.AtLeast != c.atLeast {
				t.Errorf("oxic depth %+v, want %v mm by %s, at least: %v", *o, c.depth, c.basis, c.atLeast)
			}
			if math.Abs(core.Mulm.Value-c.mulm) > 0.1 {
				t.Errorf("mulm %v mm, want %v", core.Mulm.Value, c.mulm)
			}
		})
	}
}

// TestInterpret_twoInchesInTwoYears: 50 mm in two years is about 2 mm a month (common
// practice, no source).
func TestInterpret_twoInchesInTwoYears(t *testing.T) {
	column := func(mm float64) []layers.Layer {
		return []layers.Layer{testbeds.Of(mm, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	}
	tank := layers.Tank{ID: "t", SetUp: testbeds.Day("2024-10-01"), Cores: []layers.Core{{Date: testbeds.Day("2026-10-01"), Station: "front", Layers: column(50)}}}
	once := interpret(tank)
	if a := once.Accumulation; a.Basis != reports.SinceSetUp || math.Abs(a.Value-2.08) > 0.01 {
		t.Errorf("one reading: %+v, want 50 mm in 24 months", *a)
	}
	if f := once.LimitReached; f == nil || f.Expected == nil || *f.Expected-once.AsOf > 31 {
		t.Errorf("at the limit the forecast is %+v", f)
	}
	monthly := tank
	monthly.Cores = nil
	for m := range 25 {
		date := tank.SetUp + layers.Date(math.Round(float64(m)*layers.DaysPerMonth))
		monthly.Cores = append(monthly.Cores, layers.Core{Date: date, Station: "front", Layers: column(max(1, math.Round(float64(m)*50/24)))})
	}
	if a := interpret(monthly).Accumulation; a.Basis != reports.Trend || a.Readings != 25 || math.Abs(a.Value-2.08) > 0.05 {
		t.Errorf("25 readings: %+v, want 2.08 mm a month", *a)
	}
}

// TestInterpret_removals: a siphoning is no loss of growth, whether it was entered or not; what was not
// entered is asked about, once.
func TestInterpret_removals(t *testing.T) {
	tank := testbeds.TankOf(12, func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(float64(5+2*(m%6)), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	})
	want := 2 * layers.DaysPerMonth / 30
	asked := interpret(tank)
	if got := asked.Accumulation.Value; math.Abs(got-want) > 0.15 {
		t.Errorf("rate %v where no siphoning was entered, want %.3f", got, want)
	}
	if len(asked.Questions) != 1 || asked.Questions[0].Mends[0].Slip != reports.SlipRemoval || asked.Questions[0].Date != tank.Cores[6].Date {
		t.Fatalf("questions %+v, want one about %s", asked.Questions, tank.Cores[6].Date)
	}
	tank.Events = []layers.Event{*asked.Questions[0].Mends[0].Event(tank.Cores[6].Date)}
	told := interpret(tank)
	if got := told.Accumulation.Value; math.Abs(got-want) > 0.15 {
		t.Errorf("rate %v across the siphoning, want %.3f", got, want)
	}
	if len(told.Questions) > 0 {
		t.Errorf("it is asked about what was entered: %q", told.Questions[0].Text)
	}
	tank.Events = []layers.Event{{Date: tank.Cores[5].Date, Kind: layers.EventSiphon}} // after the sixth reading of that day
	if same := interpret(tank).Accumulation; math.Abs(same.Value-told.Accumulation.Value) > 0.02 {
		t.Errorf("rate %v with the siphoning on the day of the reading, %v after it", same.Value, told.Accumulation.Value)
	}
}

// TestInterpret_asOf: what was written down later is not known then.
func TestInterpret_asOf(t *testing.T) {
	tank := testbeds.TankOf(6, func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(float64(10+4*m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	})
	then := tank
	then.Cores = tank.Cores[:3]
	s := testbeds.Few()
	s.AsOf = tank.Cores[2].Date
	got := Interpret(slices.Values([]layers.Tank{tank}), s).Tanks[0]
	want := Interpret(slices.Values([]layers.Tank{then}), testbeds.Few()).Tanks[0]
	if encoded(t, got) != encoded(t, want) {
		t.Errorf("as of %s:\n%s\nwant\n%s", s.AsOf, encoded(t, got), encoded(t, want))
	}
}

// TestInterpret_history lists every core by date, the newest with the very numbers
// that they carry without it.
func TestInterpret_history(t *testing.T) {
	tank := testbeds.TankOf(4, func(m int) []layers.Layer {
		return []layers.Layer{testbeds.Of(float64(10+m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)}
	})
	s := testbeds.Few()
	s.History = true
	all := Interpret(slices.Values([]layers.Tank{tank}), s).Tanks[0]
	newest := Interpret(slices.Values([]layers.Tank{tank}), testbeds.Few()).Tanks[0]
	if len(all.Cores) != 4 || all.Cores[0].Date != tank.Cores[0].Date {
		t.Fatalf("%d cores from %s, want 4 from %s", len(all.Cores), all.Cores[0].Date, tank.Cores[0].Date)
	}
	all.Cores = all.Cores[3:]
	if encoded(t, all) != encoded(t, newest) {
		t.Error("history changes the findings")
	}
}
