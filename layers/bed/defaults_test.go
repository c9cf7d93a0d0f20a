package bed_test

import (
	"regexp"
	"strings"
	"testing"

	"panecore/layers/bed"
)

// Defaults and what they are anchored on: rows of testdata/checks/bed.csv.
var defaultChecks = []check{
	{"dbl_default", func(t *testing.T, r row) {
		want, ends := numbers(t, r.value), numbers(t, r.tolerance)
		for i, m := range []bed.Motion{bed.Still, bed.Gentle} {
			got := m.Exchange().Boundary
			within(t, got.Default/bed.Millimeter, want[i], 1e-12)
			within(t, got.Low/bed.Millimeter, ends[2*i], 1e-12)
			within(t, got.High/bed.Millimeter, ends[2*i+1], 1e-12)
		}
	}},
	{"dbl_jdm_slow|dbl_glud|dbl_still", func(t *testing.T, r row) {
		for _, mm := range numbers(t, r.value) {
			still := bed.Still.Exchange().Boundary
			inside(t, "boundary layer, m", mm*bed.Millimeter, still.Low, still.High)
		}
	}},
	{"dbl_uptake_lo|dbl_uptake_hi", func(t *testing.T, r row) {
		const perMinute = 1e-9 * 1e4 * 24 * 60 // nmol/cm² a minute in mol/m²/d
		r.near(t, numbers(t, r.inputs)[0]*perMinute*bed.OxygenMolarMass)
	}},
	{"r_four", spanHolds(func() float64 { return bed.LooseMulm.Properties().Demand.Default })},
	// Oxygen demand of river, lake and sludge beds, against that of mulm at 20 °C: its
	// default, or for one mean or maximum, its whole range.
	{"sod_rivermud|sod_tualatin_trib|sod_tualatin|sod_ziya_total|sod_ziya_diff|sod_eutrophic", spanHolds(mulmUptake)},
	{"sod_willamette|sod_deep", func(t *testing.T, r row) {
		low, high := r.span(t)
		p := bed.LooseMulm.Properties()
		inside(t, "uptake of slow mulm", uptake(p.Porosity.Default, bed.SettledMulm.Properties().Demand.Low), 0, high)
		inside(t, "uptake of hungry mulm", uptake(p.Porosity.Default, p.Demand.High), low, 2*high+1)
	}},
	{"jred_eutrophic", func(t *testing.T, r row) {
		reduced := bed.Assumed().Reduced
		inside(t, "reduced substances of eutrophic lakes", r.number(t), reduced.Default, reduced.High)
	}},
	{"tan_pw_winter|tan_pw_summer", spanHolds(func() float64 { return bed.LooseMulm.Properties().Ammonia.Default })},
	{"s_pw_range", spanHolds(func() float64 { return bed.BlackReduced.Properties().Sulfide.High })},
	{"s_pw_rice", func(t *testing.T, r row) {
		low, high := r.span(t)
		loose, settled := bed.LooseMulm.Properties().Sulfide, bed.SettledMulm.Properties().Sulfide
		if loose.Default >= low || settled.Default <= high {
			t.Errorf("pore sulphide %g and %g mg/L: want plants to bear loose mulm and to suffer in settled", loose.Default, settled.Default)
		}
	}},
	{"tan_ads", func(t *testing.T, r row) {
		k := bed.Assumed().Exchangeable
		inside(t, "exchangeable over dissolved in marine mud", r.number(t), k.Default, k.High)
	}},
	{"tan_desorb", func(t *testing.T, r row) {
		within(t, 100*bed.Assumed().Desorbed.Default, numbers(t, r.value)[1], 0)
	}},
	{"avs_lakes", func(t *testing.T, r row) {
		v := numbers(t, r.value)
		settled := bed.SettledMulm.Properties().IronSulfide
		within(t, settled.Default, v[0], 0.5)
		inside(t, "the most FeS of mulm", settled.High, v[1], v[2])
	}},
	{"avs_all90|avs_slow", func(t *testing.T, r row) {
		settled := bed.SettledMulm.Properties().IronSulfide
		inside(t, "much FeS", r.number(t), settled.Default, settled.High)
	}},
	{"avs_albufera", func(t *testing.T, r row) {
		low, high := r.span(t)
		black := bed.BlackReduced.Properties().IronSulfide
		inside(t, "FeS of black mud", low, black.Low, black.High)
		inside(t, "FeS of black mud", high, black.Low, black.High)
	}},
	{"rho_arctic", func(t *testing.T, r row) {
		low, high := r.span(t) // g/cm³
		loose, settled := bed.LooseMulm.Properties().Solids, bed.SettledMulm.Properties().Solids
		within(t, loose.Low, 1000*low, 1)
		inside(t, "dry matter of lake mud", 1000*high, settled.Low, loose.High)
	}},
	{"por_from_w", porosityInside(bed.LooseMulm)},
	{"por_catfish_top|por_catfish_low", porosityInside(bed.SettledMulm)},
	{"por_sand", func(t *testing.T, r row) {
		low, high := r.span(t)
		sand := bed.Sand.Properties().Porosity
		inside(t, "loosest sand", sand.High, low, high)
		inside(t, "densest sand", sand.Low, low, high)
		settled := regexp.MustCompile(`settled aquarium sand (.*)\)`).FindStringSubmatch(r.value)[1]
		low, high = span(t, settled)
		inside(t, "sand", sand.Default, low, high)
	}},
	{"por_clay", func(t *testing.T, r row) {
		v := numbers(t, r.value)
		clay := bed.Soil.Properties().Porosity
		inside(t, "soil or clay", clay.Default, v[2], v[3])
		within(t, clay.High, v[3], 0)
	}},
}

