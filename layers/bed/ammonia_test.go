package bed_test

import (
	"math"
	"testing"

	"panecore/layers/bed"
)

// Relative tolerances against printed values.
const (
	emersonTolerance = 0.005 // Emerson et al. 1975 and what is computed from it
	coarseTolerance  = 0.03  // tables printed to two digits or by older constants
)

// Un-ionised ammonia: rows of testdata/checks/water.csv.
var ammoniaChecks = []check{
	{"nh3_pka_formula", func(t *testing.T, r row) {
		r.formula(t, "pKa = 0.09018 + 2729.92/T", bed.AmmoniaPKa,
			func(celsius float64) float64 { return 0.09018 + 2729.92/(celsius+273.15) })
	}},
	{"nh3_pka_typo", func(t *testing.T, r row) {
		if got := bed.AmmoniaPKa(r.celsius(t)); math.Abs(got-r.number(t)) < 0.003 {
			t.Errorf("pKa %.4f is that of the misprinted constant", got)
		}
	}},
	{`nh3_pka_\d+`, func(t *testing.T, r row) { r.near(t, bed.AmmoniaPKa(r.celsius(t))) }},
	{"nh3_fa16_bad32|nh3_old_8_20", func(t *testing.T, r row) {
		got, bad := bed.UnionisedShare(r.pH(t), r.celsius(t)), r.share(t)
		if math.Abs(got-bad) < coarseTolerance*bad {
			t.Errorf("share %.5f agrees with a print known to be wrong, %.5f", got, bad)
		}
	}},
	{"nh3_f_.*|nh3_pub_.*", func(t *testing.T, r row) {
		want := r.share(t)
		within(t, bed.UnionisedShare(r.pH(t), r.celsius(t)), want, emersonTolerance*want)
	}},
	{`nh3_fa16_\d.*|nh3_trussell_.*`, func(t *testing.T, r row) {
		got := bed.UnionisedShare(r.pH(t), r.celsius(t))
		within(t, got, r.share(t), coarseTolerance*got)
	}},
	{"nh3_ratio_.*", func(t *testing.T, r row) {
		m := match(t, pHRangeInput, r.inputs)
		low, high := number(t, m[1]), number(t, m[2])
		r.near(t, bed.UnionisedShare(high, r.celsius(t))/bed.UnionisedShare(low, r.celsius(t)))
	}},
	{"nh3_mass", func(t *testing.T, r row) { r.near(t, bed.NH3PerN) }},
	{"eifac_nh3", func(t *testing.T, r row) { within(t, bed.EIFACLimitNH3, r.number(t), 0) }},
	{"eifac_nh3n", func(t *testing.T, r row) { r.near(t, bed.EIFACLimitN) }},
	{"eifac_tan_.*", func(t *testing.T, r row) {
		r.near(t, bed.EIFACLimitN/bed.UnionisedShare(r.pH(t), r.celsius(t)))
	}},
}

// share is the row's un-ionised part of total ammonia, 0 to 1.
func (r row) share(t *testing.T) float64 {
	t.Helper()
	switch r.unit {
	case "%":
		return r.number(t) / 100
	case "fraction":
		return r.number(t)
	}
	t.Fatalf("row %s: no share in unit %q", r.id, r.unit)
	return 0
}

// The tenfold rule is common practice, no source: total ammonia bites about ten
// times harder a pH unit from 6 to 8. The formula gives 9.9 and 9.5.
func TestUnionisedShare_tenfoldRule(t *testing.T) {
	for _, unit := range []struct{ low, fold float64 }{{6, 9.9}, {7, 9.5}} {
		got := bed.UnionisedShare(unit.low+1, 25) / bed.UnionisedShare(unit.low, 25)
		within(t, got, unit.fold, 0.05)
		within(t, got, 10, 0.5)
	}
}

func TestUnionisedShare_limits(t *testing.T) {
	if low, high := bed.UnionisedShare(4, 0), bed.UnionisedShare(11, 45); low <= 0 || high >= 1 {
		t.Errorf("shares %g and %g, want them between 0 and 1", low, high)
	}
	within(t, bed.UnionisedShare(bed.AmmoniaPKa(25), 25), 0.5, 1e-12)
}
