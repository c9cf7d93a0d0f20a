package judge

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// TestAdvice_regrets holds what a hostile tester once got out of the program, each with what a
// careful keeper would have wanted. Where no source stands beside, it is common practice.
func TestAdvice_regrets(t *testing.T) {
	today := testbeds.Day("2026-09-29") // of the newest core of steady
	deep := testbeds.Steady(testbeds.Of(62, palette.MulmLight), testbeds.Of(5, palette.Rust), testbeds.Of(12, palette.Black), testbeds.Of(40, palette.Native))
	calm := testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(5, palette.Rust), testbeds.Of(12, palette.Black), testbeds.Of(40, palette.Native))
	bare := testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(2, palette.Rust), testbeds.Of(9, palette.Black), testbeds.Of(40, palette.Native))
	test := func(ago layers.Date, clock string, change func(*layers.WaterTest)) func(*layers.Tank) {
		return func(t *layers.Tank) {
			w := layers.WaterTest{Date: today - ago, Time: clock}
			change(&w)
			t.Water = append(t.Water, w)
		}
	}
	oxygen := func(ago layers.Date, clock string, x float64) func(*layers.Tank) {
		return test(ago, clock, func(w *layers.WaterTest) { w.OxygenMGPerL = &x })
	}
	ammonia := func(ago layers.Date, clock string, total, ph, celsius float64) func(*layers.Tank) {
		return test(ago, clock, func(w *layers.WaterTest) {
			w.TotalAmmonia = &total
			if ph > 0 {
				w.PH = &ph
			}
			if celsius > 0 {
				w.TemperatureC = &celsius
			}
		})
	}
	event := func(ago layers.Date, kind layers.EventKind) func(*layers.Tank) {
		return func(t *layers.Tank) { t.Events = append(t.Events, layers.Event{Date: today - ago, Kind: kind}) }
	}
	// later judges the tank so many days after its newest core.
	later := func(days layers.Date) func(*layers.Tank) { return event(-days, layers.EventNote) }
	still := func(t *layers.Tank) { t.Flow = layers.Still }
	signs := func(list ...layers.Sign) func(*layers.Tank) { return sign(list...) }
	for _, c := range []struct {
		name       string
		tank       layers.Tank
		changes    []func(*layers.Tank)
		waterFirst bool
		want       reports.Action
		says       string // somewhere in the reasons, the notices or the watch
	}{
		{name: "a crash at 10:30, fine by that afternoon", tank: deep, changes: []func(*layers.Tank){oxygen(0, "10:30", 2), oxygen(0, "17:00", 6.5)}, waterFirst: true, want: reports.Leave, says: "2.0 mg/L"},
		{name: "low at 22:00, fine next afternoon", tank: deep, changes: []func(*layers.Tank){oxygen(1, "22:00", 1.5), oxygen(0, "16:00", 6.5)}, waterFirst: false, want: reports.Siphon},
		{name: "low at 16:00, fine next evening", tank: deep, changes: []func(*layers.Tank){oxygen(1, "16:00", 1.5), oxygen(0, "22:00", 6.5)}, waterFirst: true, want: reports.Leave},
		{name: "low at no told time, fine at none", tank: deep, changes: []func(*layers.Tank){oxygen(1, "", 1.5), oxygen(0, "", 6.5)}, waterFirst: true, want: reports.Leave},
		{name: "ammonia at dawn, pH 9.2 the afternoon before", tank: deep, changes: []func(*layers.Tank){
			test(1, "16:00", func(w *layers.WaterTest) { w.PH = new(9.2) }), ammonia(0, "07:00", 1, 7, 24)}, want: reports.Leave, says: "pH of 9.2"},
		{name: "an untimed ammonia beside a timed one of the day", tank: deep, changes: []func(*layers.Tank){ammonia(0, "07:30", 0.1, 7.2, 24), ammonia(0, "", 5, 7.2, 24)}, waterFirst: true, want: reports.Leave},
		{name: "ammonia at pH 9, no temperature", tank: deep, changes: []func(*layers.Tank){ammonia(0, "", 1.9, 9, 0)}, waterFirst: true, want: reports.Leave, says: "at 0 °C"}, // Emerson et al. 1975
		{name: "much ammonia, no pH", tank: deep, changes: []func(*layers.Tank){ammonia(0, "", 1.9, 0, 24)}, want: reports.Leave, says: "without a pH"},
		{name: "a trace of ammonia, no pH", tank: deep, changes: []func(*layers.Tank){ammonia(0, "", 0.25, 0, 24)}, want: reports.Siphon, says: "without a pH"},
		{name: "trouble that nobody followed up", tank: deep, changes: []func(*layers.Tank){signs(layers.Gasping, layers.EggSmell, layers.DeadAnimal), later(31)}, want: reports.Leave, says: "nobody has read it since"},
		{name: "siphoned after the newest core, a month ago", tank: deep, changes: []func(*layers.Tank){event(-1, layers.EventSiphon), later(20)}, want: reports.Leave, says: "worked since the newest core"},
		{name: "topped up after the newest core", tank: deep, changes: []func(*layers.Tank){event(-1, layers.EventTopUpSubstrate)}, want: reports.Leave, says: "worked since the newest core"},
		{name: "stirred yesterday, bare sand black again", tank: bare, changes: []func(*layers.Tank){event(1, layers.EventStir)}, want: reports.Leave, says: "Last stirred"},
		{name: "replanted, though no roots are told", tank: bare, changes: []func(*layers.Tank){event(40, layers.EventReplant)}, want: reports.Leave, says: "Plants were planted"},
		{name: "roots seen, though none are told", tank: bare, changes: []func(*layers.Tank){signs(layers.RootsDeep)}, want: reports.Leave, says: "Roots were seen"},
		{name: "38 °C", tank: deep, changes: []func(*layers.Tank){test(0, "", func(w *layers.WaterTest) { w.TemperatureC = new(38.0) })}, waterFirst: true, want: reports.Leave},
		{name: "pH 4.2", tank: deep, changes: []func(*layers.Tank){test(0, "", func(w *layers.WaterTest) { w.PH = new(4.2) })}, waterFirst: true, want: reports.Leave},
		{name: "pH 9.4", tank: calm, changes: []func(*layers.Tank){test(0, "", func(w *layers.WaterTest) { w.PH = new(9.4) })}, want: reports.Leave, says: "outside the 5.5 to 9"},
		{name: "pH 7.4, then 5.8", tank: calm, changes: []func(*layers.Tank){test(2, "", func(w *layers.WaterTest) { w.PH = new(7.4) }), test(0, "", func(w *layers.WaterTest) { w.PH = new(5.8) })}, want: reports.Leave, says: "went from 7.4 to 5.8"},
		{name: "gasping entered as an event", tank: deep, changes: []func(*layers.Tank){event(0, layers.EventGasping)}, waterFirst: true, want: reports.Leave},
		{name: "melting plants in a new tank", tank: calm, changes: []func(*layers.Tank){signs(layers.PlantMelt), still, func(t *layers.Tank) { t.SetUp = today - 20; t.Cores = t.Cores[4:] }}, want: reports.Leave, says: "20 days old"},
		{name: "a dawn's oxygen that is barely enough", tank: bare, changes: []func(*layers.Tank){oxygen(0, "07:30", 3.1)}, want: reports.Leave, says: "little over the limit"},
		{name: "a stir without any oxygen test", tank: bare, want: reports.Stir, says: "No oxygen was measured before the lights came on"},
		{name: "one death in a still jar, fine dawns since", tank: calm, changes: []func(*layers.Tank){still, event(10, layers.EventDeadAnimal), oxygen(3, "07:30", 8)}, want: reports.Leave, says: "dead animal"},
		{name: "two deaths four weeks ago, calm since", tank: calm, changes: []func(*layers.Tank){event(29, layers.EventDeadAnimal), event(28, layers.EventDeadAnimal), oxygen(3, "07:30", 8)}, want: reports.Leave},
		{name: "gasping 200 days ago, where signs count for a year", tank: calm, changes: []func(*layers.Tank){event(110, layers.EventGasping), func(t *layers.Tank) { t.Limits = layers.Limits{layers.LimitDecayDays: 365} }}, want: reports.Leave},
		{name: "gasping, and a calm core of another place after it", tank: calm, changes: []func(*layers.Tank){func(t *layers.Tank) {
			t.Cores[3].Signs = []layers.Sign{layers.Gasping}
		}, later(8)}, want: reports.Leave},
		{name: "00:30 is no dawn", tank: deep, changes: []func(*layers.Tank){oxygen(1, "07:00", 0.9), oxygen(0, "00:30", 6.5)}, waterFirst: true, want: reports.Leave},
		{name: "23:59, and half an hour later", tank: deep, changes: []func(*layers.Tank){oxygen(1, "23:59", 1.5), oxygen(0, "00:30", 6.5)}, waterFirst: true, want: reports.Leave},
		{name: "an untimed 38 °C beside a timed 24", tank: deep, changes: []func(*layers.Tank){
			test(0, "", func(w *layers.WaterTest) { w.TemperatureC = new(38.0) }), test(0, "07:00", func(w *layers.WaterTest) { w.TemperatureC = new(24.0) })}, waterFirst: true, want: reports.Leave},
		{name: "an untimed pH 4 beside a timed 7", tank: deep, changes: []func(*layers.Tank){
			test(0, "", func(w *layers.WaterTest) { w.PH = new(4.0) }), test(0, "07:00", func(w *layers.WaterTest) { w.PH = new(7.0) })}, waterFirst: true, want: reports.Leave},
		{name: "trouble entered as events, and nobody followed it up", tank: deep, changes: []func(*layers.Tank){event(-1, layers.EventGasping), event(-2, layers.EventEggSmell), later(38)}, want: reports.Leave, says: "nobody has read it since"},
		{name: "growth over its limit with little mulm", tank: testbeds.TankOf(4, func(m int) []layers.Layer {
			return []layers.Layer{testbeds.Of(float64(1+5*m), palette.MulmLight), testbeds.Of(5, palette.Rust), testbeds.Of(12, palette.Black), testbeds.Of(40, palette.Native)}
		}), want: reports.Leave, says: "but there is little of it yet"},
		{name: "no ammonia, no pH", tank: calm, changes: []func(*layers.Tank){ammonia(0, "", 0, 0, 24)}, want: reports.Leave, says: "No limit is reached"},
		{name: "one place of four over its limit", tank: calm, changes: []func(*layers.Tank){func(t *layers.Tank) {
			for _, station := range []string{"back", "left", "right"} {
				core := t.Cores[4]
				core.Station = station
				if station == "back" {
					core.Layers = deep.Cores[4].Layers
				}
				t.Cores = append(t.Cores, core)
			}
		}}, want: reports.Leave, says: "On average the mulm is within its limit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := interpret(testbeds.Told(c.tank, func(t *layers.Tank) {
				for _, change := range c.changes {
					change(t)
				}
			}))
			a := found.Advice
			if got := len(a.WaterFirst) > 0; got != c.waterFirst {
				t.Errorf("water first %q, want %t", a.WaterFirst, c.waterFirst)
			}
			if a.Action != c.want {
				t.Errorf("advice %s (%+v), want %s", a.Action, a.Shares, c.want)
			}
			said := slices.Concat(found.Notices, found.Watch.Signs, a.WaterFirst, a.Later)
			for _, reason := range slices.Concat(a.Because, a.Against) {
				said = append(said, reason.Text)
			}
			if !slices.ContainsFunc(said, func(text string) bool { return strings.Contains(text, c.says) }) {
				t.Errorf("not a word of %q in %q", c.says, said)
			}
		})
	}
}

