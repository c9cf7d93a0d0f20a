package judge

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// A situation is a record and what a careful expert would make of it. It was written down
// from the trade's lore and from criteria for water, without a look at the rules, so that it can
// judge them. What is left out of a row is not asked of it, but for TestAdvice_situations'
// demands on every row.
type situation struct {
	name   string
	tank   layers.Tank
	asOf   layers.Date // zero: the day of the newest record of any kind
	would  string      // what a careful expert would do
	source string

	water   urgency
	actions []reports.Action // those that are allowed; nil: leave only
	passed  bool             // the record holds a number beyond its limit

	// Phrases, the case aside; one with bars is a choice.
	says   []string // stand somewhere
	silent []string // stand nowhere
	first  []string // stand in what to do first
	later  []string // stand in what the bed says for later
	watch  []string // stand in what to watch

	within  layers.Date // the latest next reading, in days after the day of the report
	due     bool        // the next reading is not after that day
	monthly bool        // the next reading comes 30 days after the newest core

	clarity     reports.Clarity // the clearest that is allowed; empty: as clear as can be
	limited     bool            // says what keeps the clarity down
	asks        []reports.Slip  // a question offers each of them as its answer
	asksNothing bool
	watchSilent bool

	also func(*testing.T, reports.Tank)
}

// An urgency says whether the water comes before the bed.
type urgency uint8

const (
	bedFirst urgency = iota
	waterFirst
	eitherFirst // a careful expert may hold either
)

// Where a row comes from. Criteria for wild waters are no proof of what a fish bears; they
// are the best numbers there are.
const (
	loreSource       = "common practice, no source"
	memorySource     = "common practice (from memory)"
	gaspSource       = "stop, aerate, change part of the water (from memory); poor water is the first thing to check (a fish-veterinary practice's page, read)"
	vetSource        = "an aquatic veterinarian when more than one animal dies, or before any medicine (from memory; practice's FAQ read)"
	oxygenSource     = "USEPA 1986, EPA 440/5-86-003: 3.0 mg/L as the least of a day for warm-water fish (from memory)"
	dawnSource       = "oxygen is lowest when the lights come on: plants give it off in the light only (common knowledge, no source)"
	unionisedSource  = "EIFAC 1970, Technical Paper 11: 0.025 mg NH3/L is 0.0206 mg N/L (from memory); share by Emerson et al. 1975"
	totalSource      = "common practice, no source; USEPA 2013 asks for 1.9 mg N/L at pH 7 and 20 °C as a 30-day mean (read as quoted)"
	sulphideSource   = "USEPA 1986: 2 µg/L of undissociated H2S, chronic (read); the nose tires and is no gauge (read)"
	stirSource       = "Burton et al. 2009: stirred iron sulphide takes oxygen with a half-time of half an hour (abstract read)"
	saturationSource = "Benson & Krause 1984: 8.3 mg/L at 25 °C, 14.6 at 0 °C; USEPA 1986, Quality Criteria: gases not above 110 % (from memory)"
	limitSource      = "the limits' own defaults: common practice, no source, and assumptions"
	trendSource      = "a ruler misses by a millimetre: over days that is more than mulm grows in a month (own arithmetic)"
	slipSource       = "own experience of typed records: assumption"
)

var (
	boxVessel  = &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 280}
	jarVessel  = &layers.Vessel{Shape: layers.Cylinder, DiameterMM: 220, WaterDepthMM: 300}
	tallVessel = &layers.Vessel{Shape: layers.Cylinder, DiameterMM: 400, WaterDepthMM: 1000}
	deepVessel = &layers.Vessel{Shape: layers.Box, LengthMM: 1000, WidthMM: 500, WaterDepthMM: 600}
)

// The beds.

func livingBed(mulm float64) layers.Tank {
	return testbeds.Told(testbeds.SandBed(mulm), tellRoots, tellBurrowers)
}

// blackBed is black to its surface.
func blackBed(black float64) layers.Tank {
	return testbeds.Steady(testbeds.Of(black, palette.Black), testbeds.Of(40, palette.Native))
}

// plainBed is laid of another substrate, named by its keeper.
func plainBed(kind layers.Kind, hex string, mulm float64) layers.Tank {
	color := hexColor(hex)
	native := layers.Layer{ThicknessMM: 60, Color: color, Band: palette.Native}
	return testbeds.Told(testbeds.Steady(testbeds.Of(mulm, palette.MulmLight), testbeds.Of(5, palette.Rust), native), func(t *layers.Tank) {
		t.Native = []layers.Native{{Name: string(kind), Kind: kind, Color: color}}
	})
}

// lastColumn is sandBed(12) whose newest core is another.
func lastColumn(column ...layers.Layer) layers.Tank {
	return testbeds.Told(testbeds.SandBed(12), func(t *layers.Tank) { t.Cores[len(t.Cores)-1].Layers = column })
}

func seen(mm float64, hex string) layers.Layer {
	return layers.Layer{ThicknessMM: mm, Color: hexColor(hex)}
}

func hexColor(hex string) palette.Color {
	color, err := palette.ParseColor(hex)
	if err != nil {
		panic(err)
	}
	return color
}

// What else is told of them.

func tellFlow(flow layers.Flow) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Flow = flow }
}

func tellVessel(vessel *layers.Vessel) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Vessel = vessel }
}

func tellRoots(t *layers.Tank)     { t.RootedPlants = new(true) }
func tellBurrowers(t *layers.Tank) { t.Burrowers = new(true) }
func tellNoNative(t *layers.Tank)  { t.Native = nil }
func tellSure(t *layers.Tank)      { t.Cores[len(t.Cores)-1].Sure = true }
func tellNewestOnly(t *layers.Tank) {
	t.Cores = t.Cores[len(t.Cores)-1:]
}

func tellSetUp(on layers.Date) func(*layers.Tank) {
	return func(t *layers.Tank) { t.SetUp = on }
}

func tellWater(tests ...layers.WaterTest) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Water = append(slices.Clip(t.Water), tests...) }
}

func tellEvents(events ...layers.Event) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Events = append(slices.Clip(t.Events), events...) }
}

// tellSignBefore notes a sign at the reading before the newest, 30 days earlier.
func tellSignBefore(sign layers.Sign) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Cores[len(t.Cores)-2].Signs = []layers.Sign{sign} }
}

// tellLit says whether light reaches the glass.
func tellLit(lit bool) func(*layers.Tank) {
	return func(t *layers.Tank) {
		for i := range t.Cores {
			t.Cores[i].Lit = &lit
		}
	}
}

// tellGap moves the newest core to so many days after the one before.
func tellGap(days layers.Date) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Cores[len(t.Cores)-1].Date = t.Cores[len(t.Cores)-2].Date + days }
}

// tellPhoto has the newest core read from a photo, its names by colour.
func tellPhoto(unreliable bool) func(*layers.Tank) {
	return func(t *layers.Tank) {
		core := &t.Cores[len(t.Cores)-1]
		core.Layers = testbeds.Unnamed(core.Layers...)
		core.Photo = &layers.Photo{
			SHA256: strings.Repeat("5e", 32), ColorDoubt: 4, ScaleError: 0.005,
			Surface: layers.Edge{ErrorMM: 0.3, HighestMM: -1, LowestMM: 1}, Unreliable: unreliable,
		}
	}
}

func eventOn(on layers.Date, kind layers.EventKind) layers.Event {
	return layers.Event{Date: on, Kind: kind}
}

func siphonedOn(on layers.Date, share, depthMM float64) layers.Event {
	return layers.Event{Date: on, Kind: layers.EventSiphon, Share: &share, DepthMM: &depthMM}
}

// testedOxygen is an oxygen; an empty time is not told.
func testedOxygen(on layers.Date, clock string, mgPerL float64) layers.WaterTest {
	return layers.WaterTest{Date: on, Time: clock, OxygenMGPerL: &mgPerL}
}

// testedAmmonia is a total ammonia with its pH and temperature, 0 where they weren't measured.
func testedAmmonia(on layers.Date, mgPerL, ph, degrees float64) layers.WaterTest {
	test := layers.WaterTest{Date: on, TotalAmmonia: &mgPerL}
	if ph != 0 {
		test.PH = &ph
	}
	if degrees != 0 {
		test.TemperatureC = &degrees
	}
	return test
}

func testedPH(on layers.Date, clock string, ph float64) layers.WaterTest {
	return layers.WaterTest{Date: on, Time: clock, PH: &ph}
}

func testedWarmth(on layers.Date, degrees float64) layers.WaterTest {
	return layers.WaterTest{Date: on, TemperatureC: &degrees}
}

