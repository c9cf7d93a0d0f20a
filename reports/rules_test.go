package reports

import (
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// Colours near the middle of each band's prototypes.
var bandColor = map[palette.Band]palette.Color{
	palette.MulmLight: {R: 0x8b, G: 0x6a, B: 0x48},
	palette.MulmDark:  {R: 0x50, G: 0x40, B: 0x2e},
	palette.Rust:      {R: 0xae, G: 0x69, B: 0x31},
	palette.Black:     {R: 0x3c, G: 0x3c, B: 0x38},
	palette.Grey:      {R: 0x7b, G: 0x79, B: 0x6e},
	palette.Native:    {R: 0xd9, G: 0xcb, B: 0xa6},
	palette.FilmGreen: {R: 0x4f, G: 0x7a, B: 0x3a},
	palette.MatWhite:  {R: 0xe4, G: 0xe2, B: 0xdb},
}

// of is a labelled layer.
func of(mm float64, band palette.Band) layers.Layer {
	return layers.Layer{ThicknessMM: mm, Color: bandColor[band], Band: band}
}

func ptr[T any](x T) *T { return &x }

// tankOf is a two-year-old tank of sand, rooted by nothing, in moved water, that was
// read once a month at one station, each time with the given layers.
func tankOf(months int, column func(month int) []layers.Layer) layers.Tank {
	tank := layers.Tank{
		ID: "test", SetUp: day("2024-06-01"), Flow: layers.Pumped, RootedPlants: ptr(false), Burrowers: ptr(false),
		Native: []layers.Native{{Name: "sand", Kind: layers.Sand, Color: bandColor[palette.Native]}},
	}
	for m := range months {
		tank.Cores = append(tank.Cores, layers.Core{
			Date: day("2026-06-01") + layers.Date(m*30), Station: "front", Layers: column(m),
		})
	}
	return tank
}

func steady(column ...layers.Layer) layers.Tank {
	return tankOf(5, func(int) []layers.Layer { return column })
}

func with(tank layers.Tank, change func(*layers.Tank)) layers.Tank {
	tank.Cores = slices.Clone(tank.Cores)
	change(&tank)
	return tank
}

// sign notes a sign at the tank's newest reading.
func sign(signs ...layers.Sign) func(*layers.Tank) {
	return func(t *layers.Tank) { t.Cores[len(t.Cores)-1].Signs = signs }
}

func interpret(tank layers.Tank) Tank {
	return Interpret(slices.Values([]layers.Tank{tank}), Settings{Draws: DefaultDraws, Seed: DefaultSeed}).Tanks[0]
}

// TestAdvice holds the trade's rules (common practice, no source) and the project's
// own assumptions, one tank each.
func TestAdvice(t *testing.T) {
	mulm := func(mm float64) layers.Tank {
		return steady(of(mm, palette.MulmLight), of(4, palette.Rust), of(10, palette.Black), of(50, palette.Native))
	}
	alive := func(mm float64) layers.Tank {
		return with(mulm(mm), func(t *layers.Tank) { t.RootedPlants, t.Burrowers = ptr(true), ptr(true) })
	}
	bare := steady(of(2, palette.Native), of(2, palette.Rust), of(9, palette.Black), of(40, palette.Native))
	for _, c := range []struct {
		name   string
		tank   layers.Tank
		want   Action
		reason string
		first  string
		days   layers.Date
	}{
		{name: "little mulm", tank: mulm(12), want: Leave, reason: "nothing-presses", days: 30},
		{name: "mulm over 50 mm", tank: mulm(60), want: Siphon, reason: "deep-mulm", days: 14},
		{name: "mulm over 50 mm in a living bed", tank: alive(60), want: Leave, reason: "living-bed", days: 30},
		{name: "mulm over 75 mm in a living bed", tank: alive(90), want: Siphon, reason: "deep-mulm-in-a-living-bed", days: 14},
		{
			name: "living bed in still water", want: Siphon, reason: "deep-mulm", days: 14,
			tank: with(alive(60), func(t *layers.Tank) { t.Flow = layers.Still }),
		},
		{
			name: "own limit", want: Siphon, reason: "deep-mulm", days: 14,
			tank: with(mulm(24), func(t *layers.Tank) { t.Limits = layers.Limits{layers.LimitMulm: 20} }),
		},
		{
			name: "mulm grows fast", want: Siphon, reason: "mulm-grows-fast", first: feedLess, days: 14,
			tank: tankOf(8, func(m int) []layers.Layer {
				return []layers.Layer{of(float64(1+6*m), palette.MulmLight), of(4, palette.Rust), of(50, palette.Native)}
			}),
		},
		{
			name: "decay in still water", want: Siphon, reason: "decay-in-still-water", first: takeOutDead, days: 7,
			tank: with(with(mulm(20), sign(layers.PlantMelt)), func(t *layers.Tank) { t.Flow = layers.Still }),
		},
		{name: "decay in moved water", tank: with(mulm(20), sign(layers.WhiteThreads)), want: Leave, reason: "decay", first: testWater, days: 7},
		{
			name: "decay long ago", want: Leave, reason: "nothing-presses", days: 30,
			tank: with(mulm(20), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: day("2026-07-01"), Kind: layers.EventDeadAnimal}}
			}),
		},
		{
			name: "dead animal between readings", want: Leave, reason: "decay", first: takeOutDead, days: 7,
			tank: with(mulm(20), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: day("2026-09-20"), Kind: layers.EventDeadAnimal}}
			}),
		},
		{
			name: "reduced near the surface under mulm", want: Siphon, reason: "reduced-under-mulm", days: 14,
			tank: steady(of(3, palette.MulmDark), of(30, palette.Black), of(40, palette.Native)),
		},
		{name: "bare sand blackens", tank: bare, want: Stir, reason: "bare-sand-blackens", days: 14},
		{name: "bare sand that smells", tank: with(bare, sign(layers.EggSmell)), want: Leave, reason: "egg-smell", first: aerate, days: 7},
		{
			name: "bare sand, thick black zone", want: Leave, reason: "thick-black-zone", days: 14,
			tank: steady(of(2, palette.Native), of(2, palette.Rust), of(40, palette.Black), of(40, palette.Native)),
		},
		{
			name: "bare sand that roots hold", want: Leave, reason: "rooted-bed", days: 14,
			tank: with(bare, func(t *layers.Tank) { t.RootedPlants = ptr(true) }),
		},
		{
			name: "bare sand, ammonia over the limit", want: Leave, reason: "ammonia-over-limit", first: changeWater, days: 2,
			tank: with(bare, func(t *layers.Tank) {
				t.Water = []layers.WaterTest{{Date: day("2026-09-20"), PH: ptr(8.4), TemperatureC: ptr(26.0), TotalAmmonia: ptr(2.0)}}
			}),
		},
		{
			name: "young bed", want: Leave, reason: "young-bed", days: 30,
			tank: with(mulm(60), func(t *layers.Tank) { t.SetUp = day("2026-09-01"); t.Cores = t.Cores[4:] }),
		},
		{
			name: "siphoned lately", want: Leave, reason: "siphoned-lately", days: 14,
			tank: with(mulm(60), func(t *layers.Tank) {
				t.Events = []layers.Event{{Date: day("2026-09-25"), Kind: layers.EventSiphon}}
			}),
		},
		{
			name: "front rises", want: Leave, reason: "front-rises", days: 14,
			tank: tankOf(8, func(m int) []layers.Layer {
				return []layers.Layer{of(10, palette.MulmLight), of(float64(30-3*m), palette.Rust), of(20, palette.Black), of(40, palette.Native)}
			}),
		},
		{name: "roots below the front", tank: with(mulm(12), sign(layers.RootsDeep)), want: Leave, reason: "roots-below-the-front", days: 30},
		{name: "burrowers", tank: with(mulm(12), sign(layers.Burrowers)), want: Leave, reason: "burrowers-at-work", days: 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := interpret(c.tank)
			a := found.Advice
			if a.Action != c.want {
				t.Fatalf("advice %s (%+v), want %s", a.Action, a.Shares, c.want)
			}
			if !slices.ContainsFunc(a.Because, func(r Reason) bool { return r.Rule == c.reason }) {
				t.Errorf("reasons %v, want %s among them", a.Because, c.reason)
			}
			if c.first != "" && !slices.Contains(a.First, c.first) {
				t.Errorf("first %q, want %q among them", a.First, c.first)
			}
			if got := a.NextReading - found.AsOf; got != c.days {
				t.Errorf("next reading after %d days, want %d", got, c.days)
			}
			if a.Action != Leave && len(a.Cautions) == 0 {
				t.Error("no cautions with a hand in the tank")
			}
		})
	}
}

