package judge_test

import (
	"math"
	"strings"
	"testing"

	"panecore/reports/judge"
)

// Total ammonia that holds 0.025 mg NH3/L at 25 °C: EIFAC 1970, Technical Paper
// 11, divided by the share of Emerson et al. 1975 (testdata/checks/water.csv,
// rows eifac_tan_*).
func TestReadAmmonia_totalAtLimit(t *testing.T) {
	for _, check := range []struct{ pH, total float64 }{
		{6.5, 11.49}, {7.0, 3.647}, {7.5, 1.167}, {8.0, 0.3832}, {8.5, 0.1352},
	} {
		below, err := judge.ReadAmmonia(0.99*check.total, check.pH, 25)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(below.TotalAtLimit-check.total) > 0.005*check.total {
			t.Errorf("pH %g: total at the limit %.4g, want %.4g mg N/L", check.pH, below.TotalAtLimit, check.total)
		}
		above, err := judge.ReadAmmonia(1.01*check.total, check.pH, 25)
		if err != nil {
			t.Fatal(err)
		}
		if below.OverLimit || !above.OverLimit {
			t.Errorf("pH %g: over the limit %v at 99 %% and %v at 101 %% of it", check.pH, below.OverLimit, above.OverLimit)
		}
	}
}

// Share of Emerson et al. 1975 at pH 8 and 25 °C, 5.366 % (row nh3_f_8p0_25);
// 1.2159 g NH3 hold one gram of nitrogen (row nh3_mass).
func TestReadAmmonia_masses(t *testing.T) {
	got, err := judge.ReadAmmonia(2, 8, 25)
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 * 0.05366; math.Abs(got.UnionisedN-want) > 0.005*want {
		t.Errorf("un-ionised %.4g, want %.4g mg N/L", got.UnionisedN, want)
	}
	if want := 2 * 0.05366 * 1.2159; math.Abs(got.UnionisedNH3-want) > 0.005*want {
		t.Errorf("un-ionised %.4g, want %.4g mg NH3/L", got.UnionisedNH3, want)
	}
}

func TestReadAmmonia_namesEveryNumberOutOfRange(t *testing.T) {
	for _, check := range []struct {
		total, pH, celsius float64
		want               []string
	}{
		{50.1, 8, 25, []string{"found total ammonia 50.1 mg N/L, want 0 to 50 mg N/L"}},
		{-0.1, 8, 25, []string{"found total ammonia -0.1 mg N/L, want 0 to 50 mg N/L"}},
		{1, 3.9, 25, []string{"found pH 3.9, want 4 to 11"}},
		{1, 11.1, 46, []string{"found pH 11.1, want 4 to 11", "found temperature 46 °C, want 0 to 45 °C"}},
		{1, 8, -1, []string{"found temperature -1 °C, want 0 to 45 °C"}},
		{math.NaN(), math.Inf(1), 25, []string{"found total ammonia NaN mg N/L, want 0 to 50 mg N/L", "found pH +Inf, want 4 to 11"}},
	} {
		_, err := judge.ReadAmmonia(check.total, check.pH, check.celsius)
		if want := strings.Join(check.want, "\n"); err == nil || err.Error() != want {
			t.Errorf("%g, %g, %g: error %v, want %s", check.total, check.pH, check.celsius, err, want)
		}
	}
}

func TestReadAmmonia_edgesOfTheRange(t *testing.T) {
	for _, edge := range [][3]float64{{0, 4, 0}, {50, 11, 45}} {
		if _, err := judge.ReadAmmonia(edge[0], edge[1], edge[2]); err != nil {
			t.Errorf("%v: %v", edge, err)
		}
	}
}