func breathSituations() []situation {
	return []situation{
		{
			name: "gasping in pumped, clean water", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.Gasping)),
			would:  "aerate and test the water before a thought of the bed",
			source: gaspSource, water: waterFirst, says: []string{"gasp"}, first: []string{"aerat", "test"},
		},
		{
			name: "gasping over 20 mm of mulm in still water", tank: testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Still), sign(layers.Gasping)),
			would:  "aerate; a siphon would stir up oxygen demand while the fish want oxygen",
			source: gaspSource, water: waterFirst, says: []string{"gasp"}, first: []string{"aerat"},
		},
		{
			name: "gasping at a dawn oxygen of 1.0", passed: true,
			tank:   testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Still), tellVessel(boxVessel), tellWater(testedOxygen(testbeds.LastRead, "06:30", 1)), sign(layers.Gasping)),
			would:  "aerate at once",
			source: oxygenSource, water: waterFirst, says: []string{"gasp", "oxygen"}, first: []string{"aerat"},
		},
		{
			name: "gasping though the dawn oxygen is fine", tank: testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellWater(testedOxygen(testbeds.LastRead, "07:00", 7.5)), sign(layers.Gasping)),
			would:  "test ammonia, nitrite and pH: gills fail in oxygen-rich water too",
			source: gaspSource, water: waterFirst, says: []string{"gasp"}, first: []string{"test"},
		},
		{
			name: "gasping over soil where the flow isn't told", tank: testbeds.Told(plainBed(layers.Soil, "#4a382c", 15), tellFlow(""), tellRoots, sign(layers.Gasping)),
			would:  "aerate and test, whatever the bed",
			source: gaspSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "gasping over 60 mm of mulm in a living bed", tank: testbeds.Told(livingBed(60), sign(layers.Gasping)),
			would:  "aerate and test; roots and burrowers are no help to fish that gasp",
			source: gaspSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "gasping over 80 mm of mulm", passed: true, tank: testbeds.Told(testbeds.SandBed(80), sign(layers.Gasping)),
			would:  "aerate first, and siphon when the animals are calm again",
			source: gaspSource, water: waterFirst, first: []string{"aerat"}, later: []string{"siphon|mulm"},
		},
		{
			name: "gasping noted at one of two stations", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.Gasping), testbeds.TellSide),
			would:  "take it as said of the tank: the fish swim past both",
			source: gaspSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "gasping at the only reading of a jar", tank: testbeds.Told(testbeds.SandBed(10), tellFlow(layers.Livestock), tellVessel(jarVessel), tellNewestOnly, sign(layers.Gasping)),
			would:  "aerate; one reading is enough to see it",
			source: gaspSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "gasping in bubbled water without a baseline", tank: testbeds.Told(testbeds.SandBed(12), tellFlow(layers.Bubbled), tellNoNative, sign(layers.Gasping)),
			would:  "look after the air stone and test the water: bubbles are no proof of oxygen",
			source: gaspSource, water: waterFirst, first: []string{"test"},
		},
		{
			name: "white threads over 18 mm in still water", tank: testbeds.Told(testbeds.SandBed(18), tellFlow(layers.Still), sign(layers.WhiteThreads)),
			would:  "leave the bed and test the water; threads of sulphur bacteria or fungus eat what rots, a siphon would spread it",
			source: loreSource, water: eitherFirst, first: []string{"test"},
		},
		{
			name: "white threads over 20 mm in a still box", tank: testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Still), tellVessel(boxVessel), sign(layers.WhiteThreads)),
			would:  "leave the bed and test the water",
			source: loreSource, water: eitherFirst, first: []string{"test"},
		},
		{
			name: "white threads in pumped water", tank: testbeds.Told(testbeds.SandBed(20), sign(layers.WhiteThreads)),
			would:  "leave it and look again",
			source: loreSource, within: 14,
		},
		{
			name: "egg smell alone in pumped water", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.EggSmell)),
			would:  "stop, air the room, aerate, look again within the week; one smelly bubble in healthy water is oxidised before it harms",
			source: sulphideSource, first: []string{"aerat"}, within: 7,
		},
		{
			name: "egg smell alone in a still jar", tank: testbeds.Told(testbeds.SandBed(12), tellFlow(layers.Still), tellVessel(jarVessel), sign(layers.EggSmell)),
			would:  "aerate and leave the bed shut; still water has little to oxidise sulphide with",
			source: sulphideSource, water: eitherFirst, first: []string{"aerat"}, within: 7,
		},
		{
			name: "egg smell alone over thin black on bare sand", tank: testbeds.Told(testbeds.BareBed(9), sign(layers.EggSmell)),
			would:  "not stir what smells",
			source: stirSource, first: []string{"aerat"}, within: 7,
		},
		{
			name: "egg smell alone over 60 mm of mulm", passed: true, tank: testbeds.Told(testbeds.SandBed(60), sign(layers.EggSmell)),
			would:  "aerate first; siphon only when it smells no more",
			source: sulphideSource, water: eitherFirst, first: []string{"aerat"}, within: 7,
		},
		{
			name: "egg smell a month ago, none since", tank: testbeds.Told(testbeds.SandBed(12), tellSignBefore(layers.EggSmell)),
			would:  "keep the caution in mind and leave it",
			source: sulphideSource, water: eitherFirst,
		},
		{
			name: "egg smell and a dead animal", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.EggSmell), tellEvents(eventOn(testbeds.LastRead-3, layers.EventDeadAnimal))),
			would:  "see to the water: sulphide may have reached it",
			source: sulphideSource, water: waterFirst, first: []string{"aerat", "take out"},
		},
		{
			name: "egg smell and melting plants", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.EggSmell, layers.PlantMelt)),
			would:  "see to the water: what melts takes the oxygen that would bind the sulphide",
			source: loreSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "egg smell and white threads", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.EggSmell, layers.WhiteThreads)),
			would:  "see to the water: sulphide reaches the surface of the bed",
			source: loreSource, water: waterFirst, first: []string{"aerat"},
		},
	}
}

func deathSituations() []situation {
	dead := func(ago layers.Date) layers.Event { return eventOn(testbeds.LastRead-ago, layers.EventDeadAnimal) }
	month := testbeds.TellLimit(layers.LimitDecayDays, 30) // an own limit has no slack
	return []situation{
		{
			name: "one dead animal in pumped, clean water",
			tank: testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellEvents(dead(2)),
				tellWater(testedOxygen(testbeds.LastRead, "07:00", 7.5), testedAmmonia(testbeds.LastRead, 0.1, 7.2, 24))),
			would:  "take it out, look again in a week, ask a vet should another die",
			source: vetSource, says: []string{"aquatic veterinarian"}, first: []string{"take out"}, within: 7,
		},
		{
			name: "one dead animal noted at the reading of a living bed", tank: testbeds.Told(livingBed(20), sign(layers.DeadAnimal)),
			would:  "take it out and test the water",
			source: vetSource, first: []string{"take out"}, within: 7,
		},
		{
			name: "one dead animal in bubbled water, two stations", tank: testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Bubbled), testbeds.TellSide, tellEvents(dead(5))),
			would:  "take it out and test the water",
			source: vetSource, first: []string{"take out"}, within: 7,
		},
		{
			name: "a dead animal in still water", tank: testbeds.Told(testbeds.SandBed(12), tellFlow(layers.Still), tellEvents(dead(2))),
			would:  "see to the water: nothing brings oxygen to what rots",
			source: loreSource, water: waterFirst, first: []string{"take out"},
		},
		{
			name: "a dead animal noted in a still jar of deep mulm", passed: true,
			tank:   testbeds.Told(testbeds.SandBed(60), tellFlow(layers.Still), tellVessel(jarVessel), sign(layers.DeadAnimal)),
			would:  "see to the water, siphon later",
			source: loreSource, water: waterFirst, first: []string{"take out"}, later: []string{"siphon|mulm"},
		},
		{
			name: "a dead animal and melting plants", tank: testbeds.Told(testbeds.SandBed(12), tellEvents(dead(3), eventOn(testbeds.LastRead-6, layers.EventPlantMelt))),
			would:  "take out both and see to the water",
			source: loreSource, water: waterFirst, first: []string{"take out"},
		},
		{
			name: "a dead animal and white threads", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.WhiteThreads), tellEvents(dead(3))),
			would:  "see to the water",
			source: loreSource, water: waterFirst, first: []string{"take out"},
		},
		{
			name: "a dead animal and gasping", tank: testbeds.Told(testbeds.SandBed(12), sign(layers.Gasping, layers.DeadAnimal)),
			would:  "aerate, take it out, test",
			source: gaspSource, water: waterFirst, first: []string{"aerat", "take out"},
		},
		{
			name: "a dead animal and low oxygen late in the evening", passed: true, tank: testbeds.Told(testbeds.SandBed(12), tellEvents(dead(1)), tellWater(testedOxygen(testbeds.LastRead, "22:00", 2.5))),
			would:  "aerate through the night: it only falls until the morning",
			source: oxygenSource, water: waterFirst, says: []string{"oxygen"}, first: []string{"aerat"},
		},
		{
			name: "a dead animal and un-ionised ammonia over the limit", passed: true, tank: testbeds.Told(testbeds.SandBed(12), tellEvents(dead(4)), tellWater(testedAmmonia(testbeds.LastRead, 0.6, 8.2, 25))),
			would:  "take it out and change water",
			source: unionisedSource, water: waterFirst, says: []string{"ammonia"}, first: []string{"chang"},
		},
		{
			name: "a dead animal and total ammonia over the limit in acid water", passed: true, tank: testbeds.Told(testbeds.SandBed(12), tellEvents(dead(4)), tellWater(testedAmmonia(testbeds.LastRead, 2.5, 6.2, 25))),
			would:  "take it out and find out where the ammonia comes from",
			source: totalSource, water: waterFirst, says: []string{"ammonia"},
		},
		{
			name: "a second death within three weeks", tank: testbeds.Told(testbeds.SandBed(12), tellEvents(dead(1), dead(20))),
			would:  "hold the water suspect and ask a vet",
			source: vetSource, water: waterFirst, says: []string{"aquatic veterinarian"}, first: []string{"test"},
		},
		{
			name: "a second death 30 days after the first", tank: testbeds.Told(testbeds.SandBed(12), month, tellEvents(dead(0), dead(30))),
			would:  "count them together",
			source: limitSource, water: waterFirst,
		},
		{
			name: "a second death 31 days after the first", tank: testbeds.Told(testbeds.SandBed(12), month, tellEvents(dead(0), dead(31))),
			would:  "count the second only",
			source: limitSource, first: []string{"take out"}, within: 7,
		},
		{
			name: "melting plants alone in pumped water", tank: testbeds.Told(testbeds.SandBed(20), sign(layers.PlantMelt)),
			would:  "take out the leaves and leave the bed",
			source: loreSource, first: []string{"take out"}, within: 14,
		},
		{
			name:   "melting plants alone in bubbled water",
			tank:   testbeds.Told(plainBed(layers.Soil, "#4a382c", 20), tellFlow(layers.Bubbled), tellRoots, tellEvents(eventOn(testbeds.LastRead-4, layers.EventPlantMelt))),
			would:  "take out the leaves and leave the bed",
			source: loreSource, first: []string{"take out"}, within: 14,
		},
		{
			name: "a death 30 days ago in still water", tank: testbeds.Told(testbeds.SandBed(12), month, tellFlow(layers.Still), tellEvents(dead(30))),
			would:  "still count it",
			source: limitSource, water: waterFirst,
		},
		{
			name: "a death 31 days ago in still water", tank: testbeds.Told(testbeds.SandBed(12), month, tellFlow(layers.Still), tellEvents(dead(31))),
			would:  "count it no more",
			source: limitSource, monthly: true,
		},
		{
			name: "a death 30 days ago in pumped water", tank: testbeds.Told(testbeds.SandBed(12), month, tellEvents(dead(30))),
			would:  "still count it",
			source: limitSource, says: []string{"aquatic veterinarian"}, within: 7,
		},
		{
			name: "a death 31 days ago in pumped water", tank: testbeds.Told(testbeds.SandBed(12), month, tellEvents(dead(31))),
			would:  "count it no more",
			source: limitSource, monthly: true,
		},
		{
			name: "a death 10 days ago that counts for 10", tank: testbeds.Told(testbeds.SandBed(12), testbeds.TellLimit(layers.LimitDecayDays, 10), tellFlow(layers.Still), tellEvents(dead(10))),
			would:  "keep to the keeper's own limit",
			source: limitSource, water: waterFirst,
		},
		{
			name: "a death 11 days ago that counts for 10", tank: testbeds.Told(testbeds.SandBed(12), testbeds.TellLimit(layers.LimitDecayDays, 10), tellFlow(layers.Still), tellEvents(dead(11))),
			would:  "keep to the keeper's own limit",
			source: limitSource,
		},
	}
}

