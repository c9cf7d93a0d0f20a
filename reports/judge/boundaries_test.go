package judge

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testbeds"
)

// A boundary is a number at which a rule, an alarm, a sign to watch or a question begins to
// hold: two records, one just inside of it and one just outside. Its numbers are those of
// the limits and of the constants of this package, whose sources stand there.
type boundary struct {
	name            string
	inside, outside float64
	tank            func(x float64) layers.Tank
	holds           func(reports.Tank) bool
}

// TestAdvice_boundaries: what holds inside of a number does not hold outside of it.
func TestAdvice_boundaries(t *testing.T) {
	all := slices.Concat(
		windowBoundaries(), bedBoundaries(), bareBoundaries(), rateBoundaries(), waterBoundaries(), alarmBoundaries(),
		watchBoundaries(), clarityBoundaries(), slipBoundaries(), firstCoreBoundaries(),
	)
	for _, b := range all {
		t.Run(b.name, func(t *testing.T) {
			if found := interpret(b.tank(b.inside)); !b.holds(found) {
				t.Errorf("it does not hold at %g: %s", b.inside, outcome(found))
			}
			if found := interpret(b.tank(b.outside)); b.holds(found) {
				t.Errorf("it holds at %g: %s", b.outside, outcome(found))
			}
			for _, x := range []float64{b.inside, b.outside} {
				if found := interpret(b.tank(x)); wrongPeace(found) != "" {
					t.Errorf("at %g no limit is reached, beside %s", x, wrongPeace(found))
				}
			}
		})
	}
}

// outcome is the gist of the findings, for who reads a failure.
func outcome(found reports.Tank) string {
	if found.Advice == nil {
		return "no advice"
	}
	a := found.Advice
	text := fmt.Sprintf("%s, %s, limited by %q", a.Action, a.Clarity, a.LimitedBy)
	for _, r := range slices.Concat(a.Because, a.Against) {
		text += fmt.Sprintf("; %s %.3f", r.Rule, r.Share)
	}
	for _, q := range found.Questions {
		text += fmt.Sprintf("; %s asked", q.Mends[0].Slip)
	}
	return text
}

// What is asked of the findings.

func spokeIn(found reports.Tank, rule string) (share float64) {
	if found.Advice == nil {
		return 0
	}
	for _, r := range slices.Concat(found.Advice.Because, found.Advice.Against) {
		if r.Rule == rule {
			return r.Share
		}
	}
	return 0
}

func tells(rule string) func(reports.Tank) bool {
	return func(found reports.Tank) bool { return spokeIn(found, rule) > 0 }
}

// mostly asks whether a rule spoke in most of the draws: so the number that was read has passed
// its limit, whatever is drawn about it.
func mostly(rule string) func(reports.Tank) bool {
	return func(found reports.Tank) bool { return spokeIn(found, rule) > 0.5 }
}

// alarmed asks whether the water comes first, by an alarm.
func alarmed(name string) func(reports.Tank) bool {
	return func(found reports.Tank) bool {
		return spokeIn(found, name) == 1 && len(found.Advice.WaterFirst) > 0 && len(found.Watch.Signs) > 0
	}
}

func asksFirst(slip reports.Slip) func(reports.Tank) bool {
	return func(found reports.Tank) bool {
		return len(found.Questions) > 0 && found.Questions[0].Mends[0].Slip == slip
	}
}

func says(phrase string) func(reports.Tank) bool {
	return func(found reports.Tank) bool {
		_, said := saying(spoken(found), phrase)
		return said
	}
}

func limitedBy(phrase string) func(reports.Tank) bool {
	return func(found reports.Tank) bool {
		_, said := saying(found.Advice.LimitedBy, phrase)
		return said
	}
}

// What is told of the tanks.

// later is a bed of which the newest record, a note, is so many days younger than the newest core.
func later(bed layers.Tank) func(float64) layers.Tank {
	return func(days float64) layers.Tank {
		return testbeds.Told(bed, tellEvents(eventOn(testbeds.LastRead+layers.Date(days), layers.EventNote)))
	}
}

// sideAhead is a bed whose newest core was read at another station too, so many days later and
// without its signs.
func sideAhead(bed layers.Tank) func(float64) layers.Tank {
	return func(days float64) layers.Tank {
		return testbeds.Told(bed, func(t *layers.Tank) {
			core := t.Cores[len(t.Cores)-1]
			core.Station, core.Signs, core.Date = "side", nil, core.Date+layers.Date(days)
			t.Cores = append(t.Cores, core)
		})
	}
}

// sideOf is a bed of so much mulm, mm, whose newest core was read at another station too, with so much there.
func sideOf(mulm float64) func(float64) layers.Tank {
	return func(side float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(mulm), func(t *layers.Tank) {
			core := t.Cores[len(t.Cores)-1]
			core.Station, core.Layers = "side", slices.Clone(core.Layers)
			core.Layers[0].ThicknessMM = side
			t.Cores = append(t.Cores, core)
		})
	}
}