// TestRules_readable: every rule has a name of its own, a mark and a test.
func TestRules_readable(t *testing.T) {
	seen := map[string]bool{}
	for i, r := range rules {
		if r.name == "" || seen[r.name] || r.mark == "" || r.text == nil || (r.test == nil) != (i == fallback) {
			t.Errorf("rule %d %q is not whole, or stands twice", i, r.name)
		}
		seen[r.name] = true
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
	plain := []layers.Layer{of(12, palette.MulmLight), of(4, palette.Rust), of(20, palette.Black), of(40, palette.Native)}
	for _, c := range []struct {
		name string
		tank layers.Tank
		want string
	}{
		{"no baseline", with(steady(of(12, palette.MulmLight), soil), func(t *layers.Tank) { t.Native = nil }), "may be iron sulphide or dark by nature"},
		{"matches nothing", steady(of(12, palette.MulmLight), blue, of(40, palette.Native)), "matches nothing known"},
		{"one reading", tankOf(1, func(int) []layers.Layer { return plain }), "One reading only"},
		{"two readings", tankOf(2, func(int) []layers.Layer { return plain }), "Two readings only"},
		{"three readings", tankOf(3, func(int) []layers.Layer { return plain }), "Too few readings"},
		{"too shallow", steady(of(12, palette.MulmLight), of(40, palette.Native)), "The view is too shallow"},
		{"only mulm", steady(of(12, palette.MulmLight)), "Nothing but mulm"},
		{"rust below black", steady(of(12, palette.MulmLight), of(9, palette.Black), of(4, palette.Rust), of(40, palette.Native)), "lies below a reduced band"},
		{"film where it is lit", with(steady(plain...), lit(of(3, palette.FilmGreen), ptr(true))), "glass-deep and no layer"},
		{"film in the dark", with(steady(plain...), lit(of(3, palette.FilmGreen), nil)), "light is not known to reach"},
		{"stations disagree", with(steady(plain...), lit(of(30, palette.MulmLight), nil)), "The stations disagree on the mulm"},
		{"no water test", steady(plain...), "un-ionised ammonia is not known"},
		{"flow not told", with(steady(plain...), func(t *layers.Tank) { t.Flow = "" }), "flow is not told"},
		{"no core", layers.Tank{ID: "new"}, "No core has been read"},
		{
			"left out", with(steady(plain...), func(t *layers.Tank) {
				t.Cores = append(t.Cores, layers.Core{Date: day("2026-08-01"), Station: "back", Layers: plain})
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