func oxygenSituations() []situation {
	const because = "aerate, whatever else; fish die of this within hours, of a bed within months"
	low := func(name string, changes ...func(*layers.Tank)) situation {
		return situation{
			name: name, tank: testbeds.Told(testbeds.SandBed(12), changes...), passed: true, would: because, source: oxygenSource,
			water: waterFirst, says: []string{"oxygen"}, first: []string{"aerat"},
		}
	}
	fine := func(name, would, source string, changes ...func(*layers.Tank)) situation {
		return situation{name: name, tank: testbeds.Told(testbeds.SandBed(12), changes...), would: would, source: source}
	}
	oxygen := func(ago layers.Date, clock string, mgPerL float64) func(*layers.Tank) {
		return tellWater(testedOxygen(testbeds.LastRead-ago, clock, mgPerL))
	}
	warm := tellWater(testedWarmth(testbeds.LastRead, 25))
	return []situation{
		low("oxygen of 2.9 at dawn in a box", tellVessel(boxVessel), warm, oxygen(0, "07:30", 2.9)),
		fine("oxygen of 3.0 at dawn in a box", "leave it: at the limit is not under it", oxygenSource, tellVessel(boxVessel), warm, oxygen(0, "07:30", 3)),
		low("oxygen of 2.9 where no vessel is told", oxygen(0, "07:30", 2.9)),
		low("oxygen of 2.9 without a time", tellVessel(boxVessel), warm, oxygen(0, "", 2.9)),
		low("oxygen of 2.9 without time or vessel in still water", tellFlow(layers.Still), oxygen(0, "", 2.9)),
		low("oxygen of 2.5 at 22:00", tellVessel(boxVessel), warm, oxygen(0, "22:00", 2.5)),
		low("oxygen of 2.0 at 15:00 in a still jar", tellFlow(layers.Still), tellVessel(jarVessel), warm, oxygen(1, "15:00", 2)),
		low("oxygen under the keeper's own limit of 5", testbeds.TellLimit(layers.LimitOxygen, 5), oxygen(0, "07:30", 4.9)),
		fine("oxygen at the keeper's own limit of 5", "leave it", limitSource, testbeds.TellLimit(layers.LimitOxygen, 5), oxygen(0, "07:30", 5)),
		fine("oxygen of 4.9 by the default limit", "leave it", oxygenSource, oxygen(0, "07:30", 4.9)),
		low("low oxygen 30 days ago, untested since", oxygen(30, "07:30", 2)),
		{
			name: "low oxygen 31 days ago, untested since, over thin black on bare sand", passed: true,
			tank:   testbeds.Told(testbeds.BareBed(9), oxygen(31, "07:30", 2)),
			would:  "test again at dawn before a hand goes in; the old number proves neither way",
			source: stirSource, says: []string{"31 days", "too old|no longer|older than|not used|isn't used|not counted|doesn't count|does not count"},
			first: []string{"test|measure"},
		},
		{
			name: "low oxygen ten weeks ago, untested since, over 12 mm of mulm", passed: true,
			tank:   testbeds.Told(testbeds.SandBed(12), oxygen(70, "07:30", 2)),
			would:  "say how old it is and ask for a new test",
			source: oxygenSource, says: []string{"70 days|10 weeks|ten weeks"}, first: []string{"test|measure"},
		},
		fine("low oxygen, then a fine dawn", "leave it: the newer dawn counts", dawnSource, oxygen(20, "07:00", 2), oxygen(5, "07:30", 6.5)),
		fine("low afternoon oxygen, then a fine dawn", "leave it", dawnSource, oxygen(6, "15:00", 2), oxygen(5, "07:30", 6.5)),
		fine("low oxygen, then a fine one at 09:59", "leave it: that is before the plants have made up for the night", dawnSource, oxygen(6, "07:00", 2), oxygen(5, "09:59", 6.5)),
		low("low oxygen, then a fine one at 10:00", oxygen(6, "07:00", 2), oxygen(5, "10:00", 6.5)),
		low("low dawn oxygen, then a fine afternoon", oxygen(3, "07:00", 2), oxygen(1, "15:00", 8.5)),
		low("low dawn oxygen, a fine afternoon the same day", oxygen(1, "07:00", 2), oxygen(1, "15:00", 8.5)),
		low("low oxygen, then a fine one without a time", oxygen(3, "07:00", 2), oxygen(1, "", 8.5)),
		low("a fine dawn, then a low evening", oxygen(3, "07:00", 6.5), oxygen(1, "22:00", 2.4)),
		low("a fine dawn, then a low one", oxygen(9, "07:00", 6.5), oxygen(1, "07:00", 2.4)),
		{
			name: "low oxygen over 60 mm of mulm", passed: true, tank: testbeds.Told(testbeds.SandBed(60), oxygen(2, "06:30", 2)),
			would:  "aerate first, siphon when the oxygen is back",
			source: oxygenSource, water: waterFirst, first: []string{"aerat"}, later: []string{"siphon|mulm"},
		},
		{
			name: "low oxygen over thin black on bare sand, two stations", passed: true, tank: testbeds.Told(testbeds.BareBed(9), testbeds.TellSide, oxygen(2, "06:30", 2.2)),
			would:  "by no means stir",
			source: stirSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name:   "oxygen that only the model holds low",
			tank:   testbeds.Told(testbeds.SandBed(20), tellFlow(layers.Still), tellVessel(tallVessel), tellWater(testedWarmth(testbeds.LastRead, 29))),
			would:  "measure at dawn; a model that is good to a factor of two is no alarm",
			source: dawnSource,
		},
		{
			name: "oxygen of 16 at dawn", tank: testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), warm, oxygen(0, "07:00", 16)),
			would:  "doubt the test: air presses half as much into such water, and at dawn plants have given nothing for hours",
			source: saturationSource, says: []string{"more than air|more than the air|supersaturat|oversaturat"},
		},
		{
			name: "oxygen of 16 where no temperature is told", tank: testbeds.Told(testbeds.SandBed(12), oxygen(0, "07:00", 16)),
			would:  "doubt the test: not even ice-cold water takes so much from air",
			source: saturationSource, says: []string{"more than air|more than the air|supersaturat|oversaturat"},
		},
	}
}

