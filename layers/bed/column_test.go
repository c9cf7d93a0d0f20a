package bed_test

import (
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers/bed"
)

var (
	transferInput    = regexp.MustCompile(`kL=([\d.]+)`)
	mixingInput      = regexp.MustCompile(`Kz=([\de.-]+) m2/s`)
	depthInput       = regexp.MustCompile(`H=([\d.]+)`)
	respirationInput = regexp.MustCompile(`Rw=([\d.]+)`)
	plantsInput      = regexp.MustCompile(`Pg=([\d.]+) g/m2/d`)
	litInput         = regexp.MustCompile(`, (\d+) h light`)
	darkInput        = regexp.MustCompile(`(\d+) h dark`)
)

// Water over a bed: rows of testdata/checks/water.csv.
var columnChecks = []check{
	{"wc1", func(t *testing.T, r row) {
		c := fixedDemand()
		c.Mixing = 1e9 // well mixed
		r.near(t, c.Steady().Bottom)
	}},
	{`wc2_Kz1e-0[456]`, func(t *testing.T, r row) {
		c := fixedDemand()
		c.Mixing = r.input(t, mixingInput) / perSecond
		r.near(t, c.Steady().Bottom)
	}},
	{`wc2_Kz1e-07`, func(t *testing.T, r row) {
		c := fixedDemand()
		c.Mixing = r.input(t, mixingInput) / perSecond
		// The row's demand cannot be met: a bed takes what reaches it and leaves nothing.
		if p := c.Steady(); r.value != "anoxic" || p.Bottom > 0.001 || p.Bed.Uptake > 0.1 {
			t.Errorf("got %+v, want a bottom without oxygen", p)
		}
	}},
	{`wc3_\d_surf`, func(t *testing.T, r row) { r.near(t, r.together(t).Surface) }},
	{`wc3_\d_bot`, func(t *testing.T, r row) { r.near(t, r.together(t).Bottom) }},
	{`wc3_\d_F`, func(t *testing.T, r row) { r.near(t, r.together(t).Bed.Uptake) }},
	{`wc3_\d_L`, func(t *testing.T, r row) { r.near(t, r.together(t).Bed.Penetration/bed.Millimeter) }},
	{`wc4_\d+`, func(t *testing.T, r row) {
		d := bed.Day{Column: fixedDemand()}
		r.near(t, d.Advance(d.Column.Saturation, 0, r.input(t, darkInput)))
	}},
	{`wc5_\d_min`, func(t *testing.T, r row) { r.near(t, r.day(t).Course().Minimum) }},
	{`wc5_\d_max`, func(t *testing.T, r row) { r.near(t, r.day(t).Course().Maximum) }},
	{`wc5_\d_mean`, func(t *testing.T, r row) { r.near(t, r.day(t).Course().Mean) }},
}

// fixedDemand is the column of row wc1. A thin and hungry layer on the glass floor,
// oxic all through, takes up 1 g/m²/d whatever the oxygen above it.
func fixedDemand() bed.Column {
	return bed.Column{
		Saturation: 8.263, Transfer: 0.4, Mixing: 1, Depth: 0.30, Respiration: 1.0, AreaRatio: 1,
		Bed: bed.Bed{
			Layers:      []bed.Layer{{Thickness: 1e-5, Porosity: 1, Demand: 1e5}},
			Diffusivity: bed.OxygenDiffusivity(25),
		},
	}
}

// mulm is the bed of rows wc3 and wc5.
func mulm() bed.Bed {
	return bed.Bed{
		Layers:      []bed.Layer{{Thickness: 0.1, Porosity: 0.95, Demand: 400}},
		Diffusivity: bed.OxygenDiffusivity(25),
		Boundary:    0.8 * bed.Millimeter,
	}
}

func (r row) column(t *testing.T) bed.Column {
	t.Helper()
	return bed.Column{
		Saturation:  bed.OxygenSaturation(25, 1),
		Transfer:    r.input(t, transferInput),
		Mixing:      1,
		Depth:       r.input(t, depthInput),
		Respiration: r.input(t, respirationInput),
		AreaRatio:   1,
		Bed:         mulm(),
	}
}

