package judge

import (
	"math"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
	"panecore/reports/stats"
)

// wrongPeace is the first rule that is told beside "No limit is reached" and gainsays it; empty:
// there is none.
func wrongPeace(found reports.Tank) string {
	if !says("no limit is reached")(found) {
		return ""
	}
	for _, r := range slices.Concat(found.Advice.Because, found.Advice.Against) {
		if !slices.Contains(testbeds.Harmless(), r.Rule) {
			return r.Rule
		}
	}
	return ""
}

// A veterinarian is named wherever a hand goes in, something rots or the water comes first, and
// not where nothing is amiss.
func TestCautions_vet(t *testing.T) {
	for name, c := range map[string]struct {
		tank layers.Tank
		want bool
	}{
		"calm":                 {testbeds.SandBed(12), false},
		"siphoning":            {testbeds.SandBed(60), true},
		"stirring":             {testbeds.BareBed(9), true},
		"melting plants":       {testbeds.Told(testbeds.SandBed(12), tellSign(layers.PlantMelt)), true},
		"gasping":              {testbeds.Told(testbeds.SandBed(12), tellSign(layers.Gasping)), true},
		"gasping that passed":  {testbeds.Told(testbeds.SandBed(12), tellSignBefore(layers.Gasping), tellWater(testedOxygen(testbeds.LastRead-2, "07:00", 7))), true},
		"oxygen short":         {testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead, "07:00", 2))), true},
		"a smell of eggs only": {testbeds.Told(testbeds.SandBed(12), tellSign(layers.EggSmell)), false},
	} {
		if got := slices.ContainsFunc(interpret(c.tank).Advice.Cautions, func(text string) bool { return strings.Contains(text, "aquatic veterinarian") }); got != c.want {
			t.Errorf("%s: an aquatic veterinarian is named: %t", name, got)
		}
	}
}

// TestRehearse_never: a rehearsal says what forbids the hand that it rehearses, and that of all
// that makes the water more urgent. What is rehearsed is a bed that nothing forbids otherwise.
func TestRehearse_never(t *testing.T) {
	free := testbeds.Wet(testbeds.BareBed(9), layers.Pumped, new(7.5))
	last := free.Cores[len(free.Cores)-1].Date
	tested := func(change func(*layers.WaterTest)) layers.Tank {
		return testbeds.Told(free, func(t *layers.Tank) {
			t.Water = slices.Clone(t.Water)
			change(&t.Water[0])
		})
	}
	short := tested(func(w *layers.WaterTest) { w.OxygenMGPerL = new(2.5) })
	modelled := testbeds.Told(testbeds.Wet(testbeds.BareBed(9), layers.Still, nil), testbeds.TellLimit(layers.LimitOxygen, 7.5))
	for _, c := range []struct {
		name         string
		tank         layers.Tank
		stir, siphon string // phrases of why not; empty: nothing forbids it
	}{
		{name: "nothing", tank: free},
		{"gasping", testbeds.Told(tested(func(w *layers.WaterTest) { w.Date -= 5 }), tellSign(layers.Gasping)), "gasped", "gasped"},
		{"oxygen measured short", short, "below the limit of 3 mg/L", "below the limit of 3 mg/L"},
		{"un-ionised ammonia", tested(func(w *layers.WaterTest) { w.TotalAmmonia, w.PH = new(1.5), new(8.2) }), "Un-ionised ammonia was", "Un-ionised ammonia was"},
		{"total ammonia", tested(func(w *layers.WaterTest) { w.TotalAmmonia, w.PH = new(2.5), new(6.2) }), "Total ammonia was", "Total ammonia was"},
		{"a death in want", testbeds.Told(free, tellEvents(eventOn(last, layers.EventDeadAnimal), eventOn(last-1, layers.EventDeadAnimal))), "An animal died", "An animal died"},
		{"a smell of eggs", testbeds.Told(free, tellSign(layers.EggSmell)), "smell of rotten eggs", "smell of rotten eggs"},
		{"siphoned 13 days ago", testbeds.Told(free, tellEvents(siphonedOn(last-13, 0.25, 10))), "Last siphoned", "Last siphoned"},
		{"siphoned 14 days ago", testbeds.Told(free, tellEvents(siphonedOn(last-14, 0.25, 10))), "", ""},
		{"read 121 days ago", testbeds.Told(free, tellEvents(eventOn(last+121, layers.EventNote)), tellWater(testedWarmth(last+121, 24))), "121 days ago", "121 days ago"},
		{"a photo in doubt", testbeds.Told(free, tellNewestOnly, tellPhoto(true)), "in doubt", "in doubt"},
		{"a stale alarm of the water", testbeds.Told(short, tellEvents(eventOn(last+31, layers.EventNote))), "past its limit", "past its limit"},
		{"roots", testbeds.Told(free, tellRoots), "rooted", ""},
		{"roots not told of", testbeds.Told(free, func(t *layers.Tank) { t.RootedPlants = nil }), "is not given", ""},
		{"too shallow", testbeds.Wet(testbeds.Steady(testbeds.Of(9, palette.Native)), layers.Pumped, new(7.5)), "too shallow", ""},
		{"a thick black zone", testbeds.Wet(testbeds.BareBed(30), layers.Pumped, new(7.5)), "The black zone is", ""},
		{"modelled oxygen short", modelled, "oxygen at the bottom", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			for method, want := range map[reports.Method]string{reports.MethodStir: c.stir, reports.MethodSiphon: c.siphon} {
				never := rehearse(t, c.tank, method, 0.05, 5).Never
				if want == "" && never != "" || !strings.Contains(never, want) {
					t.Errorf("%s never, since %q; want %q", method, never, want)
				}
			}
			a := interpret(c.tank).Advice
			if a.Action == reports.Stir && c.stir != "" || a.Action == reports.Siphon && c.siphon != "" {
				t.Errorf("the advice is to %s", a.Action)
			}
		})
	}
	if a := interpret(free).Advice; a.Action != reports.Stir {
		t.Errorf("with nothing against it the advice is to %s: this test shows nothing", a.Action)
	}
}

