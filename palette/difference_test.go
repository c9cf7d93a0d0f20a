package palette

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"pgregory.net/rapid"
)

// readChecks reads a table of published values; lines that begin with '#' name its source.
func readChecks(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../testdata/checks/" + name)
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
	return rows[1:]
}

// TestDifference_sharma checks the 34 pairs of table 1 in Sharma, Wu & Dalal
// 2005; all have four decimals, so a right program is off by less than 0.00005.
func TestDifference_sharma(t *testing.T) {
	rows := readChecks(t, "ciede2000.csv")
	if len(rows) != 34 {
		t.Fatalf("found %d pairs, want 34", len(rows))
	}
	for _, row := range rows {
		var v [8]float64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		x, y, want := Lab{v[1], v[2], v[3]}, Lab{v[4], v[5], v[6]}, v[7]
		if got := Difference(x, y); math.Abs(got-want) > 0.00005 {
			t.Errorf("pair %s: %.5f, want %.4f", row[0], got, want)
		}
		if got := Difference(y, x); math.Abs(got-want) > 0.00005 {
			t.Errorf("pair %s the other way round: %.5f, want %.4f", row[0], got, want)
		}
	}
}

func anyColor(t *rapid.T, label string) Color {
	return Color{rapid.Byte().Draw(t, label+"R"), rapid.Byte().Draw(t, label+"G"), rapid.Byte().Draw(t, label+"B")}
}

// TestDifference_colorful holds the fast path against go-colorful 1.4.1, which
// scales L*, a*, b* and distances by 1/100.
func TestDifference_colorful(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := anyColor(t, "x"), anyColor(t, "y")
		fx := colorful.Color{R: float64(x.R) / 255, G: float64(x.G) / 255, B: float64(x.B) / 255}
		fy := colorful.Color{R: float64(y.R) / 255, G: float64(y.G) / 255, B: float64(y.B) / 255}
		got, want := Difference(x.Lab(), y.Lab()), 100*fx.DistanceCIEDE2000(fy)
		if math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v against %v: %.9f, go-colorful says %.9f", x, y, got, want)
		}
	})
}

func TestSquareFloor_isBelow(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 200_000 {
		x := Color{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())}.Lab()
		y := Color{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())}.Lab()
		full := Difference(x, y)
		p, q := tint(x), tint(y)
		if floor := squareFloor(&p, &q); floor > full*full*(1+1e-5)+1e-9 {
			t.Fatalf("floor %g above the difference %g of %v and %v", math.Sqrt(floor), full, x, y)
		}
	}
}

// The bound spares the work only where it lies near the difference: of colours without a blue hue
// it is over a third of the square in every second pair.
func TestSquareFloor_isNear(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	near, all := 0, 0
	for range 20_000 {
		p := tint(Color{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())}.Lab())
		q := tint(Color{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())}.Lab())
		if p.B < 0 || q.B < 0 {
			continue
		}
		all++
		if d := difference(&p, &q); squareFloor(&p, &q) > d*d/3 {
			near++
		}
	}
	t.Logf("over a third of the square in %.1f %% of %d pairs", percent(near, all), all)
	if percent(near, all) < 50 {
		t.Errorf("over a third of the square in %.1f %% of %d pairs, want 50 %%", percent(near, all), all)
	}
}

func TestDifference_allocatesNothing(t *testing.T) {
	x, y := Color{0x8b, 0x5e, 0x3c}.Lab(), Color{0x40, 0x3c, 0x33}.Lab()
	if n := testing.AllocsPerRun(100, func() { Difference(x, y) }); n != 0 {
		t.Errorf("%v allocations a call, want none", n)
	}
}

func TestParseColor_roundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyColor(t, "c")
		if got, err := ParseColor(c.String()); err != nil || got != c {
			t.Fatalf("%v came back as %v, %v", c, got, err)
		}
	})
}

func FuzzParseColor(f *testing.F) {
	for _, seed := range []string{"#8b5e3c", "#8B5E3C", "8b5e3c", "#8b5e3", "", "#gggggg", "#éé"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if c, err := ParseColor(s); err == nil {
			if again, err := ParseColor(c.String()); err != nil || again != c {
				t.Errorf("%q read as %v does not come back: %v, %v", s, c, again, err)
			}
		}
	})
}

// sink keeps the compiler from dropping the benchmarked call.
var sink float64

func BenchmarkDifference(b *testing.B) {
	rng := rand.New(rand.NewPCG(1, 2))
	var colors [1024]Lab
	for i := range colors {
		colors[i] = Color{uint8(rng.Uint32()), uint8(rng.Uint32()), uint8(rng.Uint32())}.Lab()
	}
	b.Run("stored Lab", func(b *testing.B) {
		b.ReportAllocs()
		for i := range b.N {
			sink += Difference(colors[i%1024], colors[(i+1)%1024])
		}
	})
	b.Run("go-colorful", func(b *testing.B) {
		x := colorful.Color{R: 0.55, G: 0.37, B: 0.24}
		y := colorful.Color{R: 0.25, G: 0.24, B: 0.20}
		for range b.N {
			sink += x.DistanceCIEDE2000(y)
		}
	})
}
