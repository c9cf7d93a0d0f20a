package bed_test

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers/bed"
)

var (
	oxygenInput   = regexp.MustCompile(`Cw=([\d.]+) mg/L`)
	boundaryInput = regexp.MustCompile(`DBL=([\d.]+) mm`)
	layerInput    = regexp.MustCompile(`\(([\d.]+),([\d.]+),([\d.]+)\)`)
	reducedInput  = regexp.MustCompile(`from below ([\d.]+) g`)
	floorStated   = regexp.MustCompile(`glass floor ([\d.]+) mg/L`)
)

// Oxygen in the bed: rows of testdata/checks/bed.csv.
var profileChecks = []check{
	{"tort_formula", func(t *testing.T, r row) {
		r.formula(t, "theta^2 = 1 - ln(phi^2); Ds = D0/theta^2",
			func(x float64) float64 { return bed.SquaredTortuosity((x + 1) / 32) },
			func(x float64) float64 { return 1 - math.Log(math.Pow((x+1)/32, 2)) })
	}},
	{`tort_\d+`, func(t *testing.T, r row) {
		r.near(t, bed.SquaredTortuosity(r.input(t, regexp.MustCompile(`phi=([\d.]+)`))))
	}},
	{"opd_formula_flux", func(t *testing.T, r row) {
		r.formula(t, "L = 2*phi*Ds*C0/F", func(celsius float64) float64 { return alone(celsius, 0).Penetration },
			func(celsius float64) float64 {
				p := alone(celsius, 0)
				return 2 * 0.9 * bed.OxygenDiffusivity(celsius) / bed.SquaredTortuosity(0.9) * p.Surface / p.Uptake
			})
	}},
	{"opd_formula_dbl", func(t *testing.T, r row) {
		const delta = 0.7 * bed.Millimeter
		r.formula(t, "L = -a + sqrt(a^2 + 2*phi*Ds*Cw/R), a = phi*Ds*delta/D0; F = R*L; C0 = Cw - F*delta/D0",
			func(celsius float64) float64 {
				p := alone(celsius, delta)
				within(t, p.Uptake, 500*p.Penetration, 1e-12)
				within(t, p.Surface, 6-p.Uptake*delta/bed.OxygenDiffusivity(celsius), 1e-12)
				return p.Penetration
			},
			func(celsius float64) float64 {
				d := bed.OxygenDiffusivity(celsius)
				g := 0.9 * d / bed.SquaredTortuosity(0.9)
				a := g * delta / d
				return -a + math.Sqrt(a*a+2*g*6/500)
			})
	}},
	{`opd_e\d+_L`, func(t *testing.T, r row) { r.near(t, r.profile(t).Penetration/bed.Millimeter) }},
	{`opd_e\d+_F`, func(t *testing.T, r row) { r.near(t, r.profile(t).Uptake) }},
	{`opd_e\d+_C0`, func(t *testing.T, r row) {
		p := r.profile(t)
		r.near(t, p.Surface)
		floor := strings.Contains(r.quantity, "whole bed oxic")
		if p.ToFloor != floor {
			t.Errorf("oxygen to the floor: %v", p.ToFloor)
		}
		if floor {
			within(t, p.Floor, number(t, match(t, floorStated, r.quantity)[1]), 0.002)
		}
	}},
	{"opd_basis", func(t *testing.T, r row) {
		// Uptake per pore water, L = √(2 Ds C0/Rpw), must reach as deep as uptake per bed.
		v := numbers(t, r.value)
		porosity, perWater, perBed := v[0], v[1], v[2]
		d := bed.OxygenDiffusivity(25)
		got := bed.Bed{Layers: []bed.Layer{{Thickness: 1, Porosity: porosity, Demand: perBed}}, Diffusivity: d}.Profile(6).Penetration
		within(t, got, math.Sqrt(2*d/bed.SquaredTortuosity(porosity)*6/perWater), 1e-12)
	}},
	{"opd_sqrt", func(t *testing.T, r row) {
		v := numbers(t, strings.ReplaceAll(r.inputs, "L1", "L"))
		full := bed.Bed{Layers: []bed.Layer{{Thickness: 1, Porosity: 0.9, Demand: 100}}, Diffusivity: bed.OxygenDiffusivity(20)}
		r.near(t, v[0]*full.Profile(8*v[1]).Penetration/full.Profile(8).Penetration)
	}},
	// Measured penetration lies inside what the ranges of mulm allow.
	{"opd_sweerts_stirred", penetrationInside(20, 9, bed.Gentle)},
	{"opd_sweerts_unstirred", penetrationInside(20, 9*0.3, bed.Still)},
	{"opd_arctic", penetrationInside(12, 10, bed.Gentle)},
	{"opd_four", penetrationInside(20, 9, bed.Gentle)},
	{"opd_coastal", penetrationInside(10, 9, bed.Gentle)},
	{"mc_sqrt_p.*", func(t *testing.T, r row) {
		// L falls as demand rises, so the percentile of L is L at the mirrored percentile.
		z := map[string]float64{"mc_sqrt_p5": -1.64485, "mc_sqrt_p50": 0, "mc_sqrt_p95": 1.64485}[r.id]
		b := bed.Bed{Layers: []bed.Layer{{Thickness: 0.1, Porosity: 0.9, Demand: 500 * math.Exp(-0.8*z)}}, Diffusivity: bed.OxygenDiffusivity(25)}
		got := b.Profile(6).Penetration / bed.Millimeter
		r.near(t, got)
		r.sharp(t, got)
	}},
	{"theta_25", func(t *testing.T, r row) { r.near(t, bed.DemandAt(1, 25)) }},
	{"theta_q10", func(t *testing.T, r row) { r.near(t, bed.DemandAt(1, 30)) }},
	{"sod_theta", func(t *testing.T, r row) { within(t, bed.DemandAt(1, 21), r.number(t), 1e-12) }},
	{"sod_sludge20", func(t *testing.T, r row) {
		low, high := r.span(t)
		within(t, bed.DemandAt(0.12*24, 8), low, r.allowance(t)) // 0.12 and 0.22 g/h/m² at 32 °C
		within(t, bed.DemandAt(0.22*24, 8), high, r.allowance(t))
	}},
}