// TestAdvice_how: how much of the floor is worked at a time, and how deep: a quarter and 10 mm
// (common practice, no source), or what the keeper has set.
func TestAdvice_how(t *testing.T) {
	for name, c := range map[string]struct {
		tank layers.Tank
		want string
	}{
		"siphon":      {testbeds.SandBed(60), "from at most 25 % of the floor at a time"},
		"siphon, own": {testbeds.Told(testbeds.SandBed(60), testbeds.TellLimit(layers.LimitSiphonShare, 0.1)), "from at most 10 % of the floor at a time"},
		"stir":        {testbeds.BareBed(9), "Stir the top 10 mm of the unrooted bed, at most 25 % of the floor at a time"},
		"stir, own":   {testbeds.Told(testbeds.BareBed(9), testbeds.TellLimit(layers.LimitStirDepth, 8)), "Stir the top 8 mm of the unrooted bed"},
		"leave":       {testbeds.SandBed(12), "Leave the bed as it is."},
	} {
		if how := interpret(c.tank).Advice.How; !strings.Contains(how, c.want) {
			t.Errorf("%s: %q, want %q", name, how, c.want)
		}
	}
}

// TestWater_highestPH: of several pH on the day of the ammonia the highest counts, whenever it was
// measured.
func TestWater_highestPH(t *testing.T) {
	for name, ph := range map[string][3]float64{"first": {8.4, 7, 6.8}, "between": {6.8, 8.4, 7}, "last": {6.8, 7, 8.4}} {
		var tests []layers.WaterTest
		for i, clock := range []string{"07:00", "15:00", "20:00"} {
			tests = append(tests, testedPH(testbeds.LastRead, clock, ph[i]))
		}
		tests[0].TotalAmmonia, tests[0].TemperatureC = new(1.0), new(25.0)
		if found := interpret(testbeds.Told(testbeds.SandBed(12), tellWater(tests...))); !alarmed("ammonia-measured-over")(found) {
			t.Errorf("the highest pH comes %s: the water does not come first", name)
		}
	}
}

