package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// demoTanks are the five of the demo.
func demoTanks(t *testing.T) []layers.Tank {
	t.Helper()
	file, err := os.Open("../../cmd/internal/demo/logbook.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	tanks, err := layers.Decode(file, testbeds.Day("2100-01-01"))
	if err != nil {
		t.Fatal(err)
	}
	return tanks
}

// TestNewRecord_saysTheSame: a record says what each report says by itself.
func TestNewRecord_saysTheSame(t *testing.T) {
	tanks := demoTanks(t)
	if len(tanks) != 5 {
		t.Fatalf("the demo has %d tanks, want 5", len(tanks))
	}
	noVessel := testbeds.Told(tanks[0], func(t *layers.Tank) { t.Vessel = nil })
	noCore := tanks[1]
	noCore.Cores = nil
	shallow := testbeds.Told(tanks[2], func(t *layers.Tank) { t.Cores = []layers.Core{shallowCore(t.Cores[0].Date)} })
	shallow.Limits = layers.Limits{layers.LimitStirDepth: 5}
	lacking := map[string]string{
		"without vessel": `tank "wheel-room": found no record of the vessel's measurements, want vessel and temperature, which the physics needs`,
		"without cores":  `tank "loft-jar": found no core, want at least one`,
		"shallow":        "depth: found 10 mm, want more than 0 and at most the depth of the bed as read, 8 mm",
	}
	named := map[string]layers.Tank{"without vessel": noVessel, "without cores": noCore, "shallow": shallow}
	for _, tank := range tanks {
		named[tank.ID] = tank
	}
	early := testbeds.Few()
	early.AsOf = testbeds.Day("2025-06-01")
	for name, tank := range named {
		for _, s := range []reports.Settings{testbeds.Few(), early} {
			t.Run(fmt.Sprint(name, " ", s.AsOf), func(t *testing.T) {
				r := NewRecord(tank, s)
				if diff := cmp.Diff(Interpret(slices.Values([]layers.Tank{tank}), s).Tanks[0], r.Tank); diff != "" {
					t.Errorf("findings (-alone +in the record):\n%s", diff)
				}
				if diff := cmp.Diff(NewTimeline(tank, s), r.Timeline); diff != "" {
					t.Errorf("timeline (-alone +in the record):\n%s", diff)
				}
				checkPhysics(t, tank, s, r)
				if s.AsOf == 0 && r.Lacking != lacking[name] {
					t.Errorf("lacks %q, want %q", r.Lacking, lacking[name])
				}
			})
		}
	}
}

// shallowCore is 8 mm deep.
func shallowCore(date layers.Date) layers.Core {
	return layers.Core{Date: date, Station: "front", Layers: []layers.Layer{testbeds.Of(4, palette.MulmLight), testbeds.Of(4, palette.Native)}}
}

// checkPhysics fails unless oxygen and rehearsals are those that are made alone.
func checkPhysics(t *testing.T, tank layers.Tank, s reports.Settings, r reports.Record) {
	t.Helper()
	var oxygen *reports.OxygenProfile
	if alone, err := Oxygen(tank, s, reports.Lights{On: reports.DefaultLightsOn, Hours: reports.DefaultLitHours}); err == nil {
		oxygen = &alone
	}
	if diff := cmp.Diff(oxygen, r.Oxygen); diff != "" {
		t.Errorf("oxygen (-alone +in the record):\n%s", diff)
	}
	stir, _ := tank.Limits.Of(layers.LimitStirDepth)
	var rehearsals []reports.Rehearsal
	for _, hand := range []struct {
		method  reports.Method
		depthMM float64
	}{{reports.MethodSiphon, 10}, {reports.MethodStir, stir}} {
		if alone, err := Rehearse(tank, s, hand.method, 0.25, hand.depthMM); err == nil {
			rehearsals = append(rehearsals, alone)
		}
	}
	if diff := cmp.Diff(rehearsals, r.Rehearsals); diff != "" {
		t.Errorf("rehearsals (-alone +in the record):\n%s", diff)
	}
	if whole := r.Oxygen != nil && len(r.Rehearsals) == 2; whole != (r.Lacking == "") {
		t.Errorf("oxygen %v, %d rehearsals, but lacks %q", r.Oxygen != nil, len(r.Rehearsals), r.Lacking)
	}
}

// TestNewRecord_water: each test by date and hour, with the un-ionised ammonia that the ammonia
// command tells, those after the day left out.
func TestNewRecord_water(t *testing.T) {
	tank := testbeds.HealthyBed()
	last := tank.Cores[4].Date
	whole := func(date layers.Date, time string, ph float64) layers.WaterTest {
		return layers.WaterTest{Date: date, Time: time, PH: new(ph), TemperatureC: new(25.0), TotalAmmonia: new(1.0)}
	}
	tank.Water = []layers.WaterTest{
		whole(last, "18:00", 8.5), whole(last, "08:00", 7), {Date: last - 30, PH: new(7.0), TotalAmmonia: new(1.0)}, whole(last+1, "", 7),
	}
	tank.Events = []layers.Event{{Date: last + 1, Kind: layers.EventNote}, {Date: last, Kind: layers.EventWaterChange}}
	then := testbeds.Few()
	then.AsOf = last
	r := NewRecord(tank, then)
	if len(r.Water) != 3 || r.Water[0].Date != last-30 || r.Water[1].Time != "08:00" || r.Water[2].Time != "18:00" {
		t.Fatalf("water %+v", r.Water)
	}
	if r.Water[0].Unionised != nil || r.Water[0].OverLimit {
		t.Errorf("without a temperature un-ionised ammonia is %+v", r.Water[0])
	}
	for i, ph := range []float64{7, 8.5} {
		alone, err := ReadAmmonia(1, ph, 25)
		if err != nil {
			t.Fatal(err)
		}
		got := r.Water[i+1]
		testbeds.Near(t, "un-ionised", *got.Unionised, alone.UnionisedN, 0.000005)
		if got.OverLimit != alone.OverLimit || got.OverLimit != (ph > 8) {
			t.Errorf("at pH %v over the limit: %v, the ammonia command says %v", ph, got.OverLimit, alone.OverLimit)
		}
	}
	if !r.Later {
		t.Error("that there are later records is not told")
	}
	if len(r.Timeline.Events) != 1 || r.Timeline.Events[0].Date != last || r.Timeline.SetUp != tank.SetUp {
		t.Errorf("events %+v, set up %s", r.Timeline.Events, r.Timeline.SetUp)
	}
	tank.Limits = layers.Limits{layers.LimitAmmonia: 0.2}
	if own := NewRecord(tank, testbeds.Few()); own.Water[2].OverLimit || own.AmmoniaLimit != 0.2 {
		t.Errorf("%v mg N/L is over the tank's own limit of %v", *own.Water[2].Unionised, own.AmmoniaLimit)
	}
	tank.Cores = nil
	if unread := NewRecord(tank, testbeds.Few()); unread.Later || len(unread.Water) != 4 || len(unread.Timeline.Events) != 2 {
		t.Errorf("a tank without a core and a day has %d water tests and %d events, want all", len(unread.Water), len(unread.Timeline.Events))
	}
}

// TestCore_isEachAlone: a core says the same whoever it is drawn beside.
func TestCore_isEachAlone(t *testing.T) {
	tank := demoTanks(t)[0]
	cores := Interpret(slices.Values([]layers.Tank{tank}), testbeds.Few()).Tanks[0].Cores
	if len(cores) < 2 {
		t.Fatalf("%d cores are drawn together: this tries nothing", len(cores))
	}
	for _, station := range NewTimeline(tank, testbeds.Few()).Stations {
		cores = append(cores, station.Cores...)
	}
	for _, core := range cores {
		i := slices.IndexFunc(tank.Cores, func(c layers.Core) bool { return c.Date == core.Date && c.Station == core.Station })
		if diff := cmp.Diff(ReadCore(tank, tank.Cores[i], nil, testbeds.Few()), core); diff != "" {
			t.Fatalf("%s on %s (-alone +in the record):\n%s", core.Station, core.Date, diff)
		}
	}
}

// BenchmarkNewRecord is all that a tank's report stands on: two stations read monthly, with
// what the physics needs.
func BenchmarkNewRecord(b *testing.B) {
	for _, cores := range []int{24, 56, 120} {
		tank := manyCores(cores)
		b.Run(fmt.Sprint(cores, " cores"), func(b *testing.B) {
			for b.Loop() {
				NewRecord(tank, reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed})
			}
		})
	}
}

// manyCores is a tank of so many cores of six layers, no two thicknesses alike.
func manyCores(cores int) layers.Tank {
	rng := rand.New(rand.NewPCG(1, 1))
	about := func(mm float64) float64 { return max(1, math.Round(mm+rng.NormFloat64())) }
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0))
	first := tank.Cores[0].Date
	tank.Cores = nil
	for i := range cores {
		month := float64(i / 2)
		core := layers.Core{Date: first + layers.Date(month*30), Station: []string{"front", "left"}[i%2]}
		for _, l := range []layers.Layer{
			testbeds.Of(about(4+month/2), palette.MulmLight), testbeds.Of(about(6), palette.MulmDark), testbeds.Of(about(4), palette.Rust),
			testbeds.Of(about(20), palette.Black), testbeds.Of(about(12), palette.Grey), testbeds.Of(about(50), palette.Native),
		} {
			l.Band = palette.NoBand
			core.Layers = append(core.Layers, l)
		}
		tank.Cores = append(tank.Cores, core)
	}
	tank.Water[0].Date = tank.Cores[cores-1].Date
	return tank
}