// windowBoundaries are how long a thing counts that was done or seen, days.
func windowBoundaries() []boundary {
	var list []boundary
	for _, sign := range []struct {
		sign  layers.Sign
		holds func(reports.Tank) bool
	}{
		{layers.PlantMelt, tells("decay")},
		{layers.DeadAnimal, tells("decay")},
		{layers.WhiteThreads, tells("decay")},
		{layers.Gasping, alarmed("gasping")},
		{layers.EggSmell, tells("egg-smell")},
		{layers.RootsDeep, tells("roots-below-the-front")},
		{layers.Burrowers, tells("burrowers-at-work")},
		{layers.GasBubbles, tells("gas-without-smell")},
	} {
		bed := testbeds.Told(testbeds.SandBed(12), tellSign(sign.sign))
		list = append(list,
			boundary{"days that " + string(sign.sign) + " counts", 30, 31, later(bed), sign.holds},
			boundary{"days that " + string(sign.sign) + " counts, own", 10, 11, later(testbeds.Told(bed, testbeds.TellLimit(layers.LimitDecayDays, 10))), sign.holds},
		)
	}
	for _, kind := range []layers.EventKind{layers.EventPlantMelt, layers.EventDeadAnimal} {
		bed := testbeds.Told(testbeds.SandBed(12), tellEvents(eventOn(testbeds.LastRead, kind)))
		list = append(list,
			boundary{"days that an entered " + string(kind) + " counts", 30, 31, later(bed), tells("decay")},
			boundary{"days that an entered " + string(kind) + " counts, own", 29, 30, later(testbeds.Told(bed, testbeds.TellLimit(layers.LimitDecayDays, 29))), tells("decay")},
		)
	}
	for _, trouble := range []layers.Sign{layers.PlantMelt, layers.DeadAnimal, layers.WhiteThreads, layers.Gasping, layers.EggSmell} {
		list = append(list, boundary{"days from which " + string(trouble) + " wants another look", 31, 30, later(testbeds.Told(testbeds.SandBed(12), tellSign(trouble))), tells("trouble-not-followed-up")})
	}
	noFollower := testbeds.Told(testbeds.SandBed(12), tellPhoto(true))
	return append(list,
		boundary{"days between stations read at one time, alone", 8, 7, sideAhead(testbeds.SandBed(12)), limitedBy("one station only")},
		boundary{"days between stations read at one time, left out", 8, 7, sideAhead(testbeds.SandBed(12)), says("left out of the estimates")},
		boundary{"days of rest after a siphoning", 13, 14, later(testbeds.Told(testbeds.SandBed(60), tellEvents(siphonedOn(testbeds.LastRead, 0.25, 20)))), tells("siphoned-lately")},
		boundary{"days of rest after a siphoning, the action", 14, 13, func(days float64) layers.Tank { // a core read since stands for the bed
			return testbeds.Told(testbeds.SandBed(60), tellEvents(siphonedOn(testbeds.LastRead-layers.Date(days), 0.25, 20)))
		}, func(found reports.Tank) bool { return found.Advice.Action == reports.Siphon }},
		boundary{"mm by which stations disagree, of little mulm", 16, 15, sideOf(10), says("The stations disagree on the mulm")},
		boundary{"mm by which stations disagree, of much mulm", 55, 53, sideOf(40), says("The stations disagree on the mulm")},
		boundary{"days of rest after a stirring", 13, 14, later(testbeds.Told(testbeds.SandBed(60), tellEvents(eventOn(testbeds.LastRead, layers.EventStir)))), tells("stirred-lately")},
		boundary{"days of a bed too young for a rate", 0, 60, func(days float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellNewestOnly, tellSetUp(testbeds.LastRead-layers.Date(days)))
		}, says("Only one reading, and the bed is 0 days old")},
		boundary{"days from which a reading is too old", 121, 120, later(testbeds.SandBed(12)), tells("reading-too-old")},
		boundary{"days from which a reading is told to be old", 31, 30, later(testbeds.SandBed(12)), says("everything said about the bed is as of then")},
		boundary{"days to a sound reading that is leaned on", 91, 90, func(days float64) layers.Tank { return testbeds.Told(noFollower, tellGap(layers.Date(days))) }, tells("reading-in-doubt")},
		boundary{"days of a young bed", 58, 62, func(days float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellNewestOnly, tellSetUp(testbeds.LastRead-layers.Date(days)))
		}, mostly("young-bed")},
		boundary{"days of a young bed, own", 59, 60, func(days float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellNewestOnly, tellSetUp(testbeds.LastRead-layers.Date(days)), testbeds.TellLimit(layers.LimitYoungBed, 60))
		}, tells("young-bed")},
	)
}

// tellSign notes a sign at the newest reading, beside those that it has.
func tellSign(signs ...layers.Sign) func(*layers.Tank) {
	return func(t *layers.Tank) {
		core := &t.Cores[len(t.Cores)-1]
		core.Signs = append(slices.Clip(core.Signs), signs...)
	}
}

// bedBoundaries are thicknesses and depths of mulm and black, mm.
func bedBoundaries() []boundary {
	own := func(bed func(float64) layers.Tank, limit layers.Limit, value float64) func(float64) layers.Tank {
		return func(x float64) layers.Tank { return testbeds.Told(bed(x), testbeds.TellLimit(limit, value)) }
	}
	melting := func(mm float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(mm), tellFlow(layers.Still), tellSign(layers.PlantMelt))
	}
	shallow := func(mm float64) layers.Tank {
		return testbeds.Steady(testbeds.Of(mm, palette.MulmDark), testbeds.Of(30, palette.Black), testbeds.Of(40, palette.Native))
	}
	thick := func(mm float64) layers.Tank {
		return testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(mm, palette.Black), testbeds.Of(40, palette.Native))
	}
	plain := func(mm float64) layers.Tank { return testbeds.Steady(testbeds.Of(mm, palette.Native)) }
	growing := func(last float64) layers.Tank { // 5.5 mm a month, over the limit of its growth
		return testbeds.TankOf(5, func(m int) []layers.Layer {
			return []layers.Layer{testbeds.Of(last-5.5*float64(4-m)*30/layers.DaysPerMonth, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(50, palette.Native)}
		})
	}
	return []boundary{
		{"mulm", 51, 49, testbeds.SandBed, mostly("deep-mulm")},
		{"mulm, own", 20.2, 19.8, own(testbeds.SandBed, layers.LimitMulm, 20), mostly("deep-mulm")},
		{"mulm of a living bed is told", 51, 49, livingBed, mostly("living-bed")},
		{"mulm of a living bed is borne", 73.5, 76.5, livingBed, mostly("living-bed")},
		{"mulm of a living bed", 76.5, 73.5, livingBed, mostly("deep-mulm-in-a-living-bed")},
		{"mulm of a living bed, own", 30.2, 29.8, own(own(livingBed, layers.LimitMulm, 20), layers.LimitLivingMulm, 30), mostly("deep-mulm-in-a-living-bed")},
		{"mulm under melting plants", 10.3, 9.7, melting, mostly("decay-in-still-water")},
		{"mulm under melting plants, own", 20.2, 19.8, own(melting, layers.LimitDecayMulm, 20), mostly("decay-in-still-water")},
		{"half the limit of mulm that grows", 26, 24, growing, mostly("mulm-grows-fast")},
		{"half the limit of mulm that grows, own", 30.2, 29.8, own(growing, layers.LimitMulm, 60), mostly("mulm-grows-fast")},
		{"black near the surface", 4.8, 5.2, shallow, mostly("reduced-under-mulm")},
		{"black near the surface, own", 7.9, 8.1, own(shallow, layers.LimitShallowFront, 8), mostly("reduced-under-mulm")},
		{"mulm that covers the black", 1.1, 0.9, shallow, mostly("reduced-under-mulm")},
		{"mulm that leaves the black bare", 0.9, 1.1, shallow, mostly("reduced-to-the-surface")},
		{"thick black zone", 20.5, 19.5, thick, mostly("thick-black-zone")},
		{"thick black zone, own", 30.2, 29.8, own(thick, layers.LimitThickBlack, 30), mostly("thick-black-zone")},
		{"bed too shallow to stir", 9.8, 10.2, plain, mostly("bed-too-shallow")},
		{"bed too shallow to stir, own", 29.9, 30, own(plain, layers.LimitStirDepth, 30), tells("bed-too-shallow")},
		{"bed too shallow for advice", 19.9, 20, plain, says("too shallow for advice on deep beds")},
		{"bed too deep for these rules", 300.1, 300, plain, says("deeper than these rules were made for")},
	}
}