func ammoniaSituations() []situation {
	over := func(name, source string, changes ...func(*layers.Tank)) situation {
		return situation{
			name: name, tank: testbeds.Told(testbeds.SandBed(12), changes...), passed: true, would: "change part of the water, feed less, test again; the bed waits",
			source: source, water: waterFirst, says: []string{"ammonia"}, first: []string{"chang"},
		}
	}
	under := func(name, source string, changes ...func(*layers.Tank)) situation {
		return situation{name: name, tank: testbeds.Told(testbeds.SandBed(12), changes...), would: "leave it", source: source}
	}
	ammonia := func(ago layers.Date, mgPerL, ph, degrees float64) func(*layers.Tank) {
		return tellWater(testedAmmonia(testbeds.LastRead-ago, mgPerL, ph, degrees))
	}
	warmth := func(ago layers.Date, degrees float64) func(*layers.Tank) {
		return tellWater(testedWarmth(testbeds.LastRead-ago, degrees))
	}
	ph := func(ago layers.Date, clock string, ph float64) func(*layers.Tank) {
		return tellWater(testedPH(testbeds.LastRead-ago, clock, ph))
	}
	asked := func(s situation, says ...string) situation {
		s.says = says
		return s
	}
	return []situation{
		// 1.5 mg N/L at 25 °C is 0.0236 un-ionised at pH 7.45, 0.0168 at 7.3.
		over("un-ionised ammonia of 0.024", unionisedSource, ammonia(0, 1.5, 7.45, 25)),
		under("un-ionised ammonia of 0.017", unionisedSource, ammonia(0, 1.5, 7.3, 25)),
		under("un-ionised ammonia of 0.024 under the keeper's own limit of 0.05", limitSource, testbeds.TellLimit(layers.LimitAmmonia, 0.05), ammonia(0, 1.5, 7.45, 25)),
		over("un-ionised ammonia of 0.017 over the keeper's own limit of 0.01", limitSource, testbeds.TellLimit(layers.LimitAmmonia, 0.01), ammonia(0, 1.5, 7.3, 25)),
		// 1 mg N/L at 25 °C is 0.004 at the morning's pH 6.8, 0.18 at the evening's 8.6.
		over("ammonia by the day's highest pH", unionisedSource, ammonia(0, 1, 6.8, 25), ph(0, "19:00", 8.6)),
		under("ammonia, a high pH on another day", unionisedSource, ammonia(0, 1, 6.8, 25), ph(5, "19:00", 8.6)),
		// 0.5 mg N/L at pH 7.8 is 0.024 at 30 °C, 0.012 at 20, 0.007 at 12.
		over("ammonia by a temperature of 90 days ago", unionisedSource, ammonia(0, 0.5, 7.8, 0), warmth(90, 30)),
		asked(under("ammonia, a temperature of 91 days ago", unionisedSource, ammonia(0, 0.5, 7.8, 0), warmth(91, 30)), "temperature"),
		under("ammonia by the newest temperature", unionisedSource, ammonia(0, 0.5, 7.8, 0), warmth(60, 30), warmth(20, 12)),
		over("ammonia by the newest temperature, warm", unionisedSource, ammonia(0, 0.5, 7.8, 0), warmth(60, 12), warmth(20, 30)),
		// 1 mg N/L at pH 8.4 and 25 °C is 0.12.
		over("ammonia by a pH of 30 days ago", unionisedSource, ammonia(0, 1, 0, 25), ph(30, "18:00", 8.4)),
		asked(under("ammonia, a pH of 31 days ago", unionisedSource, ammonia(0, 1, 0, 25), ph(31, "18:00", 8.4)), "pH"),
		under("total ammonia of 2.0 at pH 6.2", totalSource, ammonia(0, 2, 6.2, 25)),
		over("total ammonia of 2.1 at pH 6.2", totalSource, ammonia(0, 2.1, 6.2, 25)),
		under("total ammonia at the keeper's own limit of 1", limitSource, testbeds.TellLimit(layers.LimitTotalAmmonia, 1), ammonia(0, 1, 6.2, 25)),
		over("total ammonia over the keeper's own limit of 1", limitSource, testbeds.TellLimit(layers.LimitTotalAmmonia, 1), ammonia(0, 1.1, 6.2, 25)),
		under("total ammonia under the keeper's own limit of 5", limitSource, testbeds.TellLimit(layers.LimitTotalAmmonia, 5), ammonia(0, 4.9, 6.2, 25)),
		over("total ammonia of 8 at pH 8.2", unionisedSource, ammonia(0, 8, 8.2, 25)),
		over("total ammonia of 8 at pH 6.2 in a still jar", totalSource, tellFlow(layers.Still), tellVessel(jarVessel), ammonia(0, 8, 6.2, 25)),
		over("total ammonia of 8 without a pH", totalSource, ammonia(0, 8, 0, 25)),
		over("total ammonia of 8 without pH or temperature, ten days ago", totalSource, ammonia(10, 8, 0, 0)),
		{
			name: "total ammonia of 8 five weeks ago", tank: testbeds.Told(testbeds.SandBed(12), ammonia(35, 8, 8.2, 25)), passed: true,
			would:  "test again before anything is said of the bed",
			source: totalSource, water: eitherFirst, says: []string{"ammonia", "35 days|five weeks|5 weeks"}, first: []string{"test"}, within: 7,
		},
		under("total ammonia of 8, then 0.1 a week later", totalSource, ammonia(10, 8, 8.2, 25), ammonia(3, 0.1, 7.6, 25)),
		{
			name: "total ammonia of 8 over 60 mm of mulm", tank: testbeds.Told(testbeds.SandBed(60), ammonia(1, 8, 8.2, 25)), passed: true,
			would:  "change water first, siphon later: what is siphoned up sets more ammonia free",
			source: totalSource, water: waterFirst, first: []string{"chang"}, later: []string{"siphon|mulm"},
		},
		{
			name: "total ammonia of 8 over thin black on bare sand", tank: testbeds.Told(testbeds.BareBed(9), testbeds.TellSide, ammonia(1, 8, 8.2, 25)), passed: true,
			would:  "change water; pore water holds more of the same",
			source: totalSource, water: waterFirst, first: []string{"chang"},
		},
		{
			name: "total ammonia of 8 before any core", passed: true,
			tank:   testbeds.Told(layers.Tank{ID: "new", SetUp: testbeds.LastRead - 20, Flow: layers.Pumped}, ammonia(0, 8, 7.6, 25)),
			would:  "change water; that needs no look at the bed",
			source: totalSource, water: waterFirst, first: []string{"chang"},
		},
	}
}

func bareSituations() []situation {
	shutBlack := func(name string, tank layers.Tank) situation {
		return situation{
			name: name, tank: tank, passed: true, would: "leave it shut, aerate, look again in two weeks: this much iron sulphide stirred takes the water's oxygen",
			source: stirSource, first: []string{"aerat"}, within: 14,
		}
	}
	leaveOrStir := []reports.Action{reports.Leave, reports.Stir}
	warm := tellWater(testedWarmth(testbeds.LastRead, 30))
	tall := testbeds.Told(blackBed(12), tellFlow(layers.Still), tellVessel(tallVessel), warm)
	strict := testbeds.Told(blackBed(9), tellFlow(layers.Still), tellVessel(deepVessel), warm, testbeds.TellLimit(layers.LimitOxygen, 6))
	undawned := func(name string, tank layers.Tank, clock string) situation {
		return situation{
			name: name, tank: testbeds.Told(tank, tellWater(testedOxygen(testbeds.LastRead, clock, 9))),
			would: "not stir on the strength of an oxygen from the lit hours", source: dawnSource,
			also: func(t *testing.T, found reports.Tank) {
				without := interpret(tank).Advice
				if without.Action == reports.Stir {
					t.Fatalf("stirred without any oxygen test too (%+v): the record shows nothing", without.Shares)
				}
				if got := found.Advice.Shares.Stir; got > without.Shares.Stir+0.02 {
					t.Errorf("%g of the draws stir, without that oxygen %g", got, without.Shares.Stir)
				}
			},
		}
	}
	return []situation{
		shutBlack("bare sand black to its surface, 30 mm", blackBed(30)),
		shutBlack("bare sand black to its surface, two stations", testbeds.Told(blackBed(30), testbeds.TellSide)),
		shutBlack("bare sand black to its surface in a still box", testbeds.Told(blackBed(30), tellFlow(layers.Still), tellVessel(boxVessel))),
		shutBlack("bare sand black to its surface in a jar that animals move", testbeds.Told(blackBed(30), tellFlow(layers.Livestock), tellVessel(jarVessel))),
		{
			name: "thin black on bare sand in pumped water", tank: testbeds.BareBed(9), actions: leaveOrStir,
			would:  "stir the top, a part at a time, or leave it",
			source: loreSource,
		},
		{
			name: "thin black on bare sand, fine oxygen at dawn, two stations", actions: []reports.Action{reports.Stir},
			tank:   testbeds.Told(testbeds.BareBed(9), testbeds.TellSide, tellVessel(boxVessel), tellWater(testedWarmth(testbeds.LastRead, 24), testedOxygen(testbeds.LastRead, "07:30", 7.5))),
			would:  "stir the top: little sulphide, known oxygen, no roots",
			source: loreSource, within: 14,
		},
		{
			name: "thin black on bare gravel", actions: leaveOrStir,
			tank: testbeds.Told(testbeds.BareBed(9), func(t *layers.Tank) {
				t.Native = []layers.Native{{Name: "gravel", Kind: layers.Gravel, Color: testbeds.BandColor[palette.Native]}}
			}),
			would:  "stir the top or leave it",
			source: loreSource,
		},
		{
			name: "thick black under a clean skin of sand", tank: testbeds.BareBed(40), would: "leave it shut", source: stirSource,
		},
		{
			name: "thin black that roots hold", tank: testbeds.Told(testbeds.BareBed(9), tellRoots), would: "leave it: a stir tears the roots that keep it sweet", source: loreSource,
		},
		{
			name: "black of 9 mm over the keeper's own limit of 5", tank: testbeds.Told(testbeds.BareBed(9), testbeds.TellLimit(layers.LimitThinBlack, 5)),
			would: "keep to the keeper's own limit", source: limitSource,
		},
		{
			name: "thin black in a young bed", tank: testbeds.Told(testbeds.BareBed(9), tellSetUp(testbeds.LastRead-30), tellNewestOnly, testbeds.TellLimit(layers.LimitYoungBed, 60)),
			would: "leave it: new beds blacken and lighten again", source: memorySource,
		},
		undawned("black sand in a tall still vessel, oxygen without a time", tall, ""),
		undawned("black sand in a tall still vessel, oxygen from the afternoon", tall, "14:00"),
		undawned("black sand in a deep still box, own oxygen limit, oxygen without a time", strict, ""),
		undawned("black sand in a deep still box, own oxygen limit, oxygen from the evening", strict, "19:30"),
		undawned("black sand in a deep still box, own oxygen limit, oxygen at 10:00", strict, "10:00"),
		{
			name: "black sand in a tall still vessel, fine oxygen at dawn", tank: testbeds.Told(tall, tellWater(testedOxygen(testbeds.LastRead, "06:30", 6.5))),
			would: "stir the top or leave it: the oxygen is known", source: dawnSource, actions: leaveOrStir,
		},
		{
			name: "a bed of 1 mm of black sand", tank: testbeds.Steady(testbeds.Of(1, palette.Black)),
			would: "say that there is no bed to read", source: loreSource, says: []string{"shallow"},
		},
		{
			name: "a bed of 600 mm", tank: testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(50, palette.Black), testbeds.Of(534, palette.Native)),
			would: "ask whether it is right: few() aquaria are so deep at all", source: slipSource, says: []string{"600"},
		},
	}
}