// TestInterpret_doubtOfTheKit: un-ionised ammonia is as doubtful as the kit: ±0.2 of pH and
// ±0.25 mg N/L as two standard deviations (assumption). Of 20 mg N/L the pH alone makes the range.
func TestInterpret_doubtOfTheKit(t *testing.T) {
	a := interpret(testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, 20, 7.5, 25)))).Ammonia
	for end, want := range map[float64]float64{a.Low: 7.5 - 0.1*stats.Z90, a.Value: 7.5, a.High: 7.5 + 0.1*stats.Z90} {
		if got := 20 * bed.UnionisedShare(want, 25); math.Abs(end/got-1) > 0.03 { // of 200 draws
			t.Errorf("%+v: want %.4f at pH %.3f", *a, got, want)
		}
	}
	few := interpret(testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, 0.2, 7.5, 25)))).Ammonia
	if share := bed.UnionisedShare(7.5, 25); few.High < (0.2+0.125*stats.Z90)*share || few.Low > 0.01*share {
		t.Errorf("%+v does not hold the kit's doubt of a quarter of a milligram", *few)
	}
}

// TestInterpret_disagreeingStations: where stations disagree on a rate, the rate of the floor is as open
// as they differ: two stations stand still, one grows by 4 mm a month.
func TestInterpret_disagreeingStations(t *testing.T) {
	tank := testbeds.Told(testbeds.TankOf(10, func(m int) []layers.Layer { return testbeds.SandColumn(float64(20 + m%2)) }), func(t *layers.Tank) {
		for m, core := range slices.Clone(t.Cores) {
			back, side := core, core
			back.Station, side.Station = "back", "side"
			side.Layers = testbeds.SandColumn(10 + 4*float64(m)*30/layers.DaysPerMonth)
			t.Cores = append(t.Cores, back, side)
		}
	})
	found := interpret(tank)
	if a := found.Accumulation; a.Value < 1 || a.Value > 1.7 || a.Low > 0.7 || a.High < 2 || a.Basis != reports.Trend {
		t.Errorf("accumulation %+v", *a)
	}
	if !says("the stations disagree on the accumulation")(found) {
		t.Errorf("notices %q", found.Notices)
	}
}

// TestInterpret_unsoundInNoRate: a slip that is left as it is moves no rate.
func TestInterpret_unsoundInNoRate(t *testing.T) {
	grows := func(m int) []layers.Layer { return testbeds.SandColumn(float64(10 + m)) }
	sound := interpret(testbeds.TankOf(7, grows)).Accumulation
	for name, change := range map[string]func([]layers.Layer) []layers.Layer{
		"ten times": func(l []layers.Layer) []layers.Layer { return layers.Scaled(l, 10) },
		"turned":    layers.TurnedOver,
	} {
		for _, at := range []int{3, 7} {
			tank := testbeds.TankOf(8, grows)
			tank.Cores[at].Layers = change(tank.Cores[at].Layers)
			if got := interpret(tank).Accumulation; math.Abs(got.Value-sound.Value) > 0.05 || got.Readings != 7 {
				t.Errorf("%s at reading %d: %+v, without it %+v", name, at+1, *got, *sound)
			}
		}
	}
}

// TestForecast_fromTheNewestCore: a note a hundred days later tells nothing of the mulm, so it
// moves no forecast.
func TestForecast_fromTheNewestCore(t *testing.T) {
	bed := testbeds.TankOf(8, func(m int) []layers.Layer { return testbeds.SandColumn(float64(10 + 2*m)) })
	newest := bed.Cores[7].Date
	then, now := interpret(bed).LimitReached, interpret(testbeds.Told(bed, tellEvents(eventOn(newest+100, layers.EventNote)))).LimitReached
	for end, dates := range map[string][2]*layers.Date{
		"earliest": {then.Earliest, now.Earliest}, "expected": {then.Expected, now.Expected}, "latest": {then.Latest, now.Latest},
	} {
		if (dates[0] == nil) != (dates[1] == nil) || dates[0] != nil && *dates[0] != *dates[1] {
			t.Errorf("%s: %v, after a note %v", end, dates[0], dates[1])
		}
	}
}