// alone is oxygen under water of 6 mg/L in a bed of one layer.
func alone(celsius, boundary float64) bed.Profile {
	return bed.Bed{
		Layers:      []bed.Layer{{Thickness: 0.1, Porosity: 0.9, Demand: 500}},
		Diffusivity: bed.OxygenDiffusivity(celsius),
		Boundary:    boundary,
	}.Profile(6)
}

func (r row) profile(t *testing.T) bed.Profile {
	t.Helper()
	b := bed.Bed{Diffusivity: bed.OxygenDiffusivity(r.celsius(t)), Boundary: r.input(t, boundaryInput) * bed.Millimeter}
	for _, m := range layerInput.FindAllStringSubmatch(r.inputs, -1) {
		b.Layers = append(b.Layers, bed.Layer{
			Porosity: number(t, m[1]), Demand: number(t, m[2]), Thickness: number(t, m[3]) * bed.Millimeter,
		})
	}
	if m := reducedInput.FindStringSubmatch(r.inputs); m != nil {
		b.Reduced = number(t, m[1])
	}
	return b.Profile(r.input(t, oxygenInput))
}

// penetrationInside holds a measured depth, or range of depths, in mm, inside what mulm
// allows.
func penetrationInside(celsius, oxygen float64, m bed.Motion) func(*testing.T, row) {
	return func(t *testing.T, r row) {
		low, high := penetrationRange(celsius, oxygen, m)
		for _, measured := range numbers(t, r.value) {
			inside(t, "measured penetration, mm", measured, low, high)
		}
	}
}

// penetrationRange is how far oxygen reaches into mulm, mm: from the hungriest and
// densest under the thickest boundary layer to the slowest and loosest under the thinnest.
func penetrationRange(celsius, oxygen float64, m bed.Motion) (low, high float64) {
	boundary, loose, settled := m.Exchange().Boundary, bed.LooseMulm.Properties(), bed.SettledMulm.Properties()
	return penetrationOf(loose.Porosity.Low, loose.Demand.High, celsius, boundary.High, oxygen),
		penetrationOf(settled.Porosity.High, settled.Demand.Low, celsius, boundary.Low, oxygen)
}

func penetrationOf(porosity, demand, celsius, boundary, oxygen float64) float64 {
	b := bed.Bed{
		Layers:      []bed.Layer{{Thickness: 1, Porosity: porosity, Demand: bed.DemandAt(demand, celsius)}},
		Diffusivity: bed.OxygenDiffusivity(celsius), Boundary: boundary,
	}
	return b.Profile(oxygen).Penetration / bed.Millimeter
}