func (r row) together(t *testing.T) bed.ColumnProfile {
	t.Helper()
	c := r.column(t)
	c.Mixing = r.input(t, mixingInput) / perSecond
	return c.Steady()
}

func (r row) day(t *testing.T) bed.Day {
	t.Helper()
	d := bed.Day{Column: r.column(t)}
	if r.id[:len("wc5_3")] != "wc5_3" { // which is always dark
		d.PlantOxygen, d.LitHours = r.input(t, plantsInput), r.input(t, litInput)
	}
	return d
}

// Common practice, no source: still, tall vessels with a small surface run out of
// oxygen at the bottom; the same footprint with a bubbler does not. Short is below 3
// mg/L, the least of a day (USEPA 1986, from memory).
func TestColumn_tradeRules(t *testing.T) {
	bottom := func(m bed.Motion, depth, areaRatio float64) float64 {
		c := vessel(m, depth)
		c.AreaRatio = areaRatio
		return c.Steady().Bottom
	}
	tall := bottom(bed.Still, 0.40, 1)
	narrow := bottom(bed.Still, 0.40, 2) // a bottle: half the surface for its floor
	bubbled := bottom(bed.Aerated, 0.40, 2)
	shallow := bottom(bed.Still, 0.10, 1)
	if tall >= bed.OxygenLimitDay || narrow >= tall {
		t.Errorf("still and tall: %.2f mg/L at the bottom, with a small surface %.2f; want less than %g and less yet", tall, narrow, bed.OxygenLimitDay)
	}
	if bubbled <= bed.OxygenLimitMonth || shallow <= bed.OxygenLimitDay {
		t.Errorf("bubbled: %.2f mg/L at the bottom, shallow: %.2f; want more than %g and %g", bubbled, shallow, bed.OxygenLimitMonth, bed.OxygenLimitDay)
	}
}

// vessel is a box of water at 25 °C on mulm and a black zone, all by default, lit.
func vessel(m bed.Motion, depth float64) bed.Column {
	const celsius = 25
	e, assumed := m.Exchange(), bed.Assumed()
	return bed.Column{
		Saturation: bed.OxygenSaturation(celsius, 1), Transfer: e.Transfer.Default, Mixing: e.MixingLit.Default,
		Depth: depth, Respiration: assumed.Respiration.Default, AreaRatio: 1,
		Bed: bed.Bed{
			Layers: []bed.Layer{
				bed.LooseMulm.Layer(bed.LooseDepth, celsius),
				bed.SettledMulm.Layer(20*bed.Millimeter, celsius),
				bed.BlackReduced.Layer(30*bed.Millimeter, celsius),
			},
			Diffusivity: bed.OxygenDiffusivity(celsius),
			Boundary:    e.Boundary.Default,
			Reduced:     assumed.Reduced.Default,
		},
	}
}

// TestColumn_alongTheChain holds every link of the chain to its own law: what passes
// the surface, the water and the boundary layer, and that At follows the water's
// profile between what the ends are.
func TestColumn_alongTheChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawColumn(t)
		p := c.Steady()
		uptake := c.AreaRatio*p.Bed.Uptake + c.Respiration*p.Oxic // per area of water surface
		if p.Bottom == 0 && p.Oxic > 0 {
			uptake += c.AreaRatio * c.Bed.Reduced // met in the water
		}
		if p.Oxic > 0 {
			close(t, "through the surface", c.Transfer*(c.Saturation-p.Surface), uptake)
		}
		close(t, "at the surface", p.At(0), p.Surface)
		close(t, "at the bottom", p.At(c.Depth), p.Bottom)
		close(t, "at the end of the oxygen", p.At(p.Oxic*(1-1e-13)), p.Bottom)
		below := p.Bottom - p.Bed.Uptake*c.Bed.Boundary/c.Bed.Diffusivity
		if p.Bed.Penetration > 0 {
			close(t, "through the boundary layer", p.Bed.Surface, below)
			close(t, "as the bed alone", c.Bed.Profile(p.Bottom).Penetration/bed.Millimeter, p.Bed.Penetration/bed.Millimeter)
		}
		// Kz C″ = Rw between any three points.
		h := p.Oxic / 4
		if curve := p.At(h) - 2*p.At(2*h) + p.At(3*h); h > 0 {
			close(t, "respiration", curve, c.Respiration*h*h/c.Mixing)
		}
		close(t, "held at its own surface", c.Under(p.Surface).Bottom, p.Bottom)
	})
}