// bedContext lists the rows that no formula or default here is held to, and why.
var bedContext = map[string]string{
	"opd_pond":       "in words only",
	"rmax_model_dep": "how far kinetics differ; the model has one",
	"respond_time":   "in words; why the bed may be taken as steady",
	"dbl_jdm_fast":   "water faster than in any tank of ours",
	"sod_sludge32":   "brought to 20 °C in sod_sludge20",
	"sod_suspend":    "demand of suspended sludge: a release counts its debt instead",
	"sod_table":      "a textbook's classes, from memory",
	"nh3_pw_summer":  "un-ionised: follows from total, pH and temperature",
	"pw_stress":      "a share of samples",
	"tan_ads2":       "partition coefficients of marine mud, in mL/g",
	"tan_ads3":       "an estuary of low salinity that held far more; named in the doc of Assumed",
	"avs_ooze":       "a drained acid soil, far from any tank",
	"fe2_o2":         "dissolved iron is not in the model",
	"por_gravel":     "gravel counts as sand here",
}

// spanHolds holds a number of ours inside the row's range.
func spanHolds(of func() float64) func(*testing.T, row) {
	return func(t *testing.T, r row) {
		low, high := r.span(t)
		inside(t, r.quantity, of(), low, high)
	}
}

func porosityInside(m bed.Material) func(*testing.T, row) {
	return func(t *testing.T, r row) {
		p := m.Properties().Porosity
		inside(t, r.quantity, r.number(t), p.Low, p.High)
	}
}

// uptake is that of a deep bed at 20 °C under 8 mg/L, in gently moved water, g/m²/d.
func uptake(porosity, demand float64) float64 {
	return bed.Bed{
		Layers:      []bed.Layer{{Thickness: 1, Porosity: porosity, Demand: demand}},
		Diffusivity: bed.OxygenDiffusivity(20), Boundary: bed.Gentle.Exchange().Boundary.Default,
	}.Profile(8).Uptake
}

func mulmUptake() float64 {
	p := bed.LooseMulm.Properties()
	return uptake(p.Porosity.Default, p.Demand.Default)
}

// The table of materials, an assumption, number by number: porosity, dry matter in
// kg/m³, oxygen demand at 20 °C in g/m³/d, pore ammonia in mg N/L, pore sulphide in
// mg S/L, FeS in µmol/g.
func TestMaterials_asAssumed(t *testing.T) {
	for material, want := range map[bed.Material]string{
		bed.LooseMulm:    "0.95 (0.90-0.98) | 50 (12-150) | 400 (100-2000) | 2 (0.3-10) | 0.1 (0-1) | 5 (0-20)",
		bed.SettledMulm:  "0.88 (0.80-0.95) | 200 (80-400) | 150 (30-600) | 4 (0.5-15) | 0.5 (0-5) | 11 (1-100)",
		bed.RustFront:    "0.80 (0.40-0.95) | 300 (80-1500) | 100 (30-500) | 2 (0.3-10) | 0 (0-0.1) | 1 (0-5)",
		bed.BlackReduced: "0.70 (0.40-0.90) | 600 (200-1500) | 200 (50-1500) | 8 (1-20) | 2 (0.1-15) | 15 (3-100)",
		bed.GreyReduced:  "0.60 (0.40-0.85) | 900 (300-1500) | 60 (10-300) | 5 (0.5-15) | 0.3 (0-3) | 5 (0.5-20)",
		bed.Sand:         "0.40 (0.35-0.45) | 1600 (1450-1750) | 20 (2-100) | 0.5 (0.05-3) | 0.02 (0-0.5) | 0.5 (0-3)",
		bed.Soil:         "0.55 (0.45-0.70) | 1150 (800-1450) | 60 (10-300) | 4 (0.5-20) | 0.3 (0-3) | 5 (0.5-40)",
	} {
		p := material.Properties()
		cells := strings.Split(want, " | ")
		for i, got := range []bed.Range{p.Porosity, p.Solids, p.Demand, p.Ammonia, p.Sulfide, p.IronSulfide} {
			v := numbers(t, cells[i])
			if got != (bed.Range{Low: v[1], Default: v[0], High: v[2]}) {
				t.Errorf("material %d, column %d: %v, want %s", material, i, got, cells[i])
			}
		}
	}
}

