package judge

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// TestInterpret_oxygen: the model lies where organic mud was measured, 1 to 6 mm (Whalen
// et al. 2013; Revsbech et al. 1980; read: abstracts), far above the colour's depth.
func TestInterpret_oxygen(t *testing.T) {
	found := interpret(testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, nil))
	p, b := found.Penetration, found.BottomOxygen
	if p == nil || p.Basis != reports.Model || p.High < 1 || p.Low > 6 {
		t.Fatalf("penetration %+v, want 1 to 6 mm to lie within its range", p)
	}
	if p.High >= found.OxicDepth.Low {
		t.Errorf("penetration %+v reaches the colour depth %+v", p, found.OxicDepth)
	}
	if b.Low < 0 || b.High > bed.OxygenSaturation(24, 1) {
		t.Errorf("bottom oxygen %+v", b)
	}
	fitted := interpret(testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(4.0)))
	if fitted.BottomOxygen.Basis != reports.Fitted || math.Abs(fitted.BottomOxygen.Value-4) > 0.3 || fitted.BottomOxygen.High-fitted.BottomOxygen.Low > b.High-b.Low {
		t.Errorf("fitted to 4 mg/L the bottom holds %+v, modelled %+v", fitted.BottomOxygen, b)
	}
}

func TestInterpret_oxygenLacksInputs(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*layers.Tank)
		want   string
	}{
		"vessel":      {func(t *layers.Tank) { t.Vessel = nil }, "the vessel's measurements"},
		"temperature": {func(t *layers.Tank) { t.Water[0].TemperatureC = nil }, "a water temperature"},
		"old":         {func(t *layers.Tank) { t.Water[0].Date -= 100 }, "a water temperature"},
	} {
		found := interpret(testbeds.Told(testbeds.Wet(testbeds.HealthyBed(), layers.Still, nil), c.change))
		if found.Penetration != nil || found.BottomOxygen != nil {
			t.Errorf("%s: oxygen is known without it", name)
		}
		if !slices.ContainsFunc(found.Notices, func(n string) bool { return strings.Contains(n, c.want) }) {
			t.Errorf("%s: notices %q, want %q", name, found.Notices, c.want)
		}
	}
}

// TestInterpret_stillCylinder: still, tall, small-surface vessels end short at the bottom,
// the same one with a bubbler does not (common practice, no source).
func TestInterpret_stillCylinder(t *testing.T) {
	tall := func(flow layers.Flow) *reports.Estimate {
		tank := testbeds.Wet(testbeds.Steady(testbeds.Of(60, palette.MulmDark), testbeds.Of(60, palette.Black)), flow, nil)
		tank.Vessel = &layers.Vessel{Shape: layers.Cylinder, DiameterMM: 150, WaterDepthMM: 500}
		return interpret(tank).BottomOxygen
	}
	if still, bubbled := tall(layers.Still), tall(layers.Bubbled); still.Low >= 3 || bubbled.Low < 6 || bubbled.Value-still.Value < 3 {
		t.Errorf("still %+v, bubbled %+v", still, bubbled)
	}
}

func TestAdvice_oxygenShort(t *testing.T) {
	bare := testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(2, palette.Rust), testbeds.Of(9, palette.Black), testbeds.Of(40, palette.Native))
	if a := interpret(testbeds.Wet(bare, layers.Pumped, new(7.0))).Advice; a.Action != reports.Stir || !strings.Contains(a.How, "% of the floor at a time") {
		t.Fatalf("with oxygen enough: %+v", a)
	}
	a := interpret(testbeds.Wet(bare, layers.Pumped, new(1.5))).Advice
	if a.Action != reports.Leave || !slices.ContainsFunc(a.Because, func(r reports.Reason) bool { return r.Rule == "oxygen-measured-short" }) || !slices.ContainsFunc(a.First, func(step string) bool { return strings.HasPrefix(step, "Aerate") }) {
		t.Errorf("short of oxygen: %+v", a)
	}
	if len(a.WaterFirst) == 0 {
		t.Errorf("a measured 1.5 mg/L does not come before the bed: %+v", a)
	}
	deep := interpret(testbeds.Wet(testbeds.Steady(testbeds.Of(70, palette.MulmLight), testbeds.Of(40, palette.Native)), layers.Still, new(3.2))).Advice
	if deep.Action != reports.Siphon || !strings.Contains(deep.How, "Start an air stone first") {
		t.Errorf("siphoning where oxygen is just enough: %s, %q", deep.Action, deep.How)
	}
}