func laterSituations() []situation {
	return []situation{
		{
			name: "a death and low oxygen two days after the core", passed: true,
			tank: testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellEvents(eventOn(testbeds.LastRead+2, layers.EventDeadAnimal)),
				tellWater(testedOxygen(testbeds.LastRead+2, "07:00", 2.4))),
			would:  "aerate; the newest record is of the water",
			source: oxygenSource, water: waterFirst, says: []string{"oxygen", "aquatic veterinarian"}, first: []string{"aerat"},
		},
		{
			name: "ammonia five days after the core", passed: true, tank: testbeds.Told(testbeds.SandBed(12), tellWater(testedAmmonia(testbeds.LastRead+5, 8, 8, 25))),
			would:  "change water",
			source: totalSource, water: waterFirst, says: []string{"ammonia"},
		},
		{
			name: "a death and melting plants a week after the core", tank: testbeds.Told(testbeds.SandBed(12), tellEvents(eventOn(testbeds.LastRead+7, layers.EventDeadAnimal), eventOn(testbeds.LastRead+6, layers.EventPlantMelt))),
			would:  "take out both and see to the water",
			source: loreSource, water: waterFirst,
		},
		{
			name: "low oxygen 40 days after the core", passed: true, tank: testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead+40, "07:00", 2.5))),
			would:  "aerate, and read the bed again too",
			source: oxygenSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "a water change after low oxygen, untested since", passed: true,
			tank:   testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead+1, "07:00", 2)), tellEvents(eventOn(testbeds.LastRead+3, layers.EventWaterChange))),
			would:  "test before the alarm is called off",
			source: oxygenSource, water: waterFirst, first: []string{"test|measure|aerat"},
		},
		{
			name: "a note ten days after the core of a healthy bed", tank: testbeds.Told(testbeds.SandBed(12), tellEvents(eventOn(testbeds.LastRead+10, layers.EventNote))),
			would:  "leave it and read a month after the last reading",
			source: loreSource, monthly: true,
		},
		{
			name: "a death and low oxygen after the day of the report", asOf: testbeds.LastRead,
			tank:   testbeds.Told(testbeds.SandBed(12), tellEvents(eventOn(testbeds.LastRead+2, layers.EventDeadAnimal)), tellWater(testedOxygen(testbeds.LastRead+2, "07:00", 2.4))),
			would:  "report of a day what was known on it",
			source: slipSource, monthly: true,
		},
		{
			name: "low oxygen that is 30 days old by the day of the report", passed: true, asOf: testbeds.LastRead + 20,
			tank:   testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead-10, "07:00", 2.4))),
			would:  "still count it",
			source: oxygenSource, water: waterFirst, first: []string{"aerat"},
		},
		{
			name: "low oxygen that is 31 days old by the day of the report", passed: true, asOf: testbeds.LastRead + 21,
			tank:   testbeds.Told(testbeds.SandBed(12), tellWater(testedOxygen(testbeds.LastRead-10, "07:00", 2.4))),
			would:  "say how old it is and ask for a new test",
			source: oxygenSource, says: []string{"31 days"}, first: []string{"test|measure"},
		},
	}
}

func sightSituations() []situation {
	film := func(hex string, band palette.Band) layers.Tank {
		skin := layers.Layer{ThicknessMM: 2, Color: hexColor(hex), Band: band}
		return testbeds.Steady(append([]layers.Layer{skin}, testbeds.SandColumn(12)...)...)
	}
	warm := func(degrees float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(12), tellWater(testedWarmth(testbeds.LastRead, degrees)))
	}
	return []situation{
		{
			name: "blue-green film over the bed", tank: film("#2f645c", palette.FilmDark),
			would:  "leave the bed and watch it: cyanobacteria like standing water and much mulm",
			source: loreSource, watch: []string{"cyanobacteria"},
		},
		{
			name: "dark red film behind covered glass", tank: testbeds.Told(film("#5c2226", palette.FilmDark), tellLit(false)),
			would:  "leave the bed and watch it",
			source: loreSource, watch: []string{"cyanobacteria"},
		},
		{
			name: "a white mat on the bed", tank: film("#e4e2db", palette.MatWhite),
			would:  "leave the bed, look for what rots, watch it",
			source: loreSource, watch: []string{"fung|bacteri"},
		},
		{
			name: "green film on lit glass", tank: testbeds.Told(film("#4f7a3a", palette.FilmGreen), tellLit(true)),
			would:  "wipe the pane: green algae tell of light only",
			source: loreSource, watchSilent: true, monthly: true,
		},
		{
			name: "water of 34 °C", tank: warm(34),
			would:  "say so: it holds little oxygen and the bed takes up more",
			source: saturationSource, says: []string{"34 °C|warm"},
		},
		{
			name: "water of 4 °C", tank: warm(4),
			would:  "say so: either a slip or not a tank for these rules",
			source: slipSource, says: []string{"4 °C|cold"},
		},
		{
			name: "water of 24 °C", tank: warm(24),
			would:  "say nothing of it",
			source: loreSource, silent: []string{"24 °C", "warm", "cold"}, monthly: true,
		},
	}
}

func rateSituations() []situation {
	noRate := func(t *testing.T, found reports.Tank) {
		if rate := found.Accumulation; rate != nil && rate.Basis != reports.SinceSetUp {
			t.Errorf("accumulation %+v from readings of a few() days", *rate)
		}
	}
	twice := func(gap layers.Date, first, second float64) layers.Tank {
		return testbeds.Told(testbeds.TankOf(2, func(m int) []layers.Layer {
			return testbeds.SandColumn([]float64{first, second}[m])
		}), tellGap(gap))
	}
	return []situation{
		{
			name: "80 mm of mulm in an unreliable photo, the only reading", passed: true,
			tank:   testbeds.Told(testbeds.Steady(testbeds.Of(80, palette.MulmLight), testbeds.Of(40, palette.Native)), tellNewestOnly, tellPhoto(true)),
			would:  "read again by eye before a hand goes in",
			source: slipSource, says: []string{"not reliable"}, limited: true, within: 14,
			also: func(t *testing.T, found reports.Tank) {
				if found.Accumulation != nil {
					t.Errorf("accumulation %+v from a reading that may be wrong", *found.Accumulation)
				}
			},
		},
		{
			name: "an unreliable photo of 80 mm after four readings of 12", passed: true,
			tank:   testbeds.Told(lastColumn(testbeds.Of(80, palette.MulmLight), testbeds.Of(40, palette.Native)), tellPhoto(true)),
			would:  "read again by eye",
			source: slipSource, says: []string{"not reliable"}, within: 14,
		},
		{
			name: "two readings 3 days apart", tank: twice(3, 10, 14),
			would:  "make no rate of it",
			source: trendSource, also: noRate,
		},
		{
			name: "two readings 13 days apart", tank: twice(13, 10, 12),
			would:  "make no rate of it",
			source: trendSource, also: noRate,
		},
		{
			name: "three readings within six days",
			tank: testbeds.Told(testbeds.TankOf(3, func(m int) []layers.Layer { return testbeds.SandColumn([]float64{10, 12, 14}[m]) }), func(t *layers.Tank) {
				for i := range t.Cores {
					t.Cores[i].Date = testbeds.LastRead + layers.Date(3*i)
				}
			}),
			would:  "make no rate of them either",
			source: trendSource, also: noRate,
		},
		{
			name: "two readings 14 days apart", tank: twice(14, 10, 11),
			would:  "give a rate, and say on how little it stands",
			source: trendSource,
			also: func(t *testing.T, found reports.Tank) {
				if rate := found.Accumulation; rate == nil || rate.Basis == reports.SinceSetUp {
					t.Errorf("accumulation %+v, want one of the two readings", rate)
				}
			},
		},
	}
}