// Oxygen reaches 1 to 6 mm into organic mud, as measured (rows opd_*): the range of the
// model holds all of that, and its defaults lie in it.
func TestProfile_organicMud(t *testing.T) {
	low, high := penetrationRange(20, 8, bed.Gentle)
	if low > 1 || high < 6 {
		t.Errorf("penetration of %.2g to %.2g mm, want it to hold 1 to 6", low, high)
	}
	for _, m := range []bed.Material{bed.LooseMulm, bed.SettledMulm} {
		p := m.Properties()
		got := penetrationOf(p.Porosity.Default, p.Demand.Default, 20, bed.Gentle.Exchange().Boundary.Default, 8)
		inside(t, "penetration by default, mm", got, 1, 6)
	}
}

// TestProfile_asFiniteVolumes holds the closed form against a numerical solution on
// fine cells, which knows nothing of layers beyond each cell's own properties.
func TestProfile_asFiniteVolumes(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 200))
	const agreement = 0.005
	var inBed, toFloor int
	for range 200 {
		b := randomBed(rng)
		oxygen := 2 + 10*rng.Float64()
		got, want := b.Profile(oxygen), finiteVolumes(b, oxygen)
		if b.Reduced*b.Boundary/b.Diffusivity > 0.98*oxygen {
			continue // no oxygen reaches the bed
		}
		if math.Abs(got.Penetration-want.Penetration) > agreement*want.Penetration+want.cell {
			t.Errorf("%+v under %g mg/L: penetration %g, want %g m", b, oxygen, got.Penetration, want.Penetration)
		}
		if math.Abs(got.Uptake-want.Uptake) > agreement*want.Uptake {
			t.Errorf("%+v under %g mg/L: uptake %g, want %g g/m²/d", b, oxygen, got.Uptake, want.Uptake)
		}
		for _, o := range [][2]float64{{got.Surface, want.Surface}, {got.Floor, want.Floor}, {got.At(want.Penetration / 2), want.middle}} {
			if math.Abs(o[0]-o[1]) > agreement*oxygen {
				t.Errorf("%+v under %g mg/L: oxygen %g, want %g mg/L", b, oxygen, o[0], o[1])
			}
		}
		if got.ToFloor {
			toFloor++
		} else {
			inBed++
		}
	}
	if inBed < 100 || toFloor < 10 {
		t.Errorf("oxygen ended in the bed %d times and reached the floor %d times: too one-sided", inBed, toFloor)
	}
}

// randomBed is a bed of one to eight layers, as hungry as loose mulm or as idle as clean gravel.
func randomBed(rng *rand.Rand) bed.Bed {
	b := bed.Bed{
		Diffusivity: bed.OxygenDiffusivity(30 * rng.Float64()),
		Boundary:    1.5 * bed.Millimeter * rng.Float64(),
		Reduced:     max(0, 0.6*rng.Float64()-0.2),
	}
	for range 1 + rng.IntN(8) {
		demand := math.Exp(7 * rng.Float64())
		if rng.IntN(8) == 0 {
			demand = 0
		}
		b.Layers = append(b.Layers, bed.Layer{
			Thickness: 6 * bed.Millimeter * rng.Float64(), Porosity: 0.35 + 0.63*rng.Float64(), Demand: demand,
		})
	}
	return b
}

type numerical struct{ Penetration, Uptake, Surface, Floor, middle, cell float64 }

