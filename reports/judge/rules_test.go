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

// sign notes a sign at the tank's newest reading.
func sign(signs ...layers.Sign) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Cores[len(t.Cores)-1].Signs = signs }
}

func interpret(tank layers.Tank) reports.Tank {
	return Interpret(slices.Values([]layers.Tank{tank}), reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}).Tanks[0]
}

// TestAdvice holds the trade's rules (common practice, no source) and the project's
// own assumptions, one tank each.
func TestAdvice(t *testing.T) {
	mulm := func(mm float64) layers.Tank {
		return testbeds.Steady(testbeds.Of(mm, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(10, palette.Black), testbeds.Of(50, palette.Native))
	}
	alive := func(mm float64) layers.Tank {
		return testbeds.Told(mulm(mm), func(t *layers.Tank) { t.RootedPlants, t.Burrowers = new(true), new(true) })
	}
	bare := testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(2, palette.Rust), testbeds.Of(9, palette.Black), testbeds.Of(40, palette.Native))
	for _, c := range []struct {
		name   string
		tank   layers.Tank
		want   reports.Action
		reason string
		first  string
		days   layers.Date
	}{
		{name: "little mulm", tank: mulm(12), want: reports.Leave, reason: "nothing-presses", days: 30},
		{name: "mulm over 50 mm", tank: mulm(60), want: reports.Siphon, reason: "deep-mulm", days: 14},
		{name: "mulm over 50 mm in a living bed", tank: alive(60), want: reports.Leave, reason: "living-bed", days: 30},
		{name: "mulm over 75 mm in a living bed", tank: alive(90), want: reports.Siphon, reason: "deep-mulm-in-a-living-bed", days: 14},
		{
			name: "living bed in still water", want: reports.Siphon, reason: "deep-mulm", days: 14,
			tank: testbeds.Told(alive(60), func(t *layers.Tank) { t.Flow = layers.Still }),
		},
		{
			name: "own limit", want: reports.Siphon, reason: "deep-mulm", days: 14,
			tank: testbeds.Told(mulm(24), func(t *layers.Tank) { t.Limits = layers.Limits{layers.LimitMulm: 20} }),
		},
		{
			name: "mulm grows fast", want: reports.Siphon, reason: "mulm-grows-fast", first: "Halve the feeding", days: 14,
			tank: testbeds.TankOf(8, func(m int) []layers.Layer {
				return []layers.Layer{testbeds.Of(float64(1+6*m), palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(50, palette.Native)}
			}),
		},
		{
			name: "decay in still water", want: reports.Siphon, reason: "decay-in-still-water", first: "Take out anything dead or rotting", days: 7,
			tank: testbeds.Told(testbeds.Told(mulm(20), sign(layers.PlantMelt)), func(t *layers.Tank) { t.Flow = layers.Still }),
		},
		{name: "decay in moved water", tank: testbeds.Told(mulm(20), sign(layers.WhiteThreads)), want: reports.Leave, reason: "decay", first: "Test ammonia, nitrite, pH", days: 7},
		{
			name: "decay long ago", want: reports.Leave, reason: "nothing-presses", days: 30,
			tank: testbeds.Told(mulm(20), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: testbeds.Day("2026-07-01"), Kind: layers.EventDeadAnimal}}
			}),
		},
		{
			name: "dead animal between readings", want: reports.Leave, reason: "decay", first: "Take out anything dead or rotting", days: 7,
			tank: testbeds.Told(mulm(20), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: testbeds.Day("2026-09-20"), Kind: layers.EventDeadAnimal}}
			}),
		},
		{
			name: "reduced near the surface under mulm", want: reports.Siphon, reason: "reduced-under-mulm", days: 14,
			tank: testbeds.Steady(testbeds.Of(3, palette.MulmDark), testbeds.Of(30, palette.Black), testbeds.Of(40, palette.Native)),
		},
		{name: "bare sand blackens", tank: bare, want: reports.Stir, reason: "bare-sand-blackens", days: 14},
		{name: "bare sand that smells", tank: testbeds.Told(bare, sign(layers.EggSmell)), want: reports.Leave, reason: "egg-smell", first: "Aerate", days: 7},
		{
			name: "bare sand, thick black zone", want: reports.Leave, reason: "thick-black-zone", days: 14,
			tank: testbeds.Steady(testbeds.Of(2, palette.Native), testbeds.Of(2, palette.Rust), testbeds.Of(40, palette.Black), testbeds.Of(40, palette.Native)),
		},
		{
			name: "bare sand that roots hold", want: reports.Leave, reason: "rooted-bed", days: 14,
			tank: testbeds.Told(bare, func(t *layers.Tank) { t.RootedPlants = new(true) }),
		},
		{
			name: "bare sand, ammonia over the limit", want: reports.Leave, reason: "ammonia-over-limit", first: "Change part of the water", days: 2,
			tank: testbeds.Told(bare, func(t *layers.Tank) {
				t.Water = []layers.WaterTest{{Date: testbeds.Day("2026-09-20"), PH: new(8.4), TemperatureC: new(26.0), TotalAmmonia: new(2.0)}}
			}),
		},
		{
			name: "young bed", want: reports.Leave, reason: "young-bed", days: 30,
			tank: testbeds.Told(mulm(60), func(t *layers.Tank) { t.SetUp = testbeds.Day("2026-09-01"); t.Cores = t.Cores[4:] }),
		},
		{
			name: "siphoned lately", want: reports.Leave, reason: "siphoned-lately", days: 14,
			tank: testbeds.Told(mulm(60), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: testbeds.Day("2026-09-25"), Kind: layers.EventSiphon}}
			}),
		},
		{
			name: "front rises", want: reports.Leave, reason: "front-rises", days: 14,
			tank: testbeds.TankOf(8, func(m int) []layers.Layer {
				return []layers.Layer{testbeds.Of(10, palette.MulmLight), testbeds.Of(float64(30-3*m), palette.Rust), testbeds.Of(20, palette.Black), testbeds.Of(40, palette.Native)}
			}),
		},
		{name: "roots below the front", tank: testbeds.Told(mulm(12), sign(layers.RootsDeep)), want: reports.Leave, reason: "roots-below-the-front", days: 30},
		{name: "burrowers", tank: testbeds.Told(mulm(12), sign(layers.Burrowers)), want: reports.Leave, reason: "burrowers-at-work", days: 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := interpret(c.tank)
			a := found.Advice
			if a.Action != c.want {
				t.Fatalf("advice %s (%+v), want %s", a.Action, a.Shares, c.want)
			}
			if !slices.ContainsFunc(a.Because, func(r reports.Reason) bool { return r.Rule == c.reason }) {
				t.Errorf("reasons %v, want %s among them", a.Because, c.reason)
			}
			if c.first != "" && !slices.ContainsFunc(a.First, func(step string) bool { return strings.HasPrefix(step, c.first) }) {
				t.Errorf("first %q, want %q among them", a.First, c.first)
			}
			if got := a.NextReading - found.AsOf; got != c.days {
				t.Errorf("next reading after %d days, want %d", got, c.days)
			}
			if a.Action != reports.Leave && len(a.Cautions) == 0 {
				t.Error("no cautions with a hand in the tank")
			}
		})
	}
}

