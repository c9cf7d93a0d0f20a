package reports

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
)

// harmless are the rules that may be told beside "No limit is reached": they name no limit that is
// passed and nothing that is amiss.
func harmless() []string {
	return []string{
		"young-bed", "siphoned-lately", "stirred-lately", "roots-below-the-front", "burrowers-at-work", "gas-without-smell", "rooted-bed",
		"bed-too-shallow", "oxygen-barely-enough", "oxygen-unknown", "oxygen-unknown-in-still-water", "stirring-frees-too-much", "siphoning-frees-too-much", "nothing-presses",
	}
}

// wrongPeace is the first rule that is told beside "No limit is reached" and gainsays it; empty:
// there is none.
func wrongPeace(found Tank) string {
	if !says("no limit is reached")(found) {
		return ""
	}
	for _, r := range slices.Concat(found.Advice.Because, found.Advice.Against) {
		if !slices.Contains(harmless(), r.Rule) {
			return r.Rule
		}
	}
	return ""
}

// TestAdvice_noPeaceBesideTrouble: each rule by itself, in all draws, beside the one that says
// that nothing presses.
func TestAdvice_noPeaceBesideTrouble(t *testing.T) {
	rising := tankOf(8, func(m int) []layers.Layer {
		return []layers.Layer{of(10, palette.MulmLight), of(float64(60-3*m), palette.Rust), of(10, palette.Black), of(40, palette.Native)}
	})
	var sim simulation
	o, _ := sim.judge(wet(rising, layers.Pumped, nil), few)
	o.worked, o.tests.ammonia, o.tests.dawn = &layers.Event{Kind: layers.EventStir, Date: lastRead}, &ammoniaTest{date: lastRead}, &oxygenTest{date: lastRead} // what the sentences speak of
	for i := range rules[:fallback] {
		v := verdict{draws: 100, actions: [3]int{100, 0, 0}}
		v.spoke[i], v.spoke[fallback] = 100, 100
		peace := says("no limit is reached")(Tank{Advice: o.advice(&v, nil)})
		if name := rules[i].name; peace != slices.Contains(harmless(), name) {
			t.Errorf("beside %s no limit is reached: %t", name, peace)
		}
	}
}

// TestVerdict_heard: a rule is told from one draw in twenty on.
func TestVerdict_heard(t *testing.T) {
	for draws, want := range map[int]bool{0: false, 99: false, 100: true, 2000: true} {
		v := verdict{draws: 2000}
		v.spoke[0] = draws
		if got := v.heard(0); got != want {
			t.Errorf("a rule of %d draws in 2,000 is told: %t", draws, got)
		}
	}
}

// A rule that holds in half of the draws forbids the hand, and asks for its first steps and its wait.
func TestAdvice_halfOfTheDraws(t *testing.T) {
	var sim simulation
	o, _ := sim.judge(sandBed(12), few)
	smell := slices.IndexFunc(rules[:], func(r rule) bool { return r.name == "egg-smell" })
	for draws, want := range map[int]bool{999: false, 1000: true} {
		v := verdict{draws: 2000, actions: [3]int{2000, 0, 0}}
		v.spoke[smell] = draws
		if got := len(o.vetoes(&v, stirring).why) > 0; got != want {
			t.Errorf("a smell in %d draws of 2,000 forbids to stir: %t", draws, got)
		}
		if a := o.advice(&v, nil); (a.WaitDays == 7) != want || slices.Contains(a.First, aerate) != want {
			t.Errorf("a smell in %d draws of 2,000: %d days to wait, first %q", draws, a.WaitDays, a.First)
		}
	}
}