// bareBoundaries are those of sand that blackens, mm; where x counts nothing, it is 1 for
// what is told and 0 for what is not.
func bareBoundaries() []boundary {
	under := func(mm float64) layers.Tank { // rust down to mm over the black
		return testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(mm-2, palette.Rust), testbeds.Of(9, palette.Black), testbeds.Of(40, palette.Native))
	}
	bare, inDeepMulm := testbeds.BareBed(9), livingBed(60)
	either := func(bed layers.Tank, change func(*layers.Tank)) func(float64) layers.Tank {
		return func(x float64) layers.Tank {
			if x == 1 {
				return testbeds.Told(bed, change)
			}
			return bed
		}
	}
	stirs := func(found reports.Tank) bool { return found.Advice.Action == reports.Stir }
	leaves := func(found reports.Tank) bool { return found.Advice.Action == reports.Leave }
	melting := testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Still), tellSign(layers.PlantMelt))
	siphons := func(found reports.Tank) bool { return found.Advice.Action == reports.Siphon }
	list := []boundary{
		{"thin black on bare sand", 14.5, 15.5, testbeds.BareBed, mostly("bare-sand-blackens")},
		{"black on bare sand that is thin no more", 16.5, 14.5, testbeds.BareBed, mostly("reduced-to-the-surface")},
		{"thin black on bare sand, own", 29.8, 30.2, func(mm float64) layers.Tank {
			return testbeds.Told(testbeds.BareBed(mm), testbeds.TellLimit(layers.LimitThinBlack, 30), testbeds.TellLimit(layers.LimitShallowFront, 10))
		}, mostly("bare-sand-blackens")},
		{"black near the bare surface", 4.8, 5.2, under, mostly("bare-sand-blackens")},
		{"bare sand is stirred where nothing is said of roots", 0, 1, either(bare, func(t *layers.Tank) { t.RootedPlants = nil }), stirs},
		{"bare sand is stirred where roots grow", 0, 1, either(bare, tellRoots), stirs},
		{"roots not told of", 1, 0, either(bare, func(t *layers.Tank) { t.RootedPlants = nil }), tells("rooted-bed")},
		{"sand told of", 0, 1, either(bare, func(t *layers.Tank) {
			t.Native = []layers.Native{{Kind: layers.Gravel, Color: testbeds.BandColor[palette.Native]}}
		}), tells("bare-sand-blackens")},
		{"burrowers told of", 1, 0, either(testbeds.SandBed(12), tellBurrowers), tells("burrowers-at-work")},
		{"gas with a smell", 0, 1, either(testbeds.Told(testbeds.SandBed(12), tellSign(layers.GasBubbles)), tellSign(layers.EggSmell)), tells("gas-without-smell")},
		{"a living bed in still water", 1, 0, either(inDeepMulm, tellFlow(layers.Still)), mostly("deep-mulm")},
		{"a living bed without roots or burrowers", 1, 0, either(inDeepMulm, func(t *layers.Tank) { t.RootedPlants, t.Burrowers = new(false), new(false) }), mostly("deep-mulm")},
		{"a living bed that smells of eggs", 1, 0, either(inDeepMulm, tellSign(layers.EggSmell)), mostly("deep-mulm")},
	}
	for _, rot := range infer.DecaySigns() {
		list = append(list, boundary{"a living bed with " + string(rot), 0, 1, either(inDeepMulm, tellSign(rot)), mostly("living-bed")})
	}
	// Of melting plants in still water alone is the mulm taken off.
	list = append(list, boundary{"melting plants in moved water", 0, 1, either(melting, tellFlow(layers.Livestock)), siphons})
	for _, worse := range []layers.Sign{layers.DeadAnimal, layers.Gasping, layers.WhiteThreads, layers.EggSmell} {
		list = append(list, boundary{"melting plants with " + string(worse), 0, 1, either(melting, tellSign(worse)), siphons})
	}
	// No hand goes in where it smells of eggs, whatever the mulm.
	return append(list,
		boundary{"a smell of eggs over deep mulm", 1, 0, either(testbeds.SandBed(60), tellSign(layers.EggSmell)), leaves},
		boundary{"a smell of eggs over deep mulm, and melting plants", 1, 0, either(testbeds.Told(testbeds.SandBed(60), tellFlow(layers.Still), tellSign(layers.PlantMelt)), tellSign(layers.EggSmell)), leaves},
	)
}