// TestAlarms_sayHowOld: what was seen or measured is told with its age.
func TestAlarms_sayHowOld(t *testing.T) {
	for name, tank := range map[string]layers.Tank{
		"gasping":       testbeds.Told(testbeds.SandBed(12), tellSign(layers.Gasping)),
		"oxygen":        testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead, "07:00", 2))),
		"un-ionised":    testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, 1, 8.2, 25))),
		"total ammonia": testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, 3, 0, 0))),
		"death":         testbeds.Told(testbeds.SandBed(12), tellFlow(layers.Still), tellEvents(eventOn(testbeds.LastRead, layers.EventDeadAnimal))),
		"warmth":        testbeds.Told(testbeds.SandBed(12), tellWater(testedWarmth(testbeds.LastRead, 33))),
	} {
		for days, want := range map[float64]string{1: ", yesterday", 12: ", 12 days ago"} {
			if found := interpret(later(tank)(days)); len(found.Watch.Signs) != 1 || !strings.Contains(found.Watch.Signs[0], want) {
				t.Errorf("%s: %q, want%s", name, found.Watch.Signs, want)
			}
		}
		if found := interpret(tank); len(found.Watch.Signs) != 1 || strings.Contains(found.Watch.Signs[0], " ago") {
			t.Errorf("%s: %q on its day", name, found.Watch.Signs)
		}
	}
}

// TestNewOverview_waterFirst: a tank whose water comes first stands before one in trouble that has
// waited longer, and is due from the first day.
func TestNewOverview_waterFirst(t *testing.T) {
	named := func(id string, tank layers.Tank) layers.Tank { tank.ID = id; return tank }
	today := testbeds.LastRead + 30
	found := Interpret(slices.Values([]layers.Tank{
		named("a smelly", testbeds.Told(testbeds.SandBed(12), tellSign(layers.EggSmell))),
		named("b gasping", testbeds.Told(testbeds.SandBed(12), tellEvents(eventOn(today, layers.EventNote)), tellWater(testedOxygen(today, "07:00", 2)))),
	}), testbeds.Few())
	o := NewOverview(found, today)
	if o.Tanks[0].ID != "b gasping" || !o.Tanks[0].Due {
		t.Errorf("first comes %s, due: %t", o.Tanks[0].ID, o.Tanks[0].Due)
	}
	if o.Tanks[0].NextReading <= o.Tanks[1].NextReading {
		t.Errorf("next readings %s and %s: this test shows nothing", o.Tanks[0].NextReading, o.Tanks[1].NextReading)
	}
}

// TestAdvice_laterTellsWhy: while the water comes first, what the bed says for later has the reason that it gives
// where the water is right.
func TestAdvice_laterTellsWhy(t *testing.T) {
	deep := testbeds.Steady(testbeds.Of(70, palette.MulmLight), testbeds.Of(40, palette.Native))
	sound, short := interpret(testbeds.Wet(deep, layers.Pumped, new(7.5))).Advice, interpret(testbeds.Wet(deep, layers.Pumped, new(1.0))).Advice
	if sound.Action != reports.Siphon || len(sound.Because) == 0 || len(short.WaterFirst) == 0 {
		t.Fatalf("sound: %s, short of oxygen: %s, %q: no test", sound.Action, short.Action, short.WaterFirst)
	}
	if !slices.ContainsFunc(sound.Because, func(r reports.Reason) bool { return slices.Contains(short.Later, r.Text) }) {
		t.Errorf("for later: %q, want a reason of %+v", short.Later, sound.Because)
	}
}

// TestAdvice_troubleInAnyOrder: troubles that nobody looked after are told by their days, however they are listed.
func TestAdvice_troubleInAnyOrder(t *testing.T) {
	melt, death := eventOn(testbeds.LastRead-2, layers.EventPlantMelt), eventOn(testbeds.LastRead, layers.EventDeadAnimal)
	told := func(events ...layers.Event) string {
		found := interpret(later(testbeds.Told(testbeds.SandBed(12), tellEvents(events...)))(31))
		for _, r := range slices.Concat(found.Advice.Because, found.Advice.Against) {
			if r.Rule == "trouble-not-followed-up" {
				return r.Text
			}
		}
		t.Fatalf("nothing told of %v", events)
		return ""
	}
	if one, other := told(melt, death), told(death, melt); one != other {
		t.Errorf("told %q, and in another order %q", one, other)
	}
}