// TestOutlook_clarity: the shares from which on a reading is clear, fairly clear and unclear, of
// a tank whose record bears all of them.
func TestOutlook_clarity(t *testing.T) {
	o := newOutlook(told(sandBed(12), tellSide), few)
	alone := newOutlook(sandBed(12), few)
	for share, want := range map[float64]Clarity{
		1: Clear, 0.95: Clear, 0.9499: FairlyClear, 0.8: FairlyClear, 0.7999: Unclear, 0.6: Unclear, 0.5999: Divided, 0.34: Divided,
	} {
		if got, limited := o.clarity(share); got != want || len(limited) > 0 {
			t.Errorf("a share of %g is %s, limited by %q; want %s", share, got, limited, want)
		}
		if got, limited := alone.clarity(share); got == Clear || share < 0.95 && got != want || len(limited) != 1 {
			t.Errorf("at one station a share of %g is %s, limited by %q", share, got, limited)
		}
	}
}

// An unclear or divided reading is read again in a fortnight, a fairly clear one in a month.
func TestAdvice_waitOfTheUnclear(t *testing.T) {
	var sim simulation
	o, _ := sim.judge(told(sandBed(12), tellSide), few)
	for leave, want := range map[int]int{1000: 30, 800: 30, 799: 14, 599: 14} {
		v := verdict{draws: 1000, actions: [3]int{leave, 0, 1000 - leave}}
		if a := o.advice(&v, nil); a.Action != Leave || a.WaitDays != want {
			t.Errorf("%d of 1,000 draws for leaving: %s, %d days; want %d", leave, a.Clarity, a.WaitDays, want)
		}
	}
}

// TestUnsureLayer_hangs: an advice hangs on a name where the other name ends elsewhere, and that
// clearly; the mulm where it is another by more than a slip's.
func TestUnsureLayer_hangs(t *testing.T) {
	under := func(leave, siphon int, mulm float64) underName {
		return underName{ended: [3]int{leave, 0, siphon}, mulm: mulm * float64(leave+siphon)}
	}
	for _, c := range []struct {
		name          string
		first, second underName
		want          int
	}{
		{"alike", under(60, 40, 20), under(60, 40, 20), 0},
		{"just over the half to just under it", under(52, 48, 20), under(48, 52, 20), 0},
		{"less often by 29 in 100", under(65, 35, 20), under(36, 64, 20), 0},
		{"less often by 30 in 100", under(65, 35, 20), under(35, 65, 20), 2},
		{"less often, but the same advice", under(95, 5, 20), under(60, 40, 20), 0},
		{"mulm 10 mm apart", under(100, 0, 20), under(100, 0, 30), 0},
		{"mulm 10.1 mm apart", under(100, 0, 20), under(100, 0, 30.1), 1},
		{"mulm less by 10.1 mm", under(100, 0, 30.1), under(100, 0, 20), 1},
	} {
		l := unsureLayer{}
		l.under[palette.MulmLight], l.under[palette.Native] = c.first, c.second
		if got, words := l.hangs(palette.MulmLight, palette.Native, layers.MM); got != c.want || (words == "") != (got == 0) {
			t.Errorf("%s: weight %d, %q; want %d", c.name, got, words, c.want)
		}
	}
}

// TestNameQuestion_worthDoubting: a second name is asked after from one draw in ten on.
func TestNameQuestion_worthDoubting(t *testing.T) {
	o := newOutlook(told(sandBed(12), func(t *layers.Tank) {
		t.Cores[len(t.Cores)-1].Layers = unnamed(sandColumn(12)...)
	}), few)
	for second, want := range map[int]bool{99: false, 100: true} {
		l := unsureLayer{drawer: newDrawer(o.newest[0], "test", 1)}
		l.under[palette.MulmLight].ended = [3]int{1000 - second, 0, 0}
		l.under[palette.Native].ended = [3]int{0, 0, second}
		o.unsure = unsure{l}
		if _, asked := o.nameQuestion(); asked != want {
			t.Errorf("a name of %d draws in 1,000 is asked after: %t", second, asked)
		}
	}
}