// TestRehearse_heedsTheAdvice: where the report says to leave the bed for what was seen, no
// rehearsal says that it can be done.
func TestRehearse_heedsTheAdvice(t *testing.T) {
	deep := testbeds.Wet(testbeds.Steady(testbeds.Of(62, palette.MulmLight), testbeds.Of(5, palette.Rust), testbeds.Of(12, palette.Black), testbeds.Of(40, palette.Native)), layers.Pumped, new(7.5))
	last := deep.Cores[4].Date
	for name, change := range map[string]func(*layers.Tank){
		"a death":       func(t *layers.Tank) { t.Events = []layers.Event{{Date: last, Kind: layers.EventDeadAnimal}} },
		"melting":       func(t *layers.Tank) { t.Events = []layers.Event{{Date: last, Kind: layers.EventPlantMelt}} },
		"threads":       func(t *layers.Tank) { t.Events = []layers.Event{{Date: last - 2, Kind: layers.EventWhiteThreads}} },
		"a young bed":   func(t *layers.Tank) { t.SetUp = last - 40; t.Cores = t.Cores[4:] },
		"egg smell":     sign(layers.EggSmell),
		"siphoned":      func(t *layers.Tank) { t.Events = []layers.Event{{Date: last - 7, Kind: layers.EventSiphon}} },
		"stirred":       func(t *layers.Tank) { t.Events = []layers.Event{{Date: last - 7, Kind: layers.EventStir}} },
		"worked since":  func(t *layers.Tank) { t.Events = []layers.Event{{Date: last + 1, Kind: layers.EventTopUpSubstrate}} },
		"unsound alone": func(t *layers.Tank) { t.Cores = t.Cores[4:]; t.Cores[0].Photo = &layers.Photo{Unreliable: true} },
	} {
		tank := testbeds.Told(deep, change)
		for _, m := range []reports.Method{reports.MethodSiphon, reports.MethodStir} {
			r, err := Rehearse(tank, testbeds.Few(), m, 0.25, 10)
			if err != nil {
				t.Fatal(err)
			}
			if r.Never == "" || len(r.Steps) > 0 || r.Fine() {
				t.Errorf("%s, %s: never %q, %d steps", name, m, r.Never, len(r.Steps))
			}
			if slices.Contains(r.Instead, "Rehearse siphoning the loose top.") {
				t.Errorf("%s: the siphoning is forbidden too", name)
			}
		}
	}
}