// finiteVolumes solves (g C′)′ = R where there is oxygen and 0 where there is none, C
// less the reduced substances counted as oxygen that they lack, with their flux at the
// floor. The oxic cells, the last of them in part, are found by halving.
func finiteVolumes(b bed.Bed, oxygen float64) numerical {
	const perLayer = 2000
	var width, g, demand []float64
	for _, l := range b.Layers {
		for range perLayer {
			width = append(width, l.Thickness/perLayer)
			g = append(g, l.Porosity*b.Diffusivity/(1-math.Log(l.Porosity*l.Porosity)))
			demand = append(demand, l.Demand)
		}
	}
	n := len(g)
	part := func(i int, oxic float64) float64 { return max(0, min(1, oxic-float64(i))) }
	c, flux := make([]float64, n), make([]float64, n+1)
	solve := func(oxic float64) {
		// Steady: what passes the top of a cell is what all cells below it take up. That
		// sets the step of C from one cell's middle to the next, and no matrix is needed.
		flux[n] = b.Reduced
		for i := n - 1; i >= 0; i-- {
			flux[i] = flux[i+1] + part(i, oxic)*demand[i]*width[i]
		}
		above, half := oxygen-flux[0]*b.Boundary/b.Diffusivity, 0.0
		for i := range n {
			c[i] = above - flux[i]*(half+width[i]/(2*g[i]))
			above, half = c[i], width[i]/(2*g[i])
		}
	}
	low, high := 0.0, float64(n)
	for range 40 {
		oxic := (low + high) / 2
		if solve(oxic); c[int(oxic)] > 0 {
			low = oxic
		} else {
			high = oxic
		}
	}
	r := numerical{Uptake: flux[0], Surface: max(0, oxygen-flux[0]*b.Boundary/b.Diffusivity), Floor: max(0, c[n-1])}
	for i := range n {
		r.Penetration += part(i, low) * width[i]
	}
	r.cell = width[min(n-1, int(low))]
	for i, depth := 0, 0.0; depth < r.Penetration/2; i++ {
		depth += width[i]
		r.middle = c[i]
	}
	return r
}

// TestProfile_monotone: more demand, less oxygen above, a thicker boundary layer and
// more reduced substances never let oxygen deeper; a deeper bed never makes it end
// higher or takes up less.
func TestProfile_monotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBed(t)
		oxygen := amount(t, 15, "oxygen")
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		which := rapid.IntRange(0, len(b.Layers)-1).Draw(t, "which")
		p := b.Profile(oxygen)

		hungry := withLayers(b, func(layers []bed.Layer) { layers[which].Demand *= more })
		thick, rich := b, b
		thick.Boundary *= more
		rich.Reduced *= more
		for what, less := range map[string]bed.Profile{
			"demand": hungry.Profile(oxygen), "boundary layer": thick.Profile(oxygen),
			"reduced": rich.Profile(oxygen), "less oxygen": b.Profile(oxygen / more),
		} {
			if less.Penetration > p.Penetration+1e-12 || less.Surface > p.Surface+1e-9 {
				t.Fatalf("more %s: %+v from %+v", what, less, p)
			}
		}
		if got := b.Profile(oxygen / more).Uptake; got > p.Uptake+1e-9 {
			t.Fatalf("less oxygen: uptake %g from %g", got, p.Uptake)
		}
		if got := thick.Profile(oxygen).Uptake; got > p.Uptake+1e-9 {
			t.Fatalf("thicker boundary layer: uptake %g from %g", got, p.Uptake)
		}
		last := len(b.Layers) - 1
		deep := withLayers(b, func(layers []bed.Layer) { layers[last].Thickness *= more }).Profile(oxygen)
		if deep.Penetration < p.Penetration-1e-12 || deep.Uptake < p.Uptake-1e-9 {
			t.Fatalf("deeper bed: %+v from %+v", deep, p)
		}
	})
}

// TestProfile_balance: what goes in is what the oxic part takes up and what the reduced
// substances do; oxygen falls all the way down; cutting a layer in two changes nothing;
// nor do other units.
func TestProfile_balance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBed(t)
		oxygen := amount(t, 15, "oxygen")
		p := b.Profile(oxygen)
		if p.Penetration > 0 {
			uptake, left := b.Reduced, p.Penetration
			for _, l := range b.Layers {
				h := min(left, l.Thickness)
				uptake += h * l.Demand
				left -= h
			}
			close(t, "uptake", p.Uptake, uptake)
			close(t, "surface", p.At(0), p.Surface)
			close(t, "just above the end", p.At(p.Penetration*(1-1e-12)), p.Floor)
		}
		for depth, last := 0.0, p.Surface; depth < 1.2*p.Penetration; depth += p.Penetration / 16 {
			now := p.At(depth)
			if now > last+1e-9 || now < 0 {
				t.Fatalf("oxygen rises from %g to %g at %g m", last, now, depth)
			}
			last = now
		}

		which := rapid.IntRange(0, len(b.Layers)-1).Draw(t, "which")
		cut := rapid.Float64Range(0, 1).Draw(t, "cut")
		split := b
		split.Layers = append(append([]bed.Layer(nil), b.Layers[:which+1]...), b.Layers[which:]...)
		split.Layers[which].Thickness *= cut
		split.Layers[which+1].Thickness *= 1 - cut
		same(t, "split", split.Profile(oxygen), p, 1, 1, 1)

		mm := withLayers(b, func(layers []bed.Layer) { // mm, and g/mm³
			for i := range layers {
				layers[i].Thickness *= 1e3
				layers[i].Demand *= 1e-9
			}
		})
		mm.Boundary *= 1e3
		mm.Diffusivity *= 1e6
		mm.Reduced *= 1e-6
		same(t, "in mm", mm.Profile(oxygen*1e-9), p, 1e3, 1e-6, 1e-9)
	})
}