// A veterinarian is named wherever a hand goes in, something rots or the water comes first, and
// not where nothing is amiss.
func TestCautions_vet(t *testing.T) {
	for name, c := range map[string]struct {
		tank layers.Tank
		want bool
	}{
		"calm":                 {sandBed(12), false},
		"siphoning":            {sandBed(60), true},
		"stirring":             {bareBed(9), true},
		"melting plants":       {told(sandBed(12), tellSign(layers.PlantMelt)), true},
		"gasping":              {told(sandBed(12), tellSign(layers.Gasping)), true},
		"gasping that passed":  {told(sandBed(12), tellSignBefore(layers.Gasping), tellWater(testedOxygen(lastRead-2, "07:00", 7))), true},
		"oxygen short":         {told(sandBed(12), tellWater(testedOxygen(lastRead, "07:00", 2))), true},
		"a smell of eggs only": {told(sandBed(12), tellSign(layers.EggSmell)), false},
	} {
		if got := slices.Contains(interpret(c.tank).Advice.Cautions, askAVet); got != c.want {
			t.Errorf("%s: an aquatic veterinarian is named: %t", name, got)
		}
	}
}

// TestRehearse_never: a rehearsal says what forbids the hand that it rehearses, and that of all
// that makes the water more urgent. What is rehearsed is a bed that nothing forbids otherwise.
func TestRehearse_never(t *testing.T) {
	free := wet(bareBed(9), layers.Pumped, ptr(7.5))
	last := free.Cores[len(free.Cores)-1].Date
	tested := func(change func(*layers.WaterTest)) layers.Tank {
		return told(free, func(t *layers.Tank) {
			t.Water = slices.Clone(t.Water)
			change(&t.Water[0])
		})
	}
	short := tested(func(w *layers.WaterTest) { w.OxygenMGPerL = ptr(2.5) })
	modelled := told(wet(bareBed(9), layers.Still, nil), tellLimit(layers.LimitOxygen, 7.5))
	for _, c := range []struct {
		name         string
		tank         layers.Tank
		stir, siphon string // phrases of why not; empty: nothing forbids it
	}{
		{name: "nothing", tank: free},
		{"gasping", told(tested(func(w *layers.WaterTest) { w.Date -= 5 }), tellSign(layers.Gasping)), "gasped", "gasped"},
		{"oxygen measured short", short, "under the limit of 3 mg/L", "under the limit of 3 mg/L"},
		{"un-ionised ammonia", tested(func(w *layers.WaterTest) { w.TotalAmmonia, w.PH = ptr(1.5), ptr(8.2) }), "Un-ionised ammonia stood", "Un-ionised ammonia stood"},
		{"total ammonia", tested(func(w *layers.WaterTest) { w.TotalAmmonia, w.PH = ptr(2.5), ptr(6.2) }), "Total ammonia stood", "Total ammonia stood"},
		{"a death in want", told(free, tellEvents(eventOn(last, layers.EventDeadAnimal), eventOn(last-1, layers.EventDeadAnimal))), "An animal died", "An animal died"},
		{"a smell of eggs", told(free, tellSign(layers.EggSmell)), "smell of eggs", "smell of eggs"},
		{"siphoned 13 days ago", told(free, tellEvents(siphonedOn(last-13, 0.25, 10))), "Last siphoned", "Last siphoned"},
		{"siphoned 14 days ago", told(free, tellEvents(siphonedOn(last-14, 0.25, 10))), "", ""},
		{"read 121 days ago", told(free, tellEvents(eventOn(last+121, layers.EventNote)), tellWater(testedWarmth(last+121, 24))), "121 days ago", "121 days ago"},
		{"a photo in doubt", told(free, tellNewestOnly, tellPhoto(true)), "in doubt", "in doubt"},
		{"a stale alarm of the water", told(short, tellEvents(eventOn(last+31, layers.EventNote))), "past its limit", "past its limit"},
		{"roots", told(free, tellRoots), "rooted", ""},
		{"roots not told of", told(free, func(t *layers.Tank) { t.RootedPlants = nil }), "is not told", ""},
		{"too shallow", wet(steady(of(9, palette.Native)), layers.Pumped, ptr(7.5)), "too shallow", ""},
		{"a thick black zone", wet(bareBed(30), layers.Pumped, ptr(7.5)), "The black zone is", ""},
		{"modelled oxygen short", modelled, "oxygen at the bottom", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			for method, want := range map[Method]string{MethodStir: c.stir, MethodSiphon: c.siphon} {
				never := rehearse(t, c.tank, method, 0.05, 5).Never
				if want == "" && never != "" || !strings.Contains(never, want) {
					t.Errorf("%s never, since %q; want %q", method, never, want)
				}
			}
			a := interpret(c.tank).Advice
			if a.Action == Stir && c.stir != "" || a.Action == Siphon && c.siphon != "" {
				t.Errorf("the advice is to %s", a.Action)
			}
		})
	}
	if a := interpret(free).Advice; a.Action != Stir {
		t.Errorf("with nothing against it the advice is to %s: this test shows nothing", a.Action)
	}
}