func slipSituations() []situation {
	upsideDown := slices.Clone(testbeds.SandColumn(12))
	slices.Reverse(upsideDown)
	scaled := func(by float64) []layers.Layer {
		column := testbeds.SandColumn(12)
		for i := range column {
			column[i].ThicknessMM *= by
		}
		return column
	}
	// The lower edges of sandColumn(12), typed as if they were thicknesses.
	depths := []layers.Layer{testbeds.Of(12, palette.MulmLight), testbeds.Of(16, palette.Rust), testbeds.Of(26, palette.Black), testbeds.Of(76, palette.Native)}
	gone := testbeds.TankOf(5, func(m int) []layers.Layer { return testbeds.SandColumn([]float64{30, 30, 31, 31, 4}[m]) })
	toppedUp := lastColumn(append([]layers.Layer{testbeds.Of(20, palette.Native)}, testbeds.SandColumn(12)...)...)
	// By its colour the top layer is rather the laid sand than mulm; if it is mulm there is three
	// times as much.
	doubtful := testbeds.Told(testbeds.TankOf(1, func(int) []layers.Layer {
		return []layers.Layer{seen(30, "#a98f6a"), seen(12, "#50402e")}
	}), func(t *layers.Tank) { t.Native[0].Color = hexColor("#b99a72") })
	wide := func(t *testing.T, found reports.Tank) {
		top := found.Cores[0].Layers[0]
		t.Logf("top layer: %s %g, or %v", top.Band, top.Probability, top.Alternatives)
		mulm, rate := found.Mulm, found.Accumulation
		if mulm == nil || mulm.Low > 15 || mulm.High < 40 {
			t.Errorf("mulm %+v, want it to reach from 12 mm at most to 42", mulm)
		}
		if rate == nil {
			return // no rate is honest too
		}
		if months := doubtful.SetUp.Months(found.AsOf); rate.High < 0.9*42/months {
			t.Errorf("accumulation %+v, though 42 mm may have grown in %.0f months", *rate, months)
		}
	}
	return []situation{
		{
			name: "a core typed from the floor up", tank: lastColumn(upsideDown...),
			would: "ask: mulm doesn't lie under sand that was laid first", source: slipSource, asks: []reports.Slip{reports.SlipTurnedOver},
		},
		{
			name: "the only core, typed from the floor up", tank: testbeds.Told(lastColumn(upsideDown...), tellNewestOnly),
			would: "ask", source: slipSource, asks: []reports.Slip{reports.SlipTurnedOver},
		},
		{
			name: "a core that stands on its head and is sure", tank: testbeds.Told(lastColumn(upsideDown...), tellSure),
			would: "believe the keeper who was asked", source: slipSource, asksNothing: true,
		},
		{
			name: "a core ten times the one before", tank: lastColumn(scaled(10)...), passed: true,
			would: "ask before 120 mm of mulm are believed", source: slipSource, asks: []reports.Slip{reports.SlipTenfold},
		},
		{
			name: "a core a tenth of the one before", tank: lastColumn(scaled(0.1)...),
			would: "ask", source: slipSource, asks: []reports.Slip{reports.SlipTenth},
		},
		{
			name: "a core ten times the one before that is sure", tank: testbeds.Told(lastColumn(scaled(10)...), tellSure), passed: true,
			would: "believe the keeper who was asked", source: slipSource, actions: []reports.Action{reports.Leave, reports.Siphon}, asksNothing: true,
		},
		{
			name: "depths typed as thicknesses", tank: lastColumn(depths...),
			would: "ask", source: slipSource, asks: []reports.Slip{reports.SlipDepths},
		},
		{
			name: "depths typed as thicknesses that are sure", tank: testbeds.Told(lastColumn(depths...), tellSure),
			would: "believe the keeper who was asked", source: slipSource, asksNothing: true,
		},
		{
			name: "mulm gone without an event", tank: gone,
			would: "ask whether it was siphoned", source: slipSource, asks: []reports.Slip{reports.SlipRemoval},
		},
		{
			name: "mulm gone by a siphon that is entered", tank: testbeds.Told(gone, tellEvents(siphonedOn(testbeds.LastRead-10, 0.25, 27))),
			would: "ask nothing", source: slipSource, asksNothing: true,
		},
		{
			name: "mulm gone without an event, and sure", tank: testbeds.Told(gone, tellSure),
			would: "believe the keeper who was asked", source: slipSource, asksNothing: true,
		},
		{
			name: "fresh sand on the mulm without an event", tank: toppedUp,
			would: "ask whether the bed was topped up", source: slipSource, asks: []reports.Slip{reports.SlipTopUp},
		},
		{
			name: "fresh sand on the mulm by a top-up that is entered", tank: testbeds.Told(toppedUp, tellEvents(eventOn(testbeds.LastRead-10, layers.EventTopUpSubstrate))),
			would: "ask nothing", source: slipSource, asksNothing: true,
		},
		{
			name: "a normal month", tank: testbeds.TankOf(5, func(m int) []layers.Layer { return testbeds.SandColumn([]float64{12, 12, 12, 12, 14}[m]) }),
			would: "ask nothing", source: slipSource, asksNothing: true,
		},
		{
			name: "a layer that may be sand or mulm", tank: doubtful, also: wide,
			would: "ask what it is: the mulm hangs on it", source: slipSource, asks: []reports.Slip{reports.SlipName}, clarity: reports.FairlyClear,
		},
		{
			name: "a layer that may be sand or mulm, and sure", tank: testbeds.Told(doubtful, tellSure), also: wide,
			would: "not ask twice", source: slipSource, asksNothing: true,
		},
		{
			name: "a layer that may be mulm or sand over a whole bed", also: wide,
			tank: testbeds.Told(doubtful, func(t *layers.Tank) {
				t.Cores[0].Layers = append([]layers.Layer{seen(30, "#b99a72"), seen(12, "#50402e")},
					testbeds.Of(4, palette.Rust), testbeds.Of(10, palette.Black), layers.Layer{ThicknessMM: 50, Color: hexColor("#b99a72"), Band: palette.Native})
			}),
			would: "ask what it is", source: slipSource, asks: []reports.Slip{reports.SlipName},
		},
	}
}

func claritySituations() []situation {
	old := func(tank layers.Tank, name string, asOf layers.Date) situation {
		return situation{
			name: name, tank: tank, asOf: asOf, would: "read again now: a bed changes within three months",
			source: loreSource, clarity: reports.FairlyClear, limited: true, due: true,
		}
	}
	return []situation{
		{
			name: "one station of a clear-cut bed", tank: testbeds.SandBed(12),
			would: "leave it, mindful that one spot says little of the floor", source: loreSource, limited: true, monthly: true,
		},
		{
			name: "two stations of a clear-cut bed", tank: testbeds.Told(testbeds.SandBed(12), testbeds.TellSide, tellVessel(boxVessel)),
			would: "leave it without much doubt", source: loreSource, monthly: true,
			also: func(t *testing.T, found reports.Tank) {
				if c := found.Advice.Clarity; c != reports.Clear && c != reports.FairlyClear {
					t.Errorf("clarity %q of a bed that hangs on nothing", c)
				}
			},
		},
		{
			name: "mulm right at its limit, two stations", tank: testbeds.Told(testbeds.SandBed(50), testbeds.TellSide), actions: []reports.Action{reports.Leave, reports.Siphon},
			would: "say that it may go either way", source: limitSource, clarity: reports.Unclear,
		},
		old(testbeds.Told(testbeds.SandBed(12), testbeds.TellSide), "cores 100 days old, two stations", testbeds.LastRead+100),
		old(testbeds.SandBed(12), "a core 100 days old, one station", testbeds.LastRead+100),
		old(testbeds.Told(testbeds.SandBed(12), testbeds.TellSide, tellWater(testedAmmonia(testbeds.LastRead+100, 0.1, 7, 24))), "cores 100 days old by a newer water test", 0),
	}
}

