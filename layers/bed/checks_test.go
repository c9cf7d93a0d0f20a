package bed_test

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A row is one value of testdata/checks/water.csv or bed.csv, with its source and how
// the value was come by: read, computed, from memory or assumed.
type row struct {
	id, quantity, inputs, value, unit, tolerance, source, provenance string
}

// A check holds the package against the rows whose whole id its pattern matches.
type check struct {
	ids string
	run func(*testing.T, row)
}

// TestChecks_water checks every row of testdata/checks/water.csv.
func TestChecks_water(t *testing.T) {
	runChecks(t, readRows(t, "water.csv"), 306, slices.Concat(ammoniaChecks, limitChecks, waterChecks, columnChecks), waterContext)
}

// TestChecks_bed checks every row of testdata/checks/bed.csv.
func TestChecks_bed(t *testing.T) {
	runChecks(t, readRows(t, "bed.csv"), 128, slices.Concat(profileChecks, defaultChecks, releaseChecks), bedContext)
}

// runChecks holds every row to the one check that its id fits. A row without a check
// must be listed as context, and a check or a context without a row is one too many.
func runChecks(t *testing.T, rows []row, want int, checks []check, context map[string]string) {
	if len(rows) != want {
		t.Errorf("got %d rows, want %d", len(rows), want)
	}
	used := make([]int, len(checks))
	checked, listed := 0, 0
	for _, r := range rows {
		if !slices.ContainsFunc(provenances, func(word string) bool { return strings.HasPrefix(r.provenance, word) }) {
			t.Errorf("row %s: provenance %q begins with none of %q", r.id, r.provenance, provenances)
		}
		fitting := fittingChecks(checks, r.id)
		if reason, ok := context[r.id]; ok {
			if listed++; reason == "" || len(fitting) > 0 {
				t.Errorf("row %s: context %q, and %d checks", r.id, reason, len(fitting))
			}
			continue
		}
		if len(fitting) != 1 {
			t.Errorf("row %s fits %d checks, want one", r.id, len(fitting))
			continue
		}
		used[fitting[0]]++
		checked++
		t.Run(r.id, func(t *testing.T) {
			checks[fitting[0]].run(t, r)
			if t.Failed() {
				t.Logf("%s, %s: %s %s (%s; %s)", r.quantity, r.inputs, r.value, r.unit, r.source, r.provenance)
			}
		})
	}
	if checked+listed != len(rows) || listed != len(context) {
		t.Errorf("%d rows checked and %d of %d context rows met, of %d rows", checked, listed, len(context), len(rows))
	}
	for i, n := range used {
		if n == 0 {
			t.Errorf("check %s has no row", checks[i].ids)
		}
	}
	t.Logf("%d rows checked, %d context only", checked, listed)
}

// provenances are the words that say how a value was come by.
var provenances = []string{"read", "computed here", "derived here", "from memory", "assumption"}

func fittingChecks(checks []check, id string) []int {
	var fitting []int
	for i, c := range checks {
		if regexp.MustCompile("^(?:" + c.ids + ")$").MatchString(id) {
			fitting = append(fitting, i)
		}
	}
	return fitting
}

func readRows(t *testing.T, name string) []row {
	t.Helper()
	file, err := os.Open("../../testdata/checks/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, r := range records[1:] {
		rows = append(rows, row{r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7]})
	}
	return rows
}

// near holds a number against the row's value, within the tolerance the row states.
func (r row) near(t *testing.T, got float64) {
	t.Helper()
	within(t, got, r.number(t), r.allowance(t))
}

var toleranceStated = regexp.MustCompile(`^([\d.e-]+)(%?)`)

// allowance is the row's tolerance in the unit of its value: a number, or a percentage
// of the value.
func (r row) allowance(t *testing.T) float64 {
	t.Helper()
	if r.tolerance == "exact" {
		return 0
	}
	m := match(t, toleranceStated, r.tolerance)
	if m[2] == "%" {
		return number(t, m[1]) / 100 * math.Abs(r.number(t))
	}
	return number(t, m[1])
}

// sharp holds a number against the row's value to the last digit printed, for values
// that were computed from the very formula and whose tolerance allows for others.
func (r row) sharp(t *testing.T, got float64) {
	t.Helper()
	mantissa, exponent, _ := strings.Cut(r.value, "e")
	power := 0
	if exponent != "" {
		power = int(number(t, exponent))
	}
	_, decimals, _ := strings.Cut(mantissa, ".")
	within(t, got, r.number(t), 0.51*math.Pow10(power-len(decimals)))
}

// formula holds the row's formula, as printed, and the package against the same
// copy of it, over the temperatures 0 to 30 °C and whatever else it takes.
func (r row) formula(t *testing.T, printed string, got, want func(celsius float64) float64) {
	t.Helper()
	if r.value != printed {
		t.Errorf("formula %q, want %q", r.value, printed)
	}
	for celsius := 0.0; celsius <= 30; celsius += 2.5 {
		if g, w := got(celsius), want(celsius); !(math.Abs(g-w) <= 1e-9*math.Abs(w)) {
			t.Errorf("at %g °C: got %.12g, want %.12g", celsius, g, w)
		}
	}
}

var (
	pHInput          = regexp.MustCompile(`pH=([\d.]+)`)
	pHRangeInput     = regexp.MustCompile(`pH (\d) to (\d)`)
	temperatureInput = regexp.MustCompile(`t=([\d.]+) C`)
	rangeText        = regexp.MustCompile(`(\d[\d.e-]*?)\.\.(\d[\d.e-]*)`)
	numberText       = regexp.MustCompile(`\d+(?:\.\d+)?(?:e-?\d+)?`)
)

func (r row) number(t *testing.T) float64 { t.Helper(); return number(t, r.value) }

func (r row) pH(t *testing.T) float64 { t.Helper(); return r.input(t, pHInput) }

func (r row) celsius(t *testing.T) float64 { t.Helper(); return r.input(t, temperatureInput) }

func (r row) input(t *testing.T, pattern *regexp.Regexp) float64 {
	t.Helper()
	return number(t, match(t, pattern, r.inputs)[1])
}

// span is the row's value where it is a range.
func (r row) span(t *testing.T) (low, high float64) { t.Helper(); return span(t, r.value) }

func span(t *testing.T, s string) (low, high float64) {
	t.Helper()
	m := match(t, rangeText, s)
	return number(t, m[1]), number(t, m[2])
}

// numbers are all numbers of a text, in their order.
func numbers(t *testing.T, s string) []float64 {
	t.Helper()
	var list []float64
	for _, m := range numberText.FindAllString(s, -1) {
		list = append(list, number(t, m))
	}
	return list
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

// inside holds that a number lies in a range.
func inside(t *testing.T, what string, value, low, high float64) {
	t.Helper()
	if !(low <= value && value <= high) {
		t.Errorf("%s is %.4g, want it in %.4g to %.4g", what, value, low, high)
	}
}