// What a hand would free forbids it in just those draws in which less of the floor than leastShare
// is within the limits. Of tanks of one bed the least water comes to that.
func TestAdvice_freesTooMuch(t *testing.T) {
	for _, c := range []struct {
		rule    string
		ammonia float64 // own limit, un-ionised, mg N/L: one at which both sides are tried
		share   func(*simulation) []float64
	}{
		{"stirring-frees-too-much", 0.0206, func(s *simulation) []float64 { return s.stirShare }},
		{"siphoning-frees-too-much", 0.0015, func(s *simulation) []float64 { return s.aeratedShare }},
	} {
		tried := map[bool]int{}
		for _, depth := range []float64{30, 60, 100, 200, 300, 400, 600} {
			tank := told(wet(healthyBed(), layers.Livestock, nil), tellLimit(layers.LimitStirDepth, 40), tellLimit(layers.LimitAmmonia, c.ammonia))
			tank.Vessel.WaterDepthMM = depth
			var sim simulation
			_, found := sim.judge(tank, Settings{Draws: DefaultDraws, Seed: DefaultSeed})
			var less float64
			for _, share := range c.share(&sim) {
				if share < leastShare {
					less += 1 / float64(len(c.share(&sim)))
				}
			}
			tried[less > 0.5]++
			if got := spokeIn(found, c.rule); math.Abs(got-less) > 0.001 && max(got, less) >= worthSaying {
				t.Errorf("%s, %g mm of water: told of %g of the draws, want %g", c.rule, depth, got, less)
			}
		}
		t.Logf("%s: %d of 7 tanks in most of the draws", c.rule, tried[true])
		if tried[true] == 0 || tried[false] == 0 {
			t.Errorf("%s: %v: one of them is not tried", c.rule, tried)
		}
	}
}

// TestVerdict_freesTooMuch: a draw in which a hand would free too much from the least share of the floor
// that is worth it, a twentieth, ends in leaving.
func TestVerdict_freesTooMuch(t *testing.T) {
	o := newOutlook(bareBed(9), few)
	for _, c := range []struct {
		name string
		draw scene
		want Action
	}{
		{"stirring as much as that", scene{reducedTop: 4, black: 9, stirShare: 0.05, siphonShare: 1}, Stir},
		{"stirring less than that", scene{reducedTop: 4, black: 9, stirShare: 0.0499, siphonShare: 1}, Leave},
		{"siphoning as much as that", scene{mulm: 60, reducedTop: 64, stirShare: 1, siphonShare: 0.05}, Siphon},
		{"siphoning less than that", scene{mulm: 60, reducedTop: 64, stirShare: 1, siphonShare: 0.0499}, Leave},
	} {
		c.draw.facts, c.draw.reached, c.draw.floor, c.draw.slack, c.draw.bottomKnown, c.draw.bottom = o.facts, true, 53, 1, true, 8
		var v verdict
		if got := v.hear(&c.draw); got != c.want {
			t.Errorf("%s: %s", c.name, got)
		}
	}
}