// healthySituations are beds of many kinds that want nothing.
func healthySituations() []situation {
	var list []situation
	for _, healthy := range []struct {
		name string
		tank layers.Tank
	}{
		{"pumped sand", testbeds.SandBed(12)},
		{"pumped sand, two stations in a box", testbeds.Told(testbeds.SandBed(12), testbeds.TellSide, tellVessel(boxVessel))},
		{"planted soil in a still box", testbeds.Told(plainBed(layers.Soil, "#4a382c", 15), tellFlow(layers.Still), tellVessel(boxVessel), tellRoots)},
		{"planted clay in a jar that animals move", testbeds.Told(plainBed(layers.Clay, "#9a4832", 8), tellFlow(layers.Livestock), tellVessel(jarVessel), tellRoots)},
		{"gravel in a bubbled box", testbeds.Told(plainBed(layers.Gravel, "#cfc7bc", 10), tellFlow(layers.Bubbled), tellVessel(boxVessel))},
		{"dark granules, burrowers at work", testbeds.Told(plainBed(layers.Granules, "#4a382c", 10), tellRoots, tellBurrowers, sign(layers.Burrowers))},
		{"no baseline, named by its keeper", testbeds.Told(testbeds.SandBed(12), tellNoNative)},
		{"flow not told", testbeds.Told(testbeds.SandBed(12), tellFlow(""))},
		{"60 mm of mulm in a living bed", livingBed(60)},
		{"the first reading", testbeds.Told(testbeds.SandBed(12), tellNewestOnly)},
		{"two readings a month apart", testbeds.TankOf(2, func(m int) []layers.Layer { return testbeds.SandColumn(float64(11 + m)) })},
		{"two years of slow growth", testbeds.TankOf(24, func(m int) []layers.Layer { return testbeds.SandColumn(2 + 0.5*float64(m)) })},
		{"clean sand without mulm or black", testbeds.Steady(testbeds.Of(60, palette.Native))},
		{"water tested and clean", testbeds.Told(testbeds.SandBed(12), tellVessel(boxVessel), tellWater(testedOxygen(testbeds.LastRead, "07:00", 7.8), testedAmmonia(testbeds.LastRead, 0.1, 7, 24)))},
		{"gas bubbles without a smell", testbeds.Told(testbeds.SandBed(12), sign(layers.GasBubbles))},
		{"roots below the front", testbeds.Told(livingBed(15), sign(layers.RootsDeep))},
		{"grown back after a siphon in spring", testbeds.Told(testbeds.SandBed(12), tellEvents(siphonedOn(testbeds.Day("2026-04-10"), 0.25, 20)))},
		{"read from a good photo", testbeds.Told(testbeds.SandBed(12), tellPhoto(false))},
	} {
		list = append(list, situation{
			name: "healthy: " + healthy.name, tank: healthy.tank, would: "leave it and read again in a month",
			source: loreSource, monthly: true, asksNothing: true, watchSilent: true,
		})
	}
	return list
}

func limitSituations() []situation {
	siphon := []reports.Action{reports.Siphon}
	// Without its youth this bed is one to siphon.
	young := func(age, limit float64) layers.Tank {
		tank := testbeds.Told(testbeds.SandBed(25), tellNewestOnly, tellSetUp(testbeds.LastRead-layers.Date(age)), testbeds.TellLimit(layers.LimitMulm, 15))
		if limit != 0 {
			tank = testbeds.Told(tank, testbeds.TellLimit(layers.LimitYoungBed, limit))
		}
		return tank
	}
	own := func(mulm, limit float64) layers.Tank {
		return testbeds.Told(testbeds.SandBed(mulm), testbeds.TellSide, testbeds.TellLimit(layers.LimitMulm, limit))
	}
	siphoned := func(ago layers.Date) layers.Tank {
		return testbeds.Told(testbeds.SandBed(60), tellEvents(siphonedOn(testbeds.LastRead-ago, 0.25, 20)))
	}
	const keep = "keep to the keeper's own limit"
	return []situation{
		{
			name: "60 mm of mulm, two stations", tank: testbeds.Told(testbeds.SandBed(60), testbeds.TellSide), passed: true, actions: siphon,
			would: "siphon the top of a quarter of the floor", source: loreSource, says: []string{"mulm"}, within: 14,
		},
		{
			name: "60 mm of mulm in still water", tank: testbeds.Told(testbeds.SandBed(60), tellFlow(layers.Still)), passed: true, actions: siphon,
			would: "siphon the top of a quarter of the floor", source: loreSource, within: 14,
		},
		{
			name: "60 mm of mulm in a living bed, two stations", tank: testbeds.Told(livingBed(60), testbeds.TellSide),
			would: "leave what feeds roots and shrimp", source: loreSource, monthly: true,
		},
		{
			name: "90 mm of mulm in a living bed", tank: testbeds.Told(livingBed(90), testbeds.TellSide), passed: true, actions: siphon,
			would: "siphon the top: that is too much even there", source: limitSource, within: 14,
		},
		{
			name: "90 mm of mulm in a living bed with an own limit of 110", tank: testbeds.Told(livingBed(90), testbeds.TellSide, testbeds.TellLimit(layers.LimitLivingMulm, 110)),
			would: keep, source: limitSource,
		},
		{
			name: "mulm that grows 6 mm a month", passed: true, actions: []reports.Action{reports.Leave, reports.Siphon},
			tank:  testbeds.TankOf(8, func(m int) []layers.Layer { return testbeds.SandColumn(float64(1 + 6*m)) }),
			would: "halve the feeding before anything else", source: memorySource, first: []string{"feed"}, within: 14,
		},
		{
			name: "mulm that grows 2 mm a month", tank: testbeds.TankOf(8, func(m int) []layers.Layer { return testbeds.SandColumn(float64(1 + 2*m)) }),
			would: "leave it", source: limitSource, asksNothing: true,
		},
		{name: "24 mm of mulm with an own limit of 20", tank: own(24, 20), passed: true, actions: siphon, would: keep, source: limitSource, within: 14},
		{name: "16 mm of mulm with an own limit of 20", tank: own(16, 20), would: keep, source: limitSource},
		{name: "60 mm of mulm with an own limit of 80", tank: own(60, 80), would: keep, source: limitSource},
		{
			name: "siphoned 13 days ago", tank: siphoned(13), passed: true, would: "let the bed rest for two weeks between turns",
			source: memorySource, asksNothing: true,
		},
		{
			name: "siphoned 14 days ago", tank: siphoned(14), passed: true, actions: siphon, would: "take the next quarter",
			source: memorySource, asksNothing: true,
		},
		{name: "a bed 59 days old, young for 60 by own limit", tank: young(59, 60), passed: true, would: "leave it to settle", source: limitSource},
		{name: "a bed 60 days old, young for 60 by own limit", tank: young(60, 60), passed: true, actions: siphon, would: keep, source: limitSource},
		{name: "a bed 50 days old by the default", tank: young(50, 0), passed: true, would: "leave it to settle", source: limitSource},
		{name: "a bed 70 days old by the default", tank: young(70, 0), passed: true, actions: siphon, would: "treat it as grown up", source: limitSource},
		{
			name: "a bed 59 days old by the default", tank: young(59, 0), passed: true, actions: []reports.Action{reports.Leave, reports.Siphon},
			would: "say that it hangs on a rule of thumb", source: limitSource, clarity: reports.Unclear,
		},
		{
			name: "black just under 3 mm of dark mulm", passed: true, actions: []reports.Action{reports.Leave, reports.Siphon},
			tank:  testbeds.Steady(testbeds.Of(3, palette.MulmDark), testbeds.Of(30, palette.Black), testbeds.Of(40, palette.Native)),
			would: "take the mulm off the black, or aerate and look again", source: limitSource, within: 14,
		},
		{
			name: "a front that rises 3 mm a month", passed: true,
			tank: testbeds.TankOf(8, func(m int) []layers.Layer {
				return []layers.Layer{testbeds.Of(10, palette.MulmLight), testbeds.Of(float64(30-3*m), palette.Rust), testbeds.Of(20, palette.Black), testbeds.Of(40, palette.Native)}
			}),
			would: "look again in two weeks", source: limitSource, within: 14,
		},
	}
}

// TestAdvice_situations: what is advised is what a careful expert would do, and what is said
// does not contradict the record or itself.
func TestAdvice_situations(t *testing.T) {
	all := slices.Concat(
		breathSituations(), deathSituations(), oxygenSituations(), ammoniaSituations(), bareSituations(), laterSituations(),
		sightSituations(), rateSituations(), slipSituations(), claritySituations(), healthySituations(), limitSituations(),
	)
	for _, s := range all {
		t.Run(s.name, func(t *testing.T) {
			found := Interpret(slices.Values([]layers.Tank{s.tank}), reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed, AsOf: s.asOf}).Tanks[0]
			if found.Advice == nil {
				t.Fatalf("no advice; a careful expert would %s (%s)", s.would, s.source)
			}
			s.judge(t, found)
			s.judgeRecord(t, found)
			if t.Failed() {
				t.Logf("advice: %s %+v; how: %s; a careful expert would %s (%s)", found.Advice.Action, found.Advice.Shares, found.Advice.How, s.would, s.source)
			}
		})
	}
}

