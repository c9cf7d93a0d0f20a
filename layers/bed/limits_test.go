package bed_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"panecore/layers/bed"
)

var twoDigits = regexp.MustCompile(`to 2 s\.f\. = ([\d.]+)`)

// Published limits: rows of testdata/checks/water.csv.
var limitChecks = []check{
	{"epa_cmc_formula", func(t *testing.T, r row) {
		r.formula(t, "0.7249*(0.0114/(1+10^(7.204-pH))+1.6181/(1+10^(pH-7.204)))*min(51.93, 23.12*10^(0.036*(20-t)))",
			func(celsius float64) float64 { return bed.AmmoniaAcuteLimit(7.7, celsius) },
			func(celsius float64) float64 {
				steps := 0.0114/(1+math.Pow(10, 7.204-7.7)) + 1.6181/(1+math.Pow(10, 7.7-7.204))
				return 0.7249 * steps * math.Min(51.93, 23.12*math.Pow(10, 0.036*(20-celsius)))
			})
	}},
	{"epa_ccc_formula", func(t *testing.T, r row) {
		r.formula(t, "0.8876*(0.0278/(1+10^(7.688-pH))+1.1994/(1+10^(pH-7.688)))*2.126*10^(0.028*(20-max(t,7)))",
			func(celsius float64) float64 { return bed.AmmoniaChronicLimit(7.7, celsius) },
			func(celsius float64) float64 {
				steps := 0.0278/(1+math.Pow(10, 7.688-7.7)) + 1.1994/(1+math.Pow(10, 7.7-7.688))
				return 0.8876 * steps * 2.126 * math.Pow(10, 0.028*(20-math.Max(celsius, 7)))
			})
	}},
	{"epa_(cmc|ccc)_7_20_print", func(t *testing.T, r row) {
		within(t, rounded(r.ammoniaLimit(7, 20)), r.number(t), 1e-9)
	}},
	{`epa_(cmc|ccc)_\dp\d_\d\d`, func(t *testing.T, r row) {
		got := r.ammoniaLimit(r.pH(t), r.celsius(t))
		r.near(t, got)
		within(t, rounded(got), number(t, match(t, twoDigits, r.tolerance)[1]), 1e-9)
	}},
	{"epa_ccc_ratio", func(t *testing.T, r row) {
		r.near(t, bed.AmmoniaChronicLimit(7, 25)/bed.AmmoniaChronicLimit(8, 25))
	}},
	{"h2s_crit", func(t *testing.T, r row) { within(t, 1000*bed.SulfideLimitH2S, r.number(t), 1e-12) }},
	{"do_crit_nonsalmonid", func(t *testing.T, r row) {
		want := numbers(t, r.value)
		for i, got := range []float64{bed.OxygenLimitMonth, bed.OxygenLimitWeek, bed.OxygenLimitDay} {
			within(t, got, want[i], 0)
		}
	}},
	{"do_crit_early", func(t *testing.T, r row) {
		want := numbers(t, r.value)
		for i, got := range []float64{bed.OxygenLimitYoungWeek, bed.OxygenLimitYoungDay} {
			within(t, got, want[i], 0)
		}
	}},
}

// ammoniaLimit is the acute (cmc) or the chronic (ccc) limit, as the row's id says.
func (r row) ammoniaLimit(pH, celsius float64) float64 {
	if r.id[:len("epa_cmc")] == "epa_cmc" {
		return bed.AmmoniaAcuteLimit(pH, celsius)
	}
	return bed.AmmoniaChronicLimit(pH, celsius)
}

// rounded gives a number to two significant figures.
func rounded(x float64) float64 {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 2, 64), 64)
	return short
}