// TestAdvice_how: how much of the floor is worked at a time, and how deep: a quarter and 10 mm
// (common practice, no source), or what the keeper has set.
func TestAdvice_how(t *testing.T) {
	for name, c := range map[string]struct {
		tank layers.Tank
		want string
	}{
		"siphon":      {sandBed(60), "from at most 25 % of the floor at a time"},
		"siphon, own": {told(sandBed(60), tellLimit(layers.LimitSiphonShare, 0.1)), "from at most 10 % of the floor at a time"},
		"stir":        {bareBed(9), "Stir the top 10 mm of the unrooted bed, at most 25 % of the floor at a time"},
		"stir, own":   {told(bareBed(9), tellLimit(layers.LimitStirDepth, 8)), "Stir the top 8 mm of the unrooted bed"},
		"leave":       {sandBed(12), "Leave the bed as it is."},
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
			tests = append(tests, testedPH(lastRead, clock, ph[i]))
		}
		tests[0].TotalAmmonia, tests[0].TemperatureC = ptr(1.0), ptr(25.0)
		if found := interpret(told(sandBed(12), tellWater(tests...))); !alarmed("ammonia-measured-over")(found) {
			t.Errorf("the highest pH comes %s: the water does not come first", name)
		}
	}
}

// TestInterpret_doubtOfTheKit: un-ionised ammonia is as doubtful as the kit: ±0.2 of pH and
// ±0.25 mg N/L as two standard deviations (assumption). Of 20 mg N/L the pH alone makes the range.
func TestInterpret_doubtOfTheKit(t *testing.T) {
	a := interpret(told(sandBed(12), tellWater(testedAmmonia(lastRead, 20, 7.5, 25)))).Ammonia
	for end, want := range map[float64]float64{a.Low: 7.5 - 0.1*z90, a.Value: 7.5, a.High: 7.5 + 0.1*z90} {
		if got := 20 * bed.UnionisedShare(want, 25); math.Abs(end/got-1) > 0.02 {
			t.Errorf("%+v: want %.4f at pH %.3f", *a, got, want)
		}
	}
	few := interpret(told(sandBed(12), tellWater(testedAmmonia(lastRead, 0.2, 7.5, 25)))).Ammonia
	if share := bed.UnionisedShare(7.5, 25); few.High < (0.2+0.125*z90)*share || few.Low > 0.01*share {
		t.Errorf("%+v does not hold the kit's doubt of a quarter of a milligram", *few)
	}
}

// TestInterpret_disagreeingStations: where stations disagree on a rate, its limits span them, and
// not just what two thirds of the slopes show: two stations stand still, one grows by 4 mm a month.
func TestInterpret_disagreeingStations(t *testing.T) {
	tank := told(tankOf(10, func(m int) []layers.Layer { return sandColumn(float64(20 + m%2)) }), func(t *layers.Tank) {
		for m, core := range slices.Clone(t.Cores) {
			back, side := core, core
			back.Station, side.Station = "back", "side"
			side.Layers = sandColumn(10 + 4*float64(m)*30/layers.DaysPerMonth)
			t.Cores = append(t.Cores, back, side)
		}
	})
	found := interpret(tank)
	if a := found.Accumulation; a.Value > 1 || a.Low > 0 || a.High < 4 || a.Basis != Trend {
		t.Errorf("accumulation %+v", *a)
	}
	if !says("the stations disagree on the accumulation")(found) {
		t.Errorf("notices %q", found.Notices)
	}
}

