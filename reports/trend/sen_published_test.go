package trend

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/reports/internal/testbeds"
)

// readTrends reads the worked examples of testdata/checks/trends.csv, each with its
// source and provenance, as value and inputs by id.
func readTrends(t *testing.T) (values map[string]string, inputs map[string]string) {
	t.Helper()
	file, err := os.Open("../../testdata/checks/trends.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	values, inputs = map[string]string{}, map[string]string{}
	for _, row := range rows[1:] {
		values[row[0]], inputs[row[0]] = row[3], row[2]
	}
	return values, inputs
}

// numbers reads a list such as "1,2.5, 3".
func numbers(t *testing.T, list string) (out []float64) {
	t.Helper()
	for field := range strings.SplitSeq(list, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(field), 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x)
	}
	return out
}

func number(t *testing.T, s string) float64 { return numbers(t, s)[0] }

// TestPooledSlope_sen1968 is the worked example of Sen 1968, J. Am. Stat. Assoc.
// 63:1379, its 93 % limits by exact Kendall ranks.
func TestPooledSlope_sen1968(t *testing.T) {
	want, _ := readTrends(t)
	s, ok := pooledSlope([]senBlock{{T: []float64{1, 2, 3, 4, 10, 12, 18}, Y: []float64{9, 15, 19, 20, 45, 55, 78}}}, 0.93)
	if !ok || !s.Attained {
		t.Fatalf("no limits: %+v", s)
	}
	testbeds.Near(t, "ts_sen68_slope", s.Median, number(t, want["ts_sen68_slope"]), 1e-9)
	testbeds.Near(t, "ts_sen68_lo", s.Low, number(t, want["ts_sen68_lo"]), 0.00005)
	testbeds.Near(t, "ts_sen68_hi", s.High, number(t, want["ts_sen68_hi"]), 0.00005)
}

// TestPooledSlope_epa176 is example 17-6 of the USEPA 2009 Unified Guidance
// (EPA 530/R-09-007), p. 17-33, with Gilbert's interpolated ranks.
func TestPooledSlope_epa176(t *testing.T) {
	want, inputs := readTrends(t)
	times := strings.TrimSuffix(strings.TrimPrefix(inputs["ts_epa176_data"], "t="), " (year.month, NOT decimal year)")
	data := senBlock{T: numbers(t, times), Y: numbers(t, want["ts_epa176_data"])}
	s, ok := pooledSlope([]senBlock{data}, 0.95)
	if !ok || !s.Attained {
		t.Fatalf("no limits: %+v", s)
	}
	testbeds.Near(t, "ts_epa176_S", float64(kendallS(data.Y)), number(t, want["ts_epa176_S"]), 0)
	testbeds.Near(t, "ts_epa176_varS", kendallVariance(data.Y), number(t, want["ts_epa176_varS"]), 1e-9)
	testbeds.Near(t, "ts_epa176_slope", s.Median, number(t, want["ts_epa176_slope"]), 0.00005)
	testbeds.Near(t, "ts_epa176_lo", s.Low, number(t, want["ts_epa176_lo"]), 0.00005)
	testbeds.Near(t, "ts_epa176_hi", s.High, number(t, want["ts_epa176_hi"]), 0.00005)
}

// TestPooledSlope_epa1410 is example 14-10 of the same guidance, p. 14-38: twelve
// blocks pooled.
func TestPooledSlope_epa1410(t *testing.T) {
	want, _ := readTrends(t)
	var blocks []senBlock
	var sum int
	var variance float64
	for list := range strings.SplitSeq(want["ts_epa1410_data"], ";") {
		b := senBlock{T: []float64{1983, 1984, 1985}, Y: numbers(t, list)}
		sum += kendallS(b.Y)
		variance += kendallVariance(b.Y)
		blocks = append(blocks, b)
	}
	s, ok := pooledSlope(blocks, 0.95)
	if !ok || !s.Attained {
		t.Fatalf("no limits: %+v", s)
	}
	testbeds.Near(t, "ts_epa1410_z", float64(sum-1)/math.Sqrt(variance), number(t, want["ts_epa1410_z"]), 1e-5)
	testbeds.Near(t, "ts_epa1410_slope", s.Median, number(t, want["ts_epa1410_slope"]), 1e-6)
	testbeds.Near(t, "ts_epa1410_lo", s.Low, number(t, want["ts_epa1410_lo"]), 1e-5)
	testbeds.Near(t, "ts_epa1410_hi", s.High, number(t, want["ts_epa1410_hi"]), 1e-5)
}

