package judge

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testbeds"
)

// drawLife is a tank of any records at all, with water tests, signs and events about the days of
// its cores. No two tests are of one hour of one day, which no document may hold.
func drawLife(t *rapid.T) layers.Tank {
	tank := drawRecords(t)
	tank.Flow = rapid.SampledFrom([]layers.Flow{"", layers.Still, layers.Livestock, layers.Bubbled, layers.Pumped}).Draw(t, "flow")
	tank.RootedPlants = rapid.SampledFrom([]*bool{nil, new(false), new(true)}).Draw(t, "rooted")
	tank.Burrowers = rapid.SampledFrom([]*bool{nil, new(false), new(true)}).Draw(t, "burrowers")
	if rapid.Bool().Draw(t, "native told") {
		tank.Native = []layers.Native{{Name: "laid", Kind: rapid.SampledFrom([]layers.Kind{layers.Sand, layers.Gravel, layers.Soil}).Draw(t, "kind"), Color: testbeds.BandColor[palette.Native]}}
	}
	if rapid.Bool().Draw(t, "vessel told") {
		tank.Vessel = rapid.SampledFrom([]*layers.Vessel{boxVessel, jarVessel, tallVessel}).Draw(t, "vessel")
	}
	on := func() layers.Date {
		return tank.Cores[rapid.IntRange(0, len(tank.Cores)-1).Draw(t, "about")].Date + layers.Date(rapid.IntRange(-5, 40).Draw(t, "after"))
	}
	number := func(what string, low, high float64) *float64 {
		if !rapid.Bool().Draw(t, what+" measured") {
			return nil
		}
		return new(rapid.Float64Range(low, high).Draw(t, what))
	}
	for range rapid.IntRange(0, 4).Draw(t, "tests") {
		test := layers.WaterTest{
			Date: on(), Time: rapid.SampledFrom([]string{"", "06:30", "09:59", "10:00", "15:00", "22:00"}).Draw(t, "time"),
			PH: number("pH", 6, 9), TemperatureC: number("temperature", 8, 33), TotalAmmonia: number("ammonia", 0, 4), OxygenMGPerL: number("oxygen", 1, 9),
		}
		if !slices.ContainsFunc(tank.Water, func(w layers.WaterTest) bool { return w.Date == test.Date && w.Time == test.Time }) {
			tank.Water = append(tank.Water, test)
		}
	}
	kinds := []layers.EventKind{layers.EventSiphon, layers.EventStir, layers.EventWaterChange, layers.EventTopUpSubstrate, layers.EventReplant, layers.EventDeadAnimal, layers.EventPlantMelt, layers.EventNote}
	for range rapid.IntRange(0, 3).Draw(t, "events") {
		tank.Events = append(tank.Events, eventOn(on(), rapid.SampledFrom(kinds).Draw(t, "event")))
	}
	all := []layers.Sign{layers.GasBubbles, layers.EggSmell, layers.PlantMelt, layers.DeadAnimal, layers.Gasping, layers.WhiteThreads, layers.RootsDeep, layers.Burrowers}
	for i := range tank.Cores {
		if rapid.IntRange(0, 3).Draw(t, "signs") == 0 {
			tank.Cores[i].Signs = []layers.Sign{rapid.SampledFrom(all).Draw(t, "sign")}
		}
		tank.Cores[i].Lit = rapid.SampledFrom([]*bool{nil, nil, new(false), new(true)}).Draw(t, "lit")
		tank.Cores[i].Sure = rapid.IntRange(0, 5).Draw(t, "sure") == 0
	}
	return tank
}

func interpretFew(tank layers.Tank) reports.Tank {
	return Interpret(slices.Values([]layers.Tank{tank}), testbeds.Few()).Tanks[0]
}

// TestAdvice_holdsTogether checks what must be true of the advice on any life at all.
func TestAdvice_holdsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawLife(t)
		found := interpretFew(tank)
		a := found.Advice
		if len(a.WaterFirst) > 0 && (a.Action != reports.Leave || a.Shares.Leave != 1 || len(a.Later) == 0 || tellsToDisturb(a.How)) {
			t.Fatalf("the water comes first, %q, and the advice is %s, %+v: %s", a.WaterFirst, a.Action, a.Shares, a.How)
		}
		if a.NextReading < found.AsOf || found.Watch.NextReading != a.NextReading {
			t.Fatalf("as of %s the next reading is on %s, to watch on %s", found.AsOf, a.NextReading, found.Watch.NextReading)
		}
		if rule := wrongPeace(found); rule != "" {
			t.Fatalf("no limit is reached, beside %s", rule)
		}
		for _, q := range found.Questions {
			if last := q.Mends[len(q.Mends)-1].Slip; last != reports.SlipNone && last != reports.SlipName {
				t.Fatalf("the last answer to %q is %s", q.Text, last)
			}
			i := slices.IndexFunc(tank.Cores, func(c layers.Core) bool { return c.Station == q.Station && c.Date == q.Date })
			if tank.Cores[i].Sure {
				t.Fatalf("asked %q of a core whose keeper is sure of it", q.Text)
			}
		}
		if again := interpretFew(tank); encoded(t, again) != encoded(t, found) {
			t.Fatalf("two runs differ:\n%s\n%s", encoded(t, found), encoded(t, again))
		}
	})
}