// TestInterpret_unsoundInNoRate: a slip that is left as it is moves no rate.
func TestInterpret_unsoundInNoRate(t *testing.T) {
	grows := func(m int) []layers.Layer { return sandColumn(float64(10 + m)) }
	sound := interpret(tankOf(7, grows)).Accumulation
	for name, change := range map[string]func([]layers.Layer) []layers.Layer{
		"ten times": func(l []layers.Layer) []layers.Layer { return layers.Scaled(l, 10) },
		"turned":    layers.TurnedOver,
	} {
		for _, at := range []int{3, 7} {
			tank := tankOf(8, grows)
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
	bed := tankOf(8, func(m int) []layers.Layer { return sandColumn(float64(10 + 2*m)) })
	newest := bed.Cores[7].Date
	then, now := interpret(bed).LimitReached, interpret(told(bed, tellEvents(eventOn(newest+100, layers.EventNote)))).LimitReached
	for end, dates := range map[string][2]*layers.Date{
		"earliest": {then.Earliest, now.Earliest}, "expected": {then.Expected, now.Expected}, "latest": {then.Latest, now.Latest},
	} {
		if *dates[0] != *dates[1] {
			t.Errorf("%s: %s, after a note %s", end, dates[0], dates[1])
		}
	}
}

// TestAlarms_sayHowOld: what was seen or measured is told with its age.
func TestAlarms_sayHowOld(t *testing.T) {
	for name, tank := range map[string]layers.Tank{
		"gasping":       told(sandBed(12), tellSign(layers.Gasping)),
		"oxygen":        told(sandBed(12), tellWater(testedOxygen(lastRead, "07:00", 2))),
		"un-ionised":    told(sandBed(12), tellWater(testedAmmonia(lastRead, 1, 8.2, 25))),
		"total ammonia": told(sandBed(12), tellWater(testedAmmonia(lastRead, 3, 0, 0))),
		"death":         told(sandBed(12), tellFlow(layers.Still), tellEvents(eventOn(lastRead, layers.EventDeadAnimal))),
		"warmth":        told(sandBed(12), tellWater(testedWarmth(lastRead, 33))),
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
	today := lastRead + 30
	found := Interpret(slices.Values([]layers.Tank{
		named("a smelly", told(sandBed(12), tellSign(layers.EggSmell))),
		named("b gasping", told(sandBed(12), tellEvents(eventOn(today, layers.EventNote)), tellWater(testedOxygen(today, "07:00", 2)))),
	}), few)
	o := NewOverview(found, today)
	if o.Tanks[0].ID != "b gasping" || !o.Tanks[0].Due {
		t.Errorf("first comes %s, due: %t", o.Tanks[0].ID, o.Tanks[0].Due)
	}
	if o.Tanks[0].NextReading <= o.Tanks[1].NextReading {
		t.Errorf("next readings %s and %s: this test shows nothing", o.Tanks[0].NextReading, o.Tanks[1].NextReading)
	}
}

// TestOutlook_turnedAlone: a station's first core is held to be turned over from odds of a thousand
// to one on, by the colours of the palette alone.
func TestOutlook_turnedAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1000))
	least, most := math.Inf(1), math.Inf(-1)
	for range 600 {
		core := layers.Core{Date: lastRead, Station: "front"}
		for _, band := range []palette.Band{palette.Native, palette.Black, palette.Rust, palette.MulmDark, palette.MulmLight} {
			if rng.IntN(4) > 0 {
				layer := typed(rng, 5+30*rng.Float64(), band, bandColor[palette.Native])
				core.Layers = append(core.Layers, layer)
			}
		}
		if len(core.Layers) == 0 {
			continue
		}
		o := newOutlook(layers.Tank{ID: "t", SetUp: lastRead - 900, Cores: []layers.Core{core}}, few)
		turned := core
		turned.Layers = layers.TurnedOver(core.Layers)
		odds := o.matcher.Match(columnOf(turned)).Evidence() - o.matcher.Match(columnOf(core)).Evidence()
		if o.readings[0].slip == SlipTurnedOver {
			least = min(least, odds)
		} else {
			most = max(most, odds)
		}
	}
	t.Logf("turned over from odds of %.2f on, not up to %.2f", least, most)
	if thousand := math.Log(1000); most > thousand+0.05 || least < thousand-0.05 || least-most > 1 {
		t.Errorf("turned over from odds of e^%.2f on, not up to e^%.2f; want a thousand between them", least, most)
	}
}