// rateBoundaries are those of rates, mm a month, and of how far apart their readings must lie.
func rateBoundaries() []boundary {
	growing := func(rate float64) layers.Tank {
		return testbeds.TankOf(8, func(m int) []layers.Layer {
			return []layers.Layer{testbeds.Of(32-rate*float64(7-m)*30/layers.DaysPerMonth, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(50, palette.Native)}
		})
	}
	risingFor := func(months int, mulm float64) func(float64) layers.Tank {
		return func(rate float64) layers.Tank {
			return testbeds.TankOf(months, func(m int) []layers.Layer {
				return []layers.Layer{testbeds.Of(mulm, palette.MulmLight), testbeds.Of(60-rate*float64(m)*30/layers.DaysPerMonth, palette.Rust), testbeds.Of(10, palette.Black), testbeds.Of(40, palette.Native)}
			})
		}
	}
	rising := risingFor(8, 10)
	living := func(rate float64) layers.Tank {
		return testbeds.Told(risingFor(8, 60)(rate), tellRoots, testbeds.TellLimit(layers.LimitFrontRise, 2))
	}
	apart := func(days float64) layers.Tank {
		return testbeds.Told(testbeds.TankOf(2, func(m int) []layers.Layer { return testbeds.SandColumn(float64(10 + m)) }), tellGap(layers.Date(days)))
	}
	rate := func(basis reports.Basis) func(reports.Tank) bool {
		return func(found reports.Tank) bool { return found.Accumulation != nil && found.Accumulation.Basis == basis }
	}
	return []boundary{
		{"growth", 4.15, 3.85, growing, mostly("mulm-grows-fast")},
		{"growth, own", 3.3, 2.8, func(x float64) layers.Tank {
			return testbeds.Told(growing(x), testbeds.TellLimit(layers.LimitAccumulation, 3))
		}, mostly("mulm-grows-fast")},
		{"a front that rises", 2.3, 1.9, rising, tells("front-rises")},
		{"a front that rises, own", 1.3, 0.9, func(x float64) layers.Tank {
			return testbeds.Told(rising(x), testbeds.TellLimit(layers.LimitFrontRise, 1))
		}, tells("front-rises")},
		{"readings of a front that rises", 3, 2, func(months float64) layers.Tank { return risingFor(int(months), 10)(4) }, tells("front-rises")},
		{"a front that rises in a living bed", 2.6, 1.6, living, mostly("deep-mulm")},
		{"days between readings that make a rate", 14, 13, apart, rate(reports.TwoReadings)},
		{"days between readings that make none", 13, 14, apart, rate(reports.SinceSetUp)},
		{"days of a bed that has a rate", 14, 13, func(days float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellNewestOnly, tellSetUp(testbeds.LastRead-layers.Date(days)))
		}, rate(reports.SinceSetUp)},
	}
}

// waterBoundaries are those of water tests.
func waterBoundaries() []boundary {
	oxygen := func(clock string) func(float64) layers.Tank {
		return func(mgPerL float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead, clock, mgPerL)))
		}
	}
	// What was tested on the day of the newest core, so many days ago.
	tested := func(tests ...layers.WaterTest) func(float64) layers.Tank {
		return later(testbeds.Told(testbeds.SandBed(12), tellWater(tests...)))
	}
	unionised := func(times float64) layers.Tank { // times the limit, at pH 8 and 25 °C
		total := times * 0.0206 / bed.UnionisedShare(8, 25) // EIFAC 1970: 0.025 mg NH3/L, as nitrogen (from memory)
		return testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, total, 8, 25)))
	}
	total := func(mgPerL float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead, mgPerL, 0, 0)))
	}
	// Ammonia tested today, its pH or temperature so many days before.
	borrowed := func(lent layers.WaterTest, ph, degrees float64) func(float64) layers.Tank {
		return func(days float64) layers.Tank {
			then := lent
			then.Date -= layers.Date(days)
			return testbeds.Told(testbeds.SandBed(12), tellWater(then, testedAmmonia(testbeds.LastRead, 1, ph, degrees)))
		}
	}
	stale := func(test func(float64) layers.WaterTest) func(float64) layers.Tank {
		return func(x float64) layers.Tank { return later(testbeds.Told(testbeds.SandBed(12), tellWater(test(x))))(31) }
	}
	dawn := func(minute float64) layers.Tank { // minutes past nine
		clock := fmt.Sprintf("%02d:%02d", 9+int(minute)/60, int(minute)%60)
		return testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellWater(testedWarmth(testbeds.LastRead, 25), testedOxygen(testbeds.LastRead, clock, 6)))
	}
	return []boundary{
		{"oxygen at dawn", 2.99, 3, oxygen("07:00"), alarmed("oxygen-measured-short")},
		{"oxygen in the evening", 2.99, 3, oxygen("22:00"), alarmed("oxygen-measured-short")},
		{"oxygen, own", 4.99, 5, func(x float64) layers.Tank {
			return testbeds.Told(oxygen("07:00")(x), testbeds.TellLimit(layers.LimitOxygen, 5))
		}, alarmed("oxygen-measured-short")},
		{"days that a low oxygen counts", 30, 31, tested(testedOxygen(testbeds.LastRead, "07:00", 2)), alarmed("oxygen-measured-short")},
		{"days from which a low oxygen is stale", 31, 30, tested(testedOxygen(testbeds.LastRead, "07:00", 2)), tells("water-test-too-old")},
		{"days from which a fine oxygen is told to be stale", 31, 30, tested(testedOxygen(testbeds.LastRead, "07:00", 7)), says("days ago, is too old to count")},
		{"oxygen that is stale and was low", 2.99, 3, stale(func(x float64) layers.WaterTest { return testedOxygen(testbeds.LastRead, "07:00", x) }), tells("water-test-too-old")},
		{"days that a dawn oxygen is fitted to", 30, 31, later(testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellWater(testedWarmth(testbeds.LastRead, 25), testedOxygen(testbeds.LastRead, "07:00", 6)))), func(found reports.Tank) bool { return found.BottomOxygen.Basis == reports.Fitted }},
		{"the latest dawn", 59, 60, dawn, func(found reports.Tank) bool { return found.BottomOxygen.Basis == reports.Fitted }},
		{"the earliest day", 60, 59, dawn, says("outside the hours")},
		{"an oxygen that air can't press into water", 15.6, 15.57, oxygen("07:00"), says("more than air puts into water")},
		{"un-ionised ammonia", 1.01, 0.99, unionised, alarmed("ammonia-measured-over")},
		{"un-ionised ammonia, drawn", 1.03, 0.96, unionised, mostly("ammonia-over-limit")},
		{"total ammonia", 2.01, 2, total, alarmed("total-ammonia-over")},
		{"total ammonia, own", 1.01, 1, func(x float64) layers.Tank {
			return testbeds.Told(total(x), testbeds.TellLimit(layers.LimitTotalAmmonia, 1))
		}, alarmed("total-ammonia-over")},
		{"days that total ammonia counts", 30, 31, tested(testedAmmonia(testbeds.LastRead, 3, 0, 0)), alarmed("total-ammonia-over")},
		{"days from which total ammonia is stale", 31, 30, tested(testedAmmonia(testbeds.LastRead, 3, 0, 0)), tells("water-test-too-old")},
		{"total ammonia that is stale and was high", 2.01, 2, stale(func(x float64) layers.WaterTest { return testedAmmonia(testbeds.LastRead, x, 0, 0) }), tells("water-test-too-old")},
		{"days that un-ionised ammonia counts", 30, 31, tested(testedAmmonia(testbeds.LastRead, 1, 8, 25)), alarmed("ammonia-measured-over")},
		{"days that a pH counts", 30, 31, borrowed(testedPH(testbeds.LastRead, "", 8), 0, 25), func(found reports.Tank) bool { return found.Ammonia != nil }},
		{"days that a temperature tells ammonia", 90, 91, borrowed(testedWarmth(testbeds.LastRead, 25), 8, 0), func(found reports.Tank) bool { return found.Ammonia != nil }},
		{"days that a temperature tells the oxygen", 90, 91, later(testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellWater(testedWarmth(testbeds.LastRead, 25)))), func(found reports.Tank) bool { return found.Penetration != nil }},
	}
}