func same(t *rapid.T, what string, got, want bed.Profile, length, flux, concentration float64) {
	t.Helper()
	if got.ToFloor != want.ToFloor && want.Floor > 1e-6 {
		t.Fatalf("%s: %+v, want %+v", what, got, want)
	}
	close(t, what+": penetration", 1e3*got.Penetration/length, 1e3*want.Penetration)
	close(t, what+": uptake", got.Uptake/flux, want.Uptake)
	close(t, what+": surface", got.Surface/concentration, want.Surface)
	close(t, what+": floor", got.Floor/concentration, want.Floor)
}

func TestProfile_edges(t *testing.T) {
	b := mulm()
	if p := b.Profile(0); p.Penetration != 0 || p.Uptake != 0 || p.Surface != 0 || p.At(0) != 0 || p.At(1) != 0 {
		t.Errorf("under water without oxygen: %+v", p)
	}
	b.Reduced = 100 // meets all oxygen in the boundary layer
	if p := b.Profile(6); p.Penetration != 0 || p.Surface != 0 || math.Abs(p.Uptake-6*b.Diffusivity/b.Boundary) > 1e-12 {
		t.Errorf("under a flood of reduced substances: %+v", p)
	}
	if p := (bed.Bed{Diffusivity: b.Diffusivity, Boundary: b.Boundary}).Profile(6); !p.ToFloor || p.Floor != 6 || p.Uptake != 0 {
		t.Errorf("on bare glass: %+v", p)
	}
	inert := bed.Bed{Layers: []bed.Layer{{Thickness: 0.05, Porosity: 0.4}}, Diffusivity: b.Diffusivity}
	if p := inert.Profile(6); !p.ToFloor || p.Floor != 6 || p.Penetration != 0.05 || p.At(0.02) != 6 {
		t.Errorf("in clean sand: %+v", p)
	}
}

func TestProfile_allocatesNothing(t *testing.T) {
	c := deepColumn()
	for what, solve := range map[string]func(){
		"the bed": func() { c.Bed.Profile(6) }, "the column": func() { c.Steady() }, "a day": func() { bed.Day{Column: c}.Course() },
	} {
		if n := testing.AllocsPerRun(10, solve); n != 0 {
			t.Errorf("%s: %g allocations, want none", what, n)
		}
	}
}

func withLayers(b bed.Bed, change func([]bed.Layer)) bed.Bed {
	b.Layers = append([]bed.Layer(nil), b.Layers...)
	change(b.Layers)
	return b
}

func drawBed(t *rapid.T) bed.Bed {
	layer := rapid.Custom(func(t *rapid.T) bed.Layer {
		demand := math.Exp(rapid.Float64Range(0, 7.5).Draw(t, "ln R"))
		if rapid.IntRange(0, 7).Draw(t, "inert") == 0 {
			demand = 0
		}
		return bed.Layer{
			Thickness: rapid.Float64Range(1e-4, 0.03).Draw(t, "h"),
			Porosity:  rapid.Float64Range(0.3, 0.99).Draw(t, "φ"),
			Demand:    demand,
		}
	})
	return bed.Bed{
		Layers:      rapid.SliceOfN(layer, 1, 8).Draw(t, "layers"),
		Diffusivity: bed.OxygenDiffusivity(rapid.Float64Range(0, 45).Draw(t, "°C")),
		Boundary:    rapid.Float64Range(0, 0.002).Draw(t, "δ"),
		Reduced:     amount(t, 0.5, "J"),
	}
}

// amount is none or at least a billionth, since squares of what is far less run out of exponent.
func amount(t *rapid.T, most float64, what string) float64 {
	if x := rapid.Float64Range(0, most).Draw(t, what); x >= 1e-9 {
		return x
	}
	return 0
}