func TestNotices(t *testing.T) {
	soil := layers.Layer{ThicknessMM: 30, Color: palette.Color{R: 0x37, G: 0x30, B: 0x29}}
	blue := layers.Layer{ThicknessMM: 10, Color: palette.Color{R: 0x30, G: 0x60, B: 0xd0}}
	lit := func(layer layers.Layer, on *bool) func(*layers.Tank) {
		return func(t *layers.Tank) {
			last := t.Cores[len(t.Cores)-1]
			side := last
			side.Station = "side"
			last.Lit, last.Layers = on, append([]layers.Layer{layer}, last.Layers...)
			t.Cores = append(t.Cores[:len(t.Cores)-1:len(t.Cores)-1], last, side)
		}
	}
	plain := []layers.Layer{testbeds.Of(12, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(20, palette.Black), testbeds.Of(40, palette.Native)}
	for _, c := range []struct {
		name string
		tank layers.Tank
		want string
	}{
		{"no baseline", testbeds.Told(testbeds.Steady(testbeds.Of(12, palette.MulmLight), soil), func(t *layers.Tank) { t.Native = nil }), "may be iron sulphide, or dark by nature"},
		{"matches nothing", testbeds.Steady(testbeds.Of(12, palette.MulmLight), blue, testbeds.Of(40, palette.Native)), "matches nothing known"},
		{"one reading", testbeds.TankOf(1, func(int) []layers.Layer { return plain }), "Only one reading"},
		{"two readings", testbeds.TankOf(2, func(int) []layers.Layer { return plain }), "Only two readings"},
		{"too shallow", testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(40, palette.Native)), "The view is too shallow"},
		{"only mulm", testbeds.Steady(testbeds.Of(12, palette.MulmLight)), "Nothing but mulm"},
		{"rust below black", testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(9, palette.Black), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native)), "lies below a reduced band"},
		{"film where it is lit", testbeds.Told(testbeds.Steady(plain...), lit(testbeds.Of(3, palette.FilmGreen), new(true))), "on the glass and not a layer"},
		{"film in the dark", testbeds.Told(testbeds.Steady(plain...), lit(testbeds.Of(3, palette.FilmGreen), nil)), "light is not known to reach"},
		{"stations disagree", testbeds.Told(testbeds.Steady(plain...), lit(testbeds.Of(30, palette.MulmLight), nil)), "The stations disagree on the mulm"},
		{"no water test", testbeds.Steady(plain...), "un-ionised ammonia is not known"},
		{"flow not told", testbeds.Told(testbeds.Steady(plain...), func(t *layers.Tank) { t.Flow = "" }), "flow is not given"},
		{"no core", layers.Tank{ID: "new"}, "No core has been read"},
		{
			"left out", testbeds.Told(testbeds.Steady(plain...), func(t *layers.Tank) {
				t.Cores = append(t.Cores, layers.Core{Date: testbeds.Day("2026-08-01"), Station: "back", Layers: plain})
			}), "left out of the estimates: back (2026-08-01)",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			notices := interpret(c.tank).Notices
			if !slices.ContainsFunc(notices, func(n string) bool { return strings.Contains(n, c.want) }) {
				t.Errorf("notices %q, want one with %q", notices, c.want)
			}
		})
	}
}