// alarmBoundaries are those of what lifts an alarm and of what makes one of a death or a smell;
// x is days where nothing else is said.
func alarmBoundaries() []boundary {
	gasped := testbeds.Told(testbeds.SandBed(12), tellSignBefore(layers.Gasping)) // at lastRead-30; the newest core is calm
	dawnOn := func(after float64) layers.Tank {
		return testbeds.Told(gasped, tellWater(testedOxygen(testbeds.LastRead-30+layers.Date(after), "07:00", 7)))
	}
	dawnAt := func(minute float64) layers.Tank {
		return testbeds.Told(gasped, tellWater(testedOxygen(testbeds.LastRead-2, fmt.Sprintf("%02d:%02d", 9+int(minute)/60, int(minute)%60), 7)))
	}
	calmOn := func(after float64) layers.Tank {
		return testbeds.Told(sideAhead(testbeds.Told(testbeds.SandBed(12), tellSign(layers.Gasping)))(after), tellWater(testedOxygen(testbeds.LastRead+7, "07:00", 7)))
	}
	liftedAt := func(low string) func(float64) layers.Tank {
		return func(minute float64) layers.Tank {
			clock := fmt.Sprintf("%02d:%02d", 9+int(minute)/60, int(minute)%60)
			return testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead-3, low, 2), testedOxygen(testbeds.LastRead-1, clock, 8)))
		}
	}
	died := func(days ...layers.Date) layers.Tank {
		tank := testbeds.SandBed(12)
		for _, ago := range days {
			tank = testbeds.Told(tank, tellEvents(eventOn(testbeds.LastRead-ago, layers.EventDeadAnimal)))
		}
		return tank
	}
	twoDead := func(apart float64) layers.Tank { // noted at two stations
		return testbeds.Told(sideAhead(testbeds.Told(testbeds.SandBed(12), tellSign(layers.DeadAnimal)))(apart), func(t *layers.Tank) {
			t.Cores[len(t.Cores)-1].Signs = []layers.Sign{layers.DeadAnimal}
		})
	}
	entered := func(apart float64) layers.Tank { // noted at the newest core, and entered as an event
		return testbeds.Told(testbeds.SandBed(12), tellSign(layers.DeadAnimal), tellEvents(eventOn(testbeds.LastRead-layers.Date(apart), layers.EventDeadAnimal)))
	}
	want := alarmed("dead-animal-in-want")
	list := []boundary{
		{"gasping is lifted by a dawn after it", 0, 1, dawnOn, alarmed("gasping")},
		{"gasping is lifted by a dawn, not by day", 60, 59, dawnAt, alarmed("gasping")},
		{"gasping that is lifted is a sign of decay", 1, 0, dawnOn, tells("decay")},
		{"gasping is lifted by a calm core after it", 0, 1, calmOn, alarmed("gasping")},
		{"gasping is not lifted by a short dawn", 2.99, 3, func(mgPerL float64) layers.Tank {
			return testbeds.Told(gasped, tellWater(testedOxygen(testbeds.LastRead-2, "07:00", mgPerL)))
		}, alarmed("gasping")},
		{"a low dawn is lifted by a dawn, not by day", 60, 59, liftedAt("07:00"), alarmed("oxygen-measured-short")},
		{"a low day is lifted by a later day's same hour", 61, 60, func(minute float64) layers.Tank { // low at 15:00, fine at 15:01 or 15:00
			return testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead-3, "15:00", 2), testedOxygen(testbeds.LastRead-1, fmt.Sprintf("%02d:%02d", 14+int(minute)/60, int(minute)%60), 8)))
		}, alarmed("oxygen-measured-short")},
		{"days between two deaths", 30, 31, func(ago float64) layers.Tank { return died(0, layers.Date(ago)) }, want},
		{"deaths on one day", 2, 1, func(n float64) layers.Tank { return died(make([]layers.Date, int(n))...) }, want},
		{"a death noted at two stations on one day is one", 1, 0, twoDead, want},
		{"a death noted and entered on one day is one", 1, 0, entered, want},
		{"days that a death and melting plants lie apart", 30, 31, func(ago float64) layers.Tank {
			return testbeds.Told(died(0), tellEvents(eventOn(testbeds.LastRead-layers.Date(ago), layers.EventPlantMelt)))
		}, want},
		{"oxygen beside a death", 2.99, 3, func(x float64) layers.Tank {
			return testbeds.Told(died(2), tellWater(testedOxygen(testbeds.LastRead, "07:00", x)))
		}, want},
		{"total ammonia beside a death", 2.01, 2, func(x float64) layers.Tank {
			return testbeds.Told(died(2), tellWater(testedAmmonia(testbeds.LastRead, x, 0, 0)))
		}, want},
		{"days that a death in still water counts", 30, 31, func(ago float64) layers.Tank { return testbeds.Told(died(layers.Date(ago)), tellFlow(layers.Still)) }, want},
		{"total ammonia beside a smell of eggs", 2.01, 2, func(x float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellSign(layers.EggSmell), tellWater(testedAmmonia(testbeds.LastRead, x, 0, 0)))
		}, alarmed("egg-smell-in-distress")},
		{"days that a smell of eggs and melting plants lie apart", 30, 31, func(ago float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellSign(layers.EggSmell), tellEvents(eventOn(testbeds.LastRead-layers.Date(ago), layers.EventPlantMelt)))
		}, alarmed("egg-smell-in-distress")},
	}
	for _, flow := range []layers.Flow{layers.Livestock, layers.Bubbled, layers.Pumped, ""} {
		list = append(list, boundary{"a death in still water, not in " + cmp.Or(string(flow), "water that is not told of"), 1, 0, func(x float64) layers.Tank {
			if x == 1 {
				return testbeds.Told(died(2), tellFlow(layers.Still))
			}
			return testbeds.Told(died(2), tellFlow(flow))
		}, want})
	}
	for _, beside := range []layers.Sign{layers.EggSmell, layers.PlantMelt, layers.WhiteThreads, layers.Gasping} {
		list = append(list, boundary{"a death beside " + string(beside), 1, 0, func(x float64) layers.Tank {
			if x == 1 {
				return testbeds.Told(died(2), tellSign(beside))
			}
			return died(2)
		}, want})
	}
	return list
}