// What a rule says of a number is so: a bottom that the middle of the draws leaves enough oxygen
// may fall short of it, not falls short.
func TestAdvice_oxygenPerhapsShort(t *testing.T) {
	bare := testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(2, palette.Rust), testbeds.Of(9, palette.Black), testbeds.Of(40, palette.Native))
	said := map[bool]int{}
	for _, tank := range []layers.Tank{ // measured, so that none is short before the bed has taken its part
		testbeds.Wet(bare, layers.Livestock, new(3.0)), testbeds.Wet(bare, layers.Livestock, new(3.1)), testbeds.Wet(bare, layers.Livestock, new(3.5)),
	} {
		found := interpret(tank)
		for _, reason := range append(found.Advice.Because, found.Advice.Against...) {
			if reason.Rule != "oxygen-short" {
				continue
			}
			perhaps := found.BottomOxygen.Value >= 3
			said[perhaps]++
			if strings.Contains(reason.Text, " may fall below 3 mg/L") != perhaps || !strings.Contains(reason.Text, "below 3 mg/L") {
				t.Errorf("at %.2f mg/L: %q", found.BottomOxygen.Value, reason.Text)
			}
		}
	}
	if said[true] == 0 || said[false] == 0 {
		t.Errorf("said %v: one of them is not tried", said)
	}
}

// A water that is over a limit by itself is told so, and no hand is blamed for it.
func TestRehearse_before(t *testing.T) {
	sound := rehearse(t, testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0)), reports.MethodSiphon, 0.25, 10)
	short := rehearse(t, testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(1.0)), reports.MethodSiphon, 0.25, 10)
	if sound.Troubled() || sound.Before < sound.Within {
		t.Errorf("a sound water is within the limits in %v of the draws before, %v after", sound.Before, sound.Within)
	}
	if !short.Troubled() || short.Fine() {
		t.Errorf("water short of oxygen is within the limits in %v of the draws before, %v after", short.Before, short.Within)
	}
}

func rehearse(t *testing.T, tank layers.Tank, m reports.Method, share, depth float64) reports.Rehearsal {
	t.Helper()
	r, err := Rehearse(tank, reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}, m, share, depth)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func after(r reports.Rehearsal, key string) *reports.Estimate {
	for _, n := range r.Numbers {
		if n.Key == key {
			return n.After
		}
	}
	return nil
}

// TestRehearse_blackZone: a quarter of the floor, down 20 mm into the black, costs several
// mg/L of oxygen (rel2 of testdata/checks/bed.csv: 5.2 mg/L at 40 µmol FeS/g, computed;
// the default here is 15), 10 mm of fresh mulm next to none (rel1: 0.05).
func TestRehearse_blackZone(t *testing.T) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0))
	black, mulm := rehearse(t, tank, reports.MethodStir, 0.25, 36), rehearse(t, tank, reports.MethodStir, 0.25, 10)
	if debt := after(black, "fast_oxygen_debt_mg_l"); debt.Value < 2 || debt.Value > 8 {
		t.Errorf("opening the black zone costs %+v mg/L", debt)
	}
	if debt := after(mulm, "fast_oxygen_debt_mg_l"); debt.Value > 0.2 {
		t.Errorf("stirring mulm costs %+v mg/L", debt)
	}
	if black.Within > mulm.Within || mulm.Within < 0.9 {
		t.Errorf("within limits: black %v, mulm %v", black.Within, mulm.Within)
	}
}

// TestRehearse_inStep: what is freed goes in step with the share, a siphon leaves less
// than a stir, deeper frees more, and a share that the table allows keeps its limits.
func TestRehearse_inStep(t *testing.T) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0))
	tank.Water[0].TotalAmmonia = new(0.0)
	quarter, half := rehearse(t, tank, reports.MethodStir, 0.25, 20), rehearse(t, tank, reports.MethodStir, 0.5, 20)
	testbeds.Near(t, "twice the share", after(half, "full_oxygen_debt_mg_l").Value, 2*after(quarter, "full_oxygen_debt_mg_l").Value, 0.01)
	siphon := rehearse(t, tank, reports.MethodSiphon, 0.25, 20)
	if after(siphon, "fast_oxygen_debt_mg_l").Value >= after(quarter, "fast_oxygen_debt_mg_l").Value {
		t.Error("a siphon leaves as much as a stir")
	}
	for _, m := range []reports.Method{reports.MethodStir, reports.MethodSiphon} {
		last := 2.0
		for _, l := range quarter.Largest {
			if l.Method != m {
				continue
			}
			if l.Share > last || l.Share < 0 || l.Share > 1 || l.Aerated < 0 || l.Aerated > 1 {
				t.Errorf("%s: share %v at %v mm after %v", m, l.Share, l.DepthMM, last)
			}
			last = l.Share
			if l.Share > 0.02 {
				if got := rehearse(t, tank, m, l.Share*0.9, l.DepthMM).Within; got < 0.93 {
					t.Errorf("%s, %.2f of the floor down to %v mm: within limits in %v of the draws", m, l.Share*0.9, l.DepthMM, got)
				}
			}
		}
	}
}