// TestColumn_reducedAboveTheBed: reduced substances that rise faster than oxygen comes
// down meet it in the boundary layer, in the water or not at all.
func TestColumn_reducedAboveTheBed(t *testing.T) {
	c := bed.Column{
		Saturation: 8, Transfer: 1, Mixing: 0.5, Depth: 0.4, AreaRatio: 1.5,
		Bed: bed.Bed{Layers: mulm().Layers, Diffusivity: 2e-4, Boundary: 0.002}, // 10 d/m
	}
	// From the surface down 8 mg/L fall by 1.5 J (1/1 + 0.4/0.5) in the water and 10 J below.
	for _, check := range []struct{ reduced, surface, bottom, oxic, uptake float64 }{
		{1, 8 - 1.5, 8 - 2.7, 0.4, 1},       // in the boundary layer: 5.3 < 10
		{4, 8 - 6, 0, (8 - 6) * 0.5 / 6, 0}, // in the water: 2 < 4.8
		{6, 0, 0, 0, 0},                     // not at all: 9 > 8
	} {
		c.Bed.Reduced = check.reduced
		p := c.Steady()
		within(t, p.Surface, check.surface, 1e-12)
		within(t, p.Bottom, check.bottom, 1e-12)
		within(t, p.Oxic, check.oxic, 1e-12)
		within(t, p.Bed.Uptake, check.uptake, 1e-12)
		within(t, p.At(0.1), max(0, check.surface-1.5*check.reduced*0.1/0.5), 1e-12)
		if p.Bed.Penetration != 0 || p.Bed.Surface != 0 {
			t.Errorf("J %g: oxygen in the bed: %+v", check.reduced, p.Bed)
		}
	}
}

// TestColumn_monotone: whatever helps or hurts does so at the bottom.
func TestColumn_monotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawColumn(t)
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		bottom := c.Steady().Bottom
		for what, change := range map[string]func(*bed.Column){
			"saturation":       func(c *bed.Column) { c.Saturation *= more },
			"transfer":         func(c *bed.Column) { c.Transfer *= more },
			"mixing":           func(c *bed.Column) { c.Mixing *= more },
			"less depth":       func(c *bed.Column) { c.Depth /= more },
			"less respiration": func(c *bed.Column) { c.Respiration /= more },
			"less bed":         func(c *bed.Column) { c.AreaRatio /= more },
			"less reduced":     func(c *bed.Column) { c.Bed.Reduced /= more },
			"less demand": func(c *bed.Column) {
				layers := append([]bed.Layer(nil), c.Bed.Layers...)
				for i := range layers {
					layers[i].Demand /= more
				}
				c.Bed.Layers = layers
			},
		} {
			helped := c
			change(&helped)
			if got := helped.Steady().Bottom; got < bottom-1e-9 {
				t.Fatalf("%s by %g: bottom from %g to %g", what, more, bottom, got)
			}
		}
	})
}

func drawColumn(t *rapid.T) bed.Column {
	b := drawBed(t)
	return bed.Column{
		Saturation:  rapid.Float64Range(5, 15).Draw(t, "saturation"),
		Transfer:    math.Exp(rapid.Float64Range(-3, 2.3).Draw(t, "ln kL")),
		Mixing:      math.Exp(rapid.Float64Range(-16, -6).Draw(t, "ln Kz")) / perSecond,
		Depth:       rapid.Float64Range(0.05, 1).Draw(t, "H"),
		Respiration: rapid.Float64Range(0, 3).Draw(t, "Rw"),
		AreaRatio:   rapid.Float64Range(0.2, 3).Draw(t, "areas"),
		Bed:         b,
	}
}

// close holds two numbers against each other to nine digits of the larger, or 1e-9.
func close(t *rapid.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-8*max(1, math.Abs(want), math.Abs(got))) {
		t.Fatalf("%s: %.12g, want %.12g", what, got, want)
	}
}