// TestPooledSlope_threeStations holds three stations of one tank and a removal
// against values computed apart from this program (made-up data).
func TestPooledSlope_threeStations(t *testing.T) {
	want, _ := readTrends(t)
	months := []float64{0, 3, 6, 9, 12, 15}
	blocks := []senBlock{
		{"A", months, []float64{2, 4, 5, 7, 8, 10}},
		{"B", months, []float64{3, 3, 6, 8, 9, 11}},
		{"C", months, []float64{1, 3, 3, 5, 6, 6}},
	}
	s, _ := pooledSlope(blocks, 0.90)
	testbeds.Near(t, "ts_tank_pool", s.Median, number(t, want["ts_tank_pool"]), 1e-6)
	testbeds.Near(t, "ts_tank_pool_lo", s.Low, number(t, want["ts_tank_pool_lo"]), 1e-4)
	testbeds.Near(t, "ts_tank_pool_hi", s.High, number(t, want["ts_tank_pool_hi"]), 1e-4)
	for _, b := range blocks {
		one, _ := pooledSlope([]senBlock{b}, 0.90)
		testbeds.Near(t, "ts_tank_"+b.Station, one.Median, number(t, want["ts_tank_"+b.Station]), 1e-4)
	}
	chiSquare, freedom := disagreement(blocks)
	testbeds.Near(t, "ts_tank_het", chiSquare, number(t, want["ts_tank_het"]), 1e-4)
	if freedom != 2 {
		t.Errorf("%d degrees of freedom, want 2", freedom)
	}
}

// TestPooledSlope_removal: pairs across a siphoning give a wrong slope.
func TestPooledSlope_removal(t *testing.T) {
	want, _ := readTrends(t)
	naive, _ := pooledSlope([]senBlock{{"A", []float64{0, 3, 6, 8, 11, 14}, []float64{2, 4, 5, 2, 4, 5}}}, 0.90)
	testbeds.Near(t, "ts_removal_naive", naive.Median, number(t, want["ts_removal_naive"]), 1e-4)
	split, _ := pooledSlope([]senBlock{
		{"A", []float64{0, 3, 6}, []float64{2, 4, 5}},
		{"A", []float64{8, 11, 14}, []float64{2, 4, 5}},
	}, 0.90)
	testbeds.Near(t, "ts_removal_split", split.Median, number(t, want["ts_removal_split"]), 1e-6)
	testbeds.Near(t, "lowest slope", split.Low, 1./3, 1e-9)
	testbeds.Near(t, "highest slope", split.High, 2./3, 1e-9)
}

func TestPooledSlope_tooFew(t *testing.T) {
	s, ok := pooledSlope([]senBlock{{"A", []float64{0, 1, 2}, []float64{1, 2, 4}}}, 0.90)
	if !ok || s.Attained || s.Low != 1 || s.High != 2 {
		t.Errorf("three readings: %+v, want the span of the slopes, not attained", s)
	}
	if _, ok := pooledSlope([]senBlock{{"A", []float64{0}, []float64{1}}}, 0.90); ok {
		t.Error("one reading has a slope")
	}
}

// TestPooledSlope_scales: in other units the slope is the same.
func TestPooledSlope_scales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "n")
		b := senBlock{}
		for i := range n {
			b.T = append(b.T, float64(i))
			b.Y = append(b.Y, float64(rapid.IntRange(0, 60).Draw(t, "y")))
		}
		inches := senBlock{T: b.T}
		for _, y := range b.Y {
			inches.Y = append(inches.Y, y/25.4)
		}
		mm, _ := pooledSlope([]senBlock{b}, 0.90)
		in, _ := pooledSlope([]senBlock{inches}, 0.90)
		for _, pair := range [][2]float64{{mm.Low, in.Low}, {mm.Median, in.Median}, {mm.High, in.High}} {
			if math.Abs(pair[0]-25.4*pair[1]) > 1e-9 {
				t.Fatalf("%v mm against %v in", mm, in)
			}
		}
		if mm.Low > mm.Median || mm.Median > mm.High {
			t.Fatalf("limits do not hold the median: %+v", mm)
		}
	})
}