// watchBoundaries are those of the signs to watch.
func watchBoundaries() []boundary {
	filmDark := layers.Layer{ThicknessMM: 3, Color: hexColor("#1f4a46"), Band: palette.FilmDark}
	// In the newest core of one station, while another was read so many days later.
	elsewhere := func(layer layers.Layer) func(float64) layers.Tank {
		return func(days float64) layers.Tank {
			return testbeds.Told(sideAhead(testbeds.SandBed(12))(days), func(t *layers.Tank) {
				core := &t.Cores[len(t.Cores)-2]
				core.Layers = append([]layers.Layer{layer}, core.Layers...)
			})
		}
	}
	warm := func(celsius float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(12), tellWater(testedWarmth(testbeds.LastRead, celsius)))
	}
	soured := func(ph float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(12), tellWater(testedPH(testbeds.LastRead, "07:30", ph)))
	}
	watched := func(rule string) func(reports.Tank) bool {
		return func(found reports.Tank) bool {
			return spokeIn(found, rule) == 1 && len(found.Watch.Signs) == 1 && found.Advice.WaitDays == 14 && len(found.Advice.WaterFirst) == 0
		}
	}
	overlaid := func(layer layers.Layer) func(float64) layers.Tank { // in the newest core, or the one before
		return func(before float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), func(t *layers.Tank) {
				core := &t.Cores[len(t.Cores)-1-int(before)]
				core.Layers = append([]layers.Layer{layer}, core.Layers...)
			})
		}
	}
	return []boundary{
		{"cold water", 11.9, 12, warm, watched("too-cold")},
		{"warm water", 30.1, 30, warm, watched("too-warm")},
		{"acid water", 5.4, 5.5, soured, tells("ph-out-of-range")},
		{"alkaline water", 9.1, 9, soured, tells("ph-out-of-range")},
		{"pH that falls within a week", 6.4, 6.5, func(ph float64) layers.Tank {
			return testbeds.Told(testbeds.SandBed(12), tellWater(testedPH(testbeds.LastRead-3, "07:30", 8), testedPH(testbeds.LastRead, "07:30", ph)))
		}, tells("ph-moved")},
		{"days that cold water is told", 30, 31, later(warm(8)), tells("too-cold")},
		{"days that warm water is told", 30, 31, later(warm(33)), tells("too-warm")},
		{"a dark film in the newest core", 0, 1, overlaid(filmDark), watched("dark-film")},
		{"a white mat in the newest core", 0, 1, overlaid(testbeds.Of(3, palette.MatWhite)), watched("white-mat")},
		{"days to the newest core of another station, dark film", 7, 8, elsewhere(filmDark), tells("dark-film")},
		{"days to the newest core of another station, white mat", 7, 8, elsewhere(testbeds.Of(3, palette.MatWhite)), tells("white-mat")},
	}
}

// clarityBoundaries are those of the age of a reading, days.
func clarityBoundaries() []boundary {
	two := testbeds.Told(testbeds.SandBed(12), testbeds.TellSide)
	atMost := func(c reports.Clarity) func(reports.Tank) bool {
		return func(found reports.Tank) bool { return clearness(found.Advice.Clarity) <= clearness(c) }
	}
	gap := func(days float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(12), tellPhoto(true), tellGap(layers.Date(days)))
	}
	return []boundary{
		{"days of a clear reading", 46, 45, later(two), atMost(reports.FairlyClear)},
		{"days of a clear reading, told", 46, 45, later(two), limitedBy("the newest core is 46 days old")},
		{"days of a fairly clear reading", 121, 120, later(two), atMost(reports.Unclear)},
		{"days of a fairly clear reading, told", 121, 120, later(two), limitedBy("the newest core is 121 days old")},
		{"one station alone is never clear", 8, 7, sideAhead(testbeds.SandBed(12)), atMost(reports.FairlyClear)},
		// In doubt, with something to lean on or not, it is unclear: a fortnight's wait, or the
		// week that a reading in doubt asks for.
		{"days to what is leaned on, the wait", 91, 90, gap, func(found reports.Tank) bool { return found.Advice.WaitDays == 7 }},
		{"days to what is leaned on, the fortnight", 90, 91, gap, func(found reports.Tank) bool {
			return found.Advice.WaitDays == 14 && found.Advice.Clarity == reports.Unclear
		}},
	}
}

