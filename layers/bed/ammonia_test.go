package bed_test

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"panecore/layers/bed"
)

// Relative tolerances against printed values.
const (
	emersonTolerance = 0.005 // Emerson et al. 1975 and what is computed from it
	coarseTolerance  = 0.03  // tables printed to two digits or by older constants
)

// TestAmmonia_publishedTables checks every row on ammonia of
// testdata/checks/water.csv, which names the source beside each value.
func TestAmmonia_publishedTables(t *testing.T) {
	rows := ammoniaRows(t)
	if len(rows) < 90 {
		t.Fatalf("got %d rows on ammonia, want the whole table", len(rows))
	}
	for _, row := range rows {
		t.Run(row.id, func(t *testing.T) { row.check(t) })
	}
}

func (r row) check(t *testing.T) {
	switch {
	case r.id == "nh3_pka_formula":
		if want := "pKa = 0.09018 + 2729.92/T"; r.value != want {
			t.Errorf("formula %q, want %q", r.value, want)
		}
	case r.id == "nh3_pka_typo":
		if got := bed.AmmoniaPKa(r.celsius(t)); math.Abs(got-r.number(t)) < 0.003 {
			t.Errorf("pKa %.4f is that of the misprinted constant", got)
		}
	case strings.HasPrefix(r.id, "nh3_pka_"):
		within(t, bed.AmmoniaPKa(r.celsius(t)), r.number(t), 0.003)
	case r.id == "nh3_fa16_bad32", r.id == "nh3_old_8_20":
		got, bad := bed.UnionisedShare(r.pH(t), r.celsius(t)), r.share(t)
		if math.Abs(got-bad) < coarseTolerance*bad {
			t.Errorf("share %.5f agrees with a print known to be wrong, %.5f", got, bad)
		}
	case strings.HasPrefix(r.id, "nh3_f_"), strings.HasPrefix(r.id, "nh3_pub_"):
		want := r.share(t)
		within(t, bed.UnionisedShare(r.pH(t), r.celsius(t)), want, emersonTolerance*want)
	case strings.HasPrefix(r.id, "nh3_fa16_"), strings.HasPrefix(r.id, "nh3_trussell_"):
		got := bed.UnionisedShare(r.pH(t), r.celsius(t))
		within(t, got, r.share(t), coarseTolerance*got)
	case strings.HasPrefix(r.id, "nh3_ratio_"):
		low, high := r.pHRange(t)
		within(t, bed.UnionisedShare(high, r.celsius(t))/bed.UnionisedShare(low, r.celsius(t)), r.number(t), 0.01)
	case r.id == "nh3_mass":
		within(t, bed.NH3PerN, r.number(t), 0.0005)
	case r.id == "eifac_nh3":
		within(t, bed.EIFACLimitNH3, r.number(t), 0)
	case r.id == "eifac_nh3n":
		within(t, bed.EIFACLimitN, r.number(t), 0.0001)
	case strings.HasPrefix(r.id, "eifac_tan_"):
		want := r.number(t)
		within(t, bed.EIFACLimitN/bed.UnionisedShare(r.pH(t), r.celsius(t)), want, emersonTolerance*want)
	default:
		t.Errorf("no check for row %s", r.id)
	}
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

// A row is one published value of testdata/checks/water.csv.
type row struct{ id, inputs, value, unit string }

func ammoniaRows(t *testing.T) []row {
	t.Helper()
	file, err := os.Open("../../testdata/checks/water.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, r := range records {
		if strings.HasPrefix(r[0], "nh3_") || strings.HasPrefix(r[0], "eifac_") {
			rows = append(rows, row{id: r[0], inputs: r[2], value: r[3], unit: r[4]})
		}
	}
	return rows
}

var (
	pHInput          = regexp.MustCompile(`pH=([\d.]+)`)
	pHRangeInput     = regexp.MustCompile(`pH (\d) to (\d)`)
	temperatureInput = regexp.MustCompile(`t=([\d.]+) C`)
)

func (r row) number(t *testing.T) float64 { return number(t, r.value) }

func (r row) pH(t *testing.T) float64 { return number(t, match(t, pHInput, r.inputs)[1]) }

func (r row) celsius(t *testing.T) float64 { return number(t, match(t, temperatureInput, r.inputs)[1]) }

func (r row) pHRange(t *testing.T) (low, high float64) {
	m := match(t, pHRangeInput, r.inputs)
	return number(t, m[1]), number(t, m[2])
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

func match(t *testing.T, pattern *regexp.Regexp, s string) []string {
	t.Helper()
	m := pattern.FindStringSubmatch(s)
	if m == nil {
		t.Fatalf("nothing like %s in %q", pattern, s)
	}
	return m
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func within(t *testing.T, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("got %.6g, want %.6g within %.2g", got, want, tolerance)
	}
}