func TestRehearse_lacks(t *testing.T) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Still, nil)
	for name, c := range map[string]struct {
		tank  layers.Tank
		depth float64
		want  string
	}{
		"vessel": {testbeds.Told(tank, func(t *layers.Tank) { t.Vessel = nil }), 10, "the vessel's measurements"},
		"core":   {testbeds.Told(tank, func(t *layers.Tank) { t.Cores = nil }), 10, "no core"},
		"floor":  {tank, 90, "at most the depth of the bed as read, 86 mm"},
	} {
		_, err := Rehearse(c.tank, testbeds.Few(), reports.MethodStir, 0.25, c.depth)
		var lacking *reports.InputError
		if !errors.As(err, &lacking) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func TestOxygen(t *testing.T) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Still, nil)
	profile := func(lights reports.Lights) reports.OxygenProfile {
		x, err := Oxygen(tank, reports.Settings{Draws: 400, Seed: reports.DefaultSeed}, lights)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	dark := profile(reports.Lights{On: 8, Hours: 10})
	last := dark.Saturation
	for _, p := range dark.Points {
		if p.Oxygen.Value > last+1e-9 || p.Oxygen.Low < 0 {
			t.Errorf("%s %v mm: %+v below %v", p.Where, p.DepthMM, p.Oxygen, last)
		}
		last = p.Oxygen.Value
	}
	if math.Abs(dark.Dawn.Oxygen.Value-dark.Dusk.Oxygen.Value) > 0.1 {
		t.Errorf("without plants dawn holds %+v and dusk %+v", dark.Dawn.Oxygen, dark.Dusk.Oxygen)
	}
	if lit := profile(reports.Lights{On: 8, Hours: 10, PlantOxygen: 3}); lit.Dusk.Oxygen.Value <= lit.Dawn.Oxygen.Value || lit.Dawn.Hour != 8 || lit.Dusk.Hour != 18 {
		t.Errorf("with plants dawn holds %+v and dusk %+v", lit.Dawn, lit.Dusk)
	}
	if dark.Helps[0].Gain.Value < dark.Helps[1].Gain.Value || dark.Helps[0].Gain.Value <= 0 {
		t.Errorf("measures %+v", dark.Helps)
	}
}

func BenchmarkRehearse(b *testing.B) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, nil)
	for b.Loop() {
		if _, err := Rehearse(tank, reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}, reports.MethodStir, 0.25, 20); err != nil {
			b.Fatal(err)
		}
	}
}

// TestRehearse_newestAmmonia: the newest water test counts, wherever it is listed.
func TestRehearse_newestAmmonia(t *testing.T) {
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0))
	older := tank.Water[0]
	older.Date, older.TotalAmmonia = older.Date-7, new(3.0)
	last := testbeds.Told(tank, func(t *layers.Tank) { t.Water = []layers.WaterTest{older, tank.Water[0]} })
	first := testbeds.Told(tank, func(t *layers.Tank) { t.Water = []layers.WaterTest{tank.Water[0], older} })
	const key = "total_ammonia_mg_l"
	a, b := after(rehearse(t, last, reports.MethodSiphon, 0.25, 10), key), after(rehearse(t, first, reports.MethodSiphon, 0.25, 10), key)
	if *a != *b || a.Value > 1 {
		t.Errorf("total ammonia %+v with the newest listed last, %+v with it first", a, b)
	}
}