// judge holds the findings to what the row asks for.
func (s situation) judge(t *testing.T, found reports.Tank) {
	a := found.Advice
	actions := s.actions
	if actions == nil {
		actions = []reports.Action{reports.Leave}
	}
	if !slices.Contains(actions, a.Action) {
		t.Errorf("action %s, want one of %v", a.Action, actions)
	}
	if got := len(a.WaterFirst) > 0; s.water != eitherFirst && got != (s.water == waterFirst) {
		t.Errorf("water first: %q, want it %t", a.WaterFirst, s.water == waterFirst)
	}
	everything := spoken(found)
	wantPhrases(t, "anywhere", everything, s.says)
	wantPhrases(t, "in what to do first", a.First, s.first)
	wantPhrases(t, "in what the bed says for later", a.Later, s.later)
	for _, phrase := range s.silent {
		if text, ok := saying(everything, phrase); ok {
			t.Errorf("%q says %q", text, phrase)
		}
	}

	var signs []string
	if found.Watch != nil {
		signs = found.Watch.Signs
	}
	wantPhrases(t, "in what to watch", signs, s.watch)
	if s.watchSilent && len(signs) > 0 {
		t.Errorf("watch %q, want it silent", signs)
	}

	for _, slip := range s.asks {
		if !slices.ContainsFunc(found.Questions, func(q reports.Question) bool {
			return slices.ContainsFunc(q.Mends, func(m reports.Mend) bool { return m.Slip == slip })
		}) {
			t.Errorf("questions %+v, want one that %s answers", found.Questions, slip)
		}
	}
	if s.asksNothing && len(found.Questions) > 0 {
		t.Errorf("questions %+v, want none", found.Questions)
	}

	wait := a.NextReading - found.AsOf
	if s.within != 0 && wait > s.within {
		t.Errorf("next reading in %d days, want %d at most", wait, s.within)
	}
	if s.due && wait > 0 {
		t.Errorf("next reading in %d days, want it due", wait)
	}
	if newest := newestCore(s.tank, found.AsOf); s.monthly && a.NextReading != newest+30 {
		t.Errorf("next reading %s, want it 30 days after %s", a.NextReading, newest)
	}

	if s.clarity != "" && clearness(a.Clarity) > clearness(s.clarity) {
		t.Errorf("clarity %q, want no better than %q", a.Clarity, s.clarity)
	}
	if s.limited && len(a.LimitedBy) == 0 {
		t.Error("nothing said of what keeps the clarity down")
	}
	if s.also != nil {
		s.also(t, found)
	}
}

// judgeRecord holds the findings to what every record may ask for.
func (s situation) judgeRecord(t *testing.T, found reports.Tank) {
	a, tank := found.Advice, s.tank
	everything := spoken(found)

	if want := newestRecord(tank); s.asOf == 0 && found.AsOf != want {
		t.Errorf("as of %s, want the newest record's %s", found.AsOf, want)
	} else if s.asOf != 0 && found.AsOf != s.asOf {
		t.Errorf("as of %s, want %s", found.AsOf, s.asOf)
	}

	hasCore := newestCore(tank, found.AsOf) != 0
	if len(a.WaterFirst) > 0 {
		if a.Action != reports.Leave || a.Shares.Leave != 1 {
			t.Errorf("action %s %+v while the water comes first", a.Action, a.Shares)
		}
		if hasCore && len(a.Later) == 0 {
			t.Error("not a word of the bed for later")
		}
		if len(a.First) == 0 {
			t.Error("not a word of what to do for the water")
		}
		if wait := a.NextReading - found.AsOf; wait > 7 {
			t.Errorf("next reading in %d days while the water comes first", wait)
		}
		for _, text := range append([]string{a.How}, a.First...) {
			if tellsToDisturb(text) {
				t.Errorf("%q tells to stir or siphon while the water comes first", text)
			}
		}
	} else if len(a.Later) > 0 {
		t.Errorf("later %q, though nothing comes before it", a.Later)
	}

	if text, ok := saying(everything, "no limit is reached"); s.passed && ok {
		t.Errorf("%q, though the record holds one that is passed", text)
	}
	for _, reason := range slices.Concat(a.Because, a.Against) {
		if limit, _ := tank.Limits.Of(mulmLimit(reason.Rule)); strings.Contains(reason.Text, "Mulm is ") && (found.Mulm == nil || found.Mulm.Value <= limit) {
			t.Errorf("%s: %q, though the limit is %g mm", reason.Rule, reason.Text, limit)
		}
	}

	_, toVet := saying(everything, "aquatic veterinarian")
	_, ifGasp := saying(everything, "if fish gasp")
	_, window := saying(a.Cautions, "window")
	decayDays, _ := tank.Limits.Of(layers.LimitDecayDays)
	for _, core := range tank.Cores {
		age := found.AsOf - core.Date
		if age < 0 {
			continue
		}
		if slices.Contains(core.Signs, layers.EggSmell) && age <= 30 && !window {
			t.Errorf("egg smell noted %d days ago, but cautions %q", age, a.Cautions)
		}
		if float64(age) > decayDays {
			continue
		}
		gasping := slices.Contains(core.Signs, layers.Gasping)
		if gasping && ifGasp {
			t.Error(`"if fish gasp", where they do`)
		}
		if (gasping || slices.Contains(core.Signs, layers.DeadAnimal)) && !toVet {
			t.Errorf("gasping or a dead animal noted %d days ago, but no word of a veterinarian", age)
		}
	}
	for _, event := range tank.Events {
		if age := found.AsOf - event.Date; event.Kind == layers.EventDeadAnimal && age >= 0 && float64(age) <= decayDays && !toVet {
			t.Errorf("an animal died %d days ago, but no word of a veterinarian", age)
		}
	}

	if a.Action != reports.Leave && len(a.Cautions) == 0 {
		t.Error("no cautions with a hand in the tank")
	}
	if hasCore && clearness(a.Clarity) < 0 {
		t.Errorf("clarity %q is none", a.Clarity)
	}
	if hasCore && len(tank.Stations()) == 1 && a.Clarity == reports.Clear {
		t.Error("clear by one station, which says little of the floor")
	}
	for _, q := range found.Questions {
		if !strings.HasSuffix(q.Text, "?") || len(q.Mends) == 0 {
			t.Errorf("question %q, answers %+v", q.Text, q.Mends)
		}
		if !slices.ContainsFunc(tank.Cores, func(c layers.Core) bool { return c.Station == q.Station && c.Date == q.Date }) {
			t.Errorf("question of a core that isn't there: %s, %s", q.Station, q.Date)
		}
	}
}

// spoken is everything that is said of a tank in sentences.
func spoken(found reports.Tank) []string {
	a := found.Advice
	texts := slices.Concat(a.WaterFirst, a.Later, []string{a.How}, a.First, a.Cautions, a.LimitedBy, found.Notices)
	for _, reason := range slices.Concat(a.Because, a.Against) {
		texts = append(texts, reason.Text)
	}
	if found.Watch != nil {
		texts = append(texts, found.Watch.Signs...)
	}
	for _, q := range found.Questions {
		texts = append(texts, q.Text)
	}
	return texts
}

// saying is the first of the texts that holds one of the phrases between the bars.
func saying(texts []string, phrases string) (string, bool) {
	for _, text := range texts {
		for phrase := range strings.SplitSeq(phrases, "|") {
			if strings.Contains(strings.ToLower(text), strings.ToLower(phrase)) {
				return text, true
			}
		}
	}
	return "", false
}

func wantPhrases(t *testing.T, where string, texts, phrases []string) {
	t.Helper()
	for _, phrase := range phrases {
		if _, ok := saying(texts, phrase); !ok {
			t.Errorf("%s: no word of %q in %q", where, phrase, texts)
		}
	}
}

var (
	sentenceEnd = regexp.MustCompile(`[.;:!?]\s`)
	disturbing  = regexp.MustCompile(`(?i)\b(stir|siphon)`)
	// With these a sentence speaks of stirring without asking for it.
	denying = regexp.MustCompile(`(?i)\b(not|never|neither|nor|no|nothing|without|until|before|later|once|wait|waits)\b|n't`)
)

// tellsToDisturb reports whether a sentence of the text asks for a hand in the bed.
func tellsToDisturb(text string) bool {
	return slices.ContainsFunc(sentenceEnd.Split(text, -1), func(sentence string) bool {
		return disturbing.MatchString(sentence) && !denying.MatchString(sentence)
	})
}

// The rows lean on it.
func TestTellsToDisturb(t *testing.T) {
	for text, want := range map[string]bool{
		"Siphon the top mulm only.":                             true,
		"Do not feed. Then stir the top 10 mm.":                 true,
		"Leave the bed: neither stir nor siphon.":               false,
		"Aerate, and leave the bed until it may be siphoned.":   false,
		"Take out dead animals and change a third of the water": false,
	} {
		if got := tellsToDisturb(text); got != want {
			t.Errorf("%q tells to disturb the bed: %t, want %t", text, got, want)
		}
	}
}

// mulmLimit is the limit that a reason's rule holds the mulm to.
func mulmLimit(rule string) layers.Limit {
	switch {
	case strings.HasPrefix(rule, "deep-mulm-in-a-living-bed"):
		return layers.LimitLivingMulm
	case strings.HasPrefix(rule, "decay"):
		return layers.LimitDecayMulm
	}
	return layers.LimitMulm
}

// clearness grows with the clarity; -1: it is none.
func clearness(c reports.Clarity) int {
	return slices.Index([]reports.Clarity{reports.Divided, reports.Unclear, reports.FairlyClear, reports.Clear}, c)
}

// newestCore is the day of the newest core up to a day, 0 where there is none.
func newestCore(tank layers.Tank, asOf layers.Date) (newest layers.Date) {
	for _, core := range tank.Cores {
		if core.Date <= asOf {
			newest = max(newest, core.Date)
		}
	}
	return newest
}

// newestRecord is the day of the newest core, water test or event.
func newestRecord(tank layers.Tank) layers.Date {
	newest := newestCore(tank, testbeds.Day("2100-01-01"))
	for _, test := range tank.Water {
		newest = max(newest, test.Date)
	}
	for _, event := range tank.Events {
		newest = max(newest, event.Date)
	}
	return newest
}