// TestAdvice_orderDoesNotMatter: a document may list cores, tests and events in any order,
// whatever they note.
func TestAdvice_orderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawLife(t)
		shuffled := tank
		shuffled.Cores = rapid.Permutation(tank.Cores).Draw(t, "cores")
		shuffled.Water = rapid.Permutation(tank.Water).Draw(t, "water")
		shuffled.Events = rapid.Permutation(tank.Events).Draw(t, "events")
		if want, got := encoded(t, interpretFew(tank)), encoded(t, interpretFew(shuffled)); got != want {
			t.Fatalf("findings differ:\n%s\n%s", want, got)
		}
	})
}

// TestAdvice_troubleOfTwoStations: trouble that two stations note at one time is told of both, in
// whatever order the document lists them.
func TestAdvice_troubleOfTwoStations(t *testing.T) {
	tank := testbeds.Told(testbeds.SandBed(12), testbeds.TellSide, tellEvents(eventOn(testbeds.LastRead+40, layers.EventNote)), func(t *layers.Tank) {
		for i := range t.Cores {
			if t.Cores[i].Date == testbeds.LastRead {
				t.Cores[i].Signs = []layers.Sign{layers.EggSmell}
				if t.Cores[i].Station == "side" {
					t.Cores[i].Signs = []layers.Sign{layers.Gasping}
				}
			}
		}
	})
	turned := testbeds.Told(tank, func(t *layers.Tank) { slices.Reverse(t.Cores) })
	for name, tank := range map[string]layers.Tank{"as listed": tank, "the other way": turned} {
		found := interpret(tank)
		for _, trouble := range []string{"egg smell", "gasping"} {
			if !says(trouble)(found) {
				t.Errorf("%s: not a word of %s", name, trouble)
			}
		}
	}
}

// TestAdvice_rotBringsNoHand: a sign of something rotting, noted beside what is told, never has a
// hand go in that would not have, but for plants that melt in still water or in water that may be.
func TestAdvice_rotBringsNoHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawLife(t)
		rot := rapid.SampledFrom(infer.DecaySigns()).Draw(t, "rot")
		at := rapid.IntRange(0, len(tank.Cores)-1).Draw(t, "at")
		rotten := testbeds.Told(tank, func(t *layers.Tank) {
			t.Cores[at].Signs = append(slices.Clip(t.Cores[at].Signs), rot)
		})
		before, after := interpretFew(tank).Advice, interpretFew(rotten).Advice
		if melts := rot == layers.PlantMelt && (tank.Flow == layers.Still || tank.Flow == ""); before.Action == reports.Leave && after.Action != reports.Leave && !melts {
			t.Fatalf("with %s at core %d leaving (%+v) turns into %s (%+v)", rot, at, before.Shares, after.Action, after.Shares)
		}
		if len(before.WaterFirst) > 0 && len(after.WaterFirst) == 0 {
			t.Fatalf("with %s at core %d the water comes first no more: %q", rot, at, before.WaterFirst)
		}
	})
}

// TestAdvice_sureOfAll: a keeper who is sure of every core is asked nothing, and that takes no
// alarm of the water away.
func TestAdvice_sureOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := drawLife(t)
		sure := testbeds.Told(tank, func(t *layers.Tank) {
			for i := range t.Cores {
				t.Cores[i].Sure = true
			}
		})
		before, after := interpretFew(tank), interpretFew(sure)
		if fmt.Sprint(before.Advice.WaterFirst) != fmt.Sprint(after.Advice.WaterFirst) {
			t.Fatalf("the water comes first for %q, and for %q where the keeper is sure", before.Advice.WaterFirst, after.Advice.WaterFirst)
		}
		if len(after.Questions) > 0 {
			t.Fatalf("asked %q", after.Questions[0].Text)
		}
		for _, core := range sure.Cores {
			if asked := Ask(sure, core, nil, testbeds.Few()); len(asked) > 0 {
				t.Fatalf("asked %q", asked[0].Text)
			}
		}
	})
}