// slipBoundaries are those of how unlike the core before a core may be. Where they lie was found by
// trying: they follow from the costs of slip.go, and each of those has one that it moves.
func slipBoundaries() []boundary {
	return slices.Concat(wentBoundaries(), typedBoundaries(), rulerBoundaries(), handBoundaries())
}

// twice is a bed that was read twice, 30 days apart.
func twice(former, newest []layers.Layer) layers.Tank {
	return testbeds.TankOf(2, func(m int) []layers.Layer { return [][]layers.Layer{former, newest}[m] })
}

func column(list ...layers.Layer) []layers.Layer { return list }

// mudBed is dark mulm over a black zone and clean sand.
func mudBed(mulm, black, sand float64) []layers.Layer {
	return column(testbeds.Of(mulm, palette.MulmDark), testbeds.Of(black, palette.Black), testbeds.Of(sand, palette.Native))
}

// wentBoundaries are those of what went and came with no event entered, mm.
func wentBoundaries() []boundary {
	mulm := func(mm float64) []layers.Layer {
		return column(testbeds.Of(mm, palette.MulmDark), testbeds.Of(40, palette.Native))
	}
	removal := asksFirst(reports.SlipRemoval)
	return []boundary{
		{"what is left of the mulm", 20.9, 21.1, func(x float64) layers.Tank { return twice(mulm(40), mulm(x)) }, removal},
		{"mulm that went altogether", 12.1, 11.9, func(x float64) layers.Tank { return twice(mulm(x), column(testbeds.Of(40, palette.Native))) }, removal},
		{"the least mulm that is missed", 10.1, 9.9, func(x float64) layers.Tank { return twice(mulm(15), mulm(15-x)) }, removal},
		{"mulm that is left of 140 mm, its layers all others", 129.9, 130.1, func(x float64) layers.Tank {
			return twice(column(testbeds.Of(140, palette.MulmLight), testbeds.Of(6, palette.Black)),
				column(testbeds.Of(x/2, palette.MulmLight), testbeds.Of(x/2, palette.MulmDark), testbeds.Of(4, palette.Rust), testbeds.Of(8, palette.Black), testbeds.Of(10, palette.Grey), testbeds.Of(5, palette.Native)))
		}, removal},
		{"what is left of the bed under new substrate", 12.3, 12.1, func(x float64) layers.Tank {
			return twice(column(testbeds.Of(20, palette.Rust), testbeds.Of(40, palette.Black)), column(testbeds.Of(2, palette.Native), testbeds.Of(x, palette.Rust), testbeds.Of(40, palette.Black)))
		}, asksFirst(reports.SlipTopUp)},
	}
}

// typedBoundaries are those of slips of typing.
func typedBoundaries() []boundary {
	oneLayer := func(x float64) layers.Tank { return twice(mudBed(60, 10, 60), mudBed(60, x, 60)) }
	allOf := func(x float64) layers.Tank { return twice(mudBed(10, 10, 40), mudBed(10*x, 10*x, 40*x)) }
	tenfold, depths, tenth := asksFirst(reports.SlipTenfold), asksFirst(reports.SlipDepths), asksFirst(reports.SlipTenth)
	return []boundary{
		{"one layer ten times thicker, from below, mm", 46.9, 46.7, oneLayer, tenfold},
		{"one layer ten times thicker, from above, mm", 179, 180.2, oneLayer, tenfold},
		{"all ten times thicker, from below", 6.02, 5.98, allOf, tenfold},
		{"all ten times thicker, from above", 27.6, 27.8, allOf, tenfold},
		{"all ten times thinner, from above", 0.166, 0.168, func(x float64) layers.Tank { return twice(mudBed(30, 30, 40), mudBed(30*x, 30*x, 40*x)) }, tenth},
		{"depths typed as thicknesses, mulm in mm", 38.1, 37.9, func(x float64) layers.Tank {
			return twice(mudBed(x, 20, 35), mudBed(x, x+20, x+55))
		}, depths},
		{"layers of depths typed as thicknesses", 3, 2, func(n float64) layers.Tank {
			return twice(mudBed(60, 20, 35)[:int(n)], mudBed(60, 80, 115)[:int(n)])
		}, depths},
		{"turned over, mulm in mm", 22, 22.1, func(x float64) layers.Tank {
			bed := column(testbeds.Of(x, palette.MulmDark), testbeds.Of(30, palette.Rust), testbeds.Of(60, palette.Black))
			return twice(bed, layers.TurnedOver(bed))
		}, asksFirst(reports.SlipTurnedOver)},
	}
}

// rulerBoundaries are those of another ruler, and of another bed.
func rulerBoundaries() []boundary {
	longer := func(x float64) layers.Tank { return twice(mudBed(40, 30, 40), mudBed(40*x, 30*x, 40*x)) }
	greys := func(value, sand float64) []layers.Layer { // of one grey, the last one so thick
		v := uint8(value)
		list := mudBed(40, 40, sand)
		for i := range list {
			list[i].Color = palette.Color{R: v, G: v, B: v}
		}
		return list
	}
	elsewhere := asksFirst(reports.SlipElsewhere)
	return []boundary{
		{"times as thick by another ruler", 2.09, 2.075, longer, elsewhere},
		{"times as thick by another ruler, after four months", 2.5, 2.48, func(x float64) layers.Tank {
			return testbeds.Told(twice(mudBed(20, 30, 40), mudBed(20*x, 30*x, 40*x)), tellGap(120))
		}, elsewhere},
		{"times as thin by another ruler", 1.78, 1.765, func(x float64) layers.Tank { return twice(mudBed(60, 60, 60), mudBed(60/x, 60/x, 60/x)) }, elsewhere},
		{"the least that another ruler makes", 1.401, 1.399, func(x float64) layers.Tank { // twice as thick, but for the last: 380 mm before
			return twice(
				column(testbeds.Of(60, palette.MulmDark), testbeds.Of(60, palette.Rust), testbeds.Of(60, palette.Black), testbeds.Of(200, palette.Native)),
				column(testbeds.Of(120, palette.MulmDark), testbeds.Of(120, palette.Rust), testbeds.Of(120, palette.Black), testbeds.Of(380*x-360, palette.Native)))
		}, elsewhere},
		{"the most that another ruler makes", 5.99, 6.01, longer, elsewhere},
		{"grey of a bed all of another colour", 119, 118, func(x float64) layers.Tank { return twice(greys(0x30, 40), greys(x, 40)) }, elsewhere},
		{"a bed of another colour seen further down, mm", 89.6, 88.9, func(x float64) layers.Tank { return twice(greys(0x30, 40), greys(118, x)) }, elsewhere},
		{"a bed of another colour after a siphoning", 0, 1, func(x float64) layers.Tank {
			return testbeds.Told(twice(greys(0x30, 40), greys(140, 40)), onceEntered(x, layers.EventSiphon))
		}, elsewhere},
	}
}