// TestRehearse_largest: where the water's pH makes one limit the first of all, the largest share brings what is
// held to it just there, at its 95 % end.
func TestRehearse_largest(t *testing.T) {
	for key, ph := range map[string]float64{"unionised_ammonia_mg_l": 9.2, "hydrogen_sulphide_day_mg_l": 5} {
		tank := testbeds.Wet(testbeds.HealthyBed(), layers.Pumped, new(7.5))
		tank.Water[0].PH, tank.Water[0].TotalAmmonia = new(ph), nil
		tried := 0
		for _, l := range rehearse(t, tank, reports.MethodStir, 0.25, 14).Largest {
			if l.Share < 0.03 || l.Share == 1 { // it is told to three digits, or there is no limit
				continue
			}
			tried++
			for _, n := range rehearse(t, tank, l.Method, l.Share, l.DepthMM).Numbers {
				if n.Key == key && math.Abs(n.After.High / *n.Limit - 1) > 0.03 {
					t.Errorf("%s of %.3f of the floor down to %g mm: %s comes to %.5f, want %.5f", l.Method, l.Share, l.DepthMM, key, n.After.High, *n.Limit)
				}
			}
		}
		if tried == 0 {
			t.Errorf("%s limits no share: no test", key)
		}
	}
}

// TestRehearse_kitError: after next to nothing was stirred the ammonia is what was measured, give or take what
// a kit is off by: an eighth of a mg N/L, and a tenth in pH (standard deviations, assumptions).
func TestRehearse_kitError(t *testing.T) {
	const z90, total, ph = 1.6449, 1.0, 8.0
	tank := testbeds.Wet(testbeds.HealthyBed(), layers.Pumped, new(7.5))
	tank.Water[0].PH, tank.Water[0].TotalAmmonia = new(ph), new(total)
	r := rehearse(t, tank, reports.MethodSiphon, 0.001, 1)
	for _, c := range []struct {
		key       string
		low, high float64
	}{
		{"total_ammonia_mg_l", total - z90*0.125, total + z90*0.125},
		{"unionised_ammonia_mg_l", (total - z90*0.125) * bed.UnionisedShare(ph-z90*0.1, 24), (total + z90*0.125) * bed.UnionisedShare(ph+z90*0.1, 24)},
	} {
		got := after(r, c.key)
		testbeds.Near(t, c.key+", low", got.Low, c.low, 0.05*c.low)
		testbeds.Near(t, c.key+", high", got.High, c.high, 0.05*c.high)
	}
}

// TestRehearse_refills: of two waters under which the same bed lies, the surface of the one nearer to saturation
// lets in more, so that it has more of what a stirring took back after a day.
func TestRehearse_refills(t *testing.T) {
	last := math.Inf(1)
	for _, oxygen := range []float64{5, 6, 7, 7.6, 8} { // 8.4 at saturation
		r := rehearse(t, testbeds.Wet(testbeds.HealthyBed(), layers.Still, new(oxygen)), reports.MethodStir, 0.1, 20)
		lacks := oxygen - after(r, "oxygen_24h_mg_l").Value
		if lacks >= last {
			t.Errorf("after a day %.3f mg/L lack of %g, and %.3f where there was less", lacks, oxygen, last)
		}
		last = lacks
	}
}

// TestRehearse_sulfideLasts: what goes by half in an hour (assumption) is over a day 6 % of what it was at
// first: 1/(24 ln 2), less what is left.
func TestRehearse_sulfideLasts(t *testing.T) {
	r := rehearse(t, testbeds.Wet(testbeds.HealthyBed(), layers.Livestock, new(6.0)), reports.MethodStir, 0.5, 40)
	first, day := after(r, "hydrogen_sulphide_mg_l").Value, after(r, "hydrogen_sulphide_day_mg_l").Value
	if first == 0 {
		t.Fatal("no sulphide: no test")
	}
	testbeds.Near(t, "mean of a day over what there was at first", day/first, 1/(24*math.Ln2), 0.006)
}

// TestRehearse_lacksAndNever: who is told what a rehearsal lacks is told as well what not to do meanwhile.
func TestRehearse_lacksAndNever(t *testing.T) {
	tank := testbeds.Told(testbeds.Wet(testbeds.HealthyBed(), layers.Still, nil), tellSign(layers.EggSmell), func(t *layers.Tank) { t.Vessel = nil })
	if _, err := Rehearse(tank, testbeds.Few(), reports.MethodStir, 0.25, 10); err == nil || !strings.Contains(err.Error(), "the vessel's measurements") || !strings.Contains(err.Error(), "Until then, don't: ") {
		t.Errorf("got %v", err)
	}
}