// TestDefaults_inOrder: every default lies in its range, and Validate lets all through.
func TestDefaults_inOrder(t *testing.T) {
	var ranges []bed.Range
	for m := bed.LooseMulm; m <= bed.Soil; m++ {
		p := m.Properties()
		ranges = append(ranges, p.Porosity, p.Solids, p.Demand, p.Ammonia, p.Sulfide, p.IronSulfide)
		for _, celsius := range []float64{0, 20, 45} {
			b := bed.Bed{Layers: []bed.Layer{m.Layer(0.02, celsius)}, Diffusivity: bed.OxygenDiffusivity(celsius)}
			if err := b.Validate(); err != nil {
				t.Errorf("material %d at %g °C: %v", m, celsius, err)
			}
		}
	}
	a := bed.Assumed()
	ranges = append(ranges, a.Respiration, a.Animals, a.Reduced, a.Exchangeable, a.Desorbed, bed.Stir.Reaching(), bed.Siphon.Reaching())
	for m := bed.Still; m <= bed.Aerated; m++ {
		e := m.Exchange()
		ranges = append(ranges, e.Transfer, e.MixingLit, e.MixingDark, e.Boundary)
		for _, kz := range []bed.Range{e.MixingLit, e.MixingDark} {
			c := fixedDemand()
			c.Transfer, c.Mixing, c.Bed.Boundary, c.Bed.Reduced = e.Transfer.High, kz.Low, e.Boundary.High, a.Reduced.High
			if err := c.Validate(); err != nil {
				t.Errorf("motion %d: %v", m, err)
			}
		}
		if m > bed.Still {
			calmer := (m - 1).Exchange()
			if e.Transfer.Default <= calmer.Transfer.Default || e.MixingLit.Default < calmer.MixingLit.Default || e.Boundary.Default > calmer.Boundary.Default {
				t.Errorf("motion %d moves less than the one before", m)
			}
		}
	}
	for _, r := range ranges {
		if !(0 <= r.Low && r.Low <= r.Default && r.Default <= r.High) {
			t.Errorf("range %v out of order", r)
		}
	}
}

// The ranges without a row of their own, an assumption: as they stand in the model.
func TestAssumed_asAssumed(t *testing.T) {
	a := bed.Assumed()
	for what, r := range map[string][2]bed.Range{
		"respiration, g/m³/d":        {a.Respiration, {Low: 0.1, Default: 0.5, High: 3}},
		"animals, g/kg/d":            {a.Animals, {Low: 0.2 * 24, Default: 0.3 * 24, High: 0.5 * 24}},
		"reduced substances, g/m²/d": {a.Reduced, {Low: 0, Default: 0.1, High: 0.4}},
		"exchangeable ammonium":      {a.Exchangeable, {Low: 0, Default: 1, High: 4}},
		"stir":                       {bed.Stir.Reaching(), {Low: 1, Default: 1, High: 1}},
		"loose mulm, mm":             {{Default: bed.LooseDepth / bed.Millimeter}, {Default: 10}},
		"siphon":                     {bed.Siphon.Reaching(), {Low: 0.1, Default: 0.2, High: 0.3}},
	} {
		for _, pair := range [][2]float64{{r[0].Low, r[1].Low}, {r[0].Default, r[1].Default}, {r[0].High, r[1].High}} {
			if pair[0] < pair[1]*(1-1e-12) || pair[0] > pair[1]*(1+1e-12) {
				t.Errorf("%s: %v, want %v", what, r[0], r[1])
			}
		}
	}
}