// onceEntered enters, where x is 1, what was done between the two readings of twice.
func onceEntered(x float64, kind layers.EventKind) func(*layers.Tank) {
	return func(t *layers.Tank) {
		if x == 1 {
			t.Events = append(slices.Clip(t.Events), eventOn(t.Cores[0].Date+15, kind))
		}
	}
}

// handBoundaries are those of what an entered hand explains: x is 1 where it is entered, else 0, or mm.
func handBoundaries() []boundary {
	bed := mudBed(25, 10, 50)
	thinner := func(x float64) layers.Tank { // x so many times
		return testbeds.Told(twice(mudBed(30, 30, 40), mudBed(30*x, 30*x, 40*x)), onceEntered(1, layers.EventSiphon))
	}
	return []boundary{
		{"mulm that went, by a siphoning that is not entered", 0, 1, func(x float64) layers.Tank {
			return testbeds.Told(twice(bed, mudBed(5, 10, 50)), onceEntered(x, layers.EventSiphon))
		}, asksFirst(reports.SlipRemoval)},
		{"substrate on top, by a top-up that is not entered", 0, 1, func(x float64) layers.Tank {
			return testbeds.Told(twice(bed, append(column(testbeds.Of(50, palette.Native)), bed...)), onceEntered(x, layers.EventTopUpSubstrate))
		}, asksFirst(reports.SlipTopUp)},
		{"one layer ten times thicker after a siphoning, mm", 46.9, 46.7, func(x float64) layers.Tank {
			return testbeds.Told(twice(mudBed(60, 10, 60), mudBed(60, x, 60)), onceEntered(1, layers.EventSiphon))
		}, asksFirst(reports.SlipTenfold)},
		{"all ten times thinner after a siphoning, from above", 0.183, 0.184, thinner, asksFirst(reports.SlipTenth)},
		{"all ten times thinner after a siphoning, from below", 0.0545, 0.0538, thinner, asksFirst(reports.SlipTenth)},
	}
}

// firstCoreBoundaries are those of a station's first core.
func firstCoreBoundaries() []boundary {
	alone := func(column func(float64) []layers.Layer, changes ...func(*layers.Tank)) func(float64) layers.Tank {
		return func(x float64) layers.Tank {
			return testbeds.Told(testbeds.Told(testbeds.Steady(column(x)...), tellNewestOnly), changes...)
		}
	}
	native := func(mm float64) []layers.Layer { return []layers.Layer{testbeds.Of(mm, palette.Native)} }
	mulm := func(mm float64) []layers.Layer {
		return []layers.Layer{testbeds.Of(mm, palette.MulmDark), testbeds.Of(50, palette.Native)}
	}
	beside := func(bed, later []layers.Layer, apart layers.Date) layers.Tank { // a bed, and later one elsewhere
		return testbeds.Told(testbeds.Steady(bed...), tellNewestOnly, func(t *layers.Tank) {
			t.Cores = append(t.Cores, layers.Core{Date: testbeds.LastRead + apart, Station: "side", Layers: later})
		})
	}
	thin := column(testbeds.Of(10, palette.MulmDark), testbeds.Of(40, palette.Native))
	thick := func(sand float64) []layers.Layer {
		return column(testbeds.Of(100, palette.MulmDark), testbeds.Of(sand, palette.Native))
	}
	tenfold, tenth := asksFirst(reports.SlipTenfold), asksFirst(reports.SlipTenth)
	return []boundary{
		{"the deepest bed", 400.5, 400, alone(native), tenfold},
		{"the shallowest bed", 4.9, 5, alone(native), tenth},
		{"the most mulm", 200.5, 200, alone(mulm), tenfold},
		{"the most mulm in a month", 60.2, 60, alone(mulm, tellSetUp(testbeds.LastRead-20)), tenfold},
		{"the most mulm in four months", 241, 239, alone(func(mm float64) []layers.Layer { return mulm(mm / 2) }, tellSetUp(testbeds.LastRead-61)), tenfold},
		{"ten times as thick as another station's, from below, mm", 235, 234.6, func(x float64) layers.Tank { return beside(thin, thick(x), 0) }, tenfold},
		{"ten times as thick as another station's, but for one layer, mm", 30.1, 29.9, func(x float64) layers.Tank {
			return beside(mudBed(5, 10, 20), mudBed(50, x, 200), 0)
		}, tenfold},
		{"days to another station that is held beside", 90, 91, func(days float64) layers.Tank { return beside(thin, thick(280), layers.Date(days)) }, tenfold},
		// Of mulm in mm; the odds are a thousand to one between them.
		{"turned over by its colours alone", 3, 20, alone(func(mm float64) []layers.Layer {
			return testbeds.Unnamed(testbeds.Of(60, palette.Native), testbeds.Of(10, palette.Black), testbeds.Of(10, palette.Rust), testbeds.Of(mm, palette.MulmDark))
		}), asksFirst(reports.SlipTurnedOver)},
	}
}
