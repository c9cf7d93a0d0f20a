package logbook

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"panecore/layers"
	"panecore/palette"
)

// fishRoom is a large fish room's record: so many tanks of 100 cores of 6 layers
// each (monthly, at two stations).
func fishRoom(tanks int) []layers.Tank {
	column := []palette.Color{{R: 0x8b, G: 0x5e, B: 0x3c}, {R: 0x5a, G: 0x3d, B: 0x28}, {R: 0xb4, G: 0x55, B: 0x2a},
		{R: 0x1f, G: 0x1d, B: 0x1b}, {R: 0x80, G: 0x80, B: 0x7c}, {R: 0xd9, G: 0xcb, B: 0xa6}}
	records := make([]layers.Tank, tanks)
	for i := range records {
		tank := layers.Tank{ID: fmt.Sprintf("tank-%04d", i), SetUp: layers.FirstDate, Flow: layers.Still}
		for month := range 50 {
			for _, station := range []string{"front", "left"} {
				core := layers.Core{Date: layers.FirstDate + layers.Date(30*month), Station: station, Lit: new(bool)}
				for l, color := range column {
					core.Layers = append(core.Layers, layers.Layer{ThicknessMM: 4 + float64((i+month+l)%97)/10, Color: color})
				}
				tank.Cores = append(tank.Cores, core)
			}
		}
		records[i] = tank
	}
	return records
}

// filled is a logbook of so many tanks of 100 cores.
func filled(b *testing.B, tanks int) (path string) {
	path = filepath.Join(b.TempDir(), "logbook.db")
	book := open(b, path, true)
	if _, err := book.Import(b.Context(), noon, fishRoom(tanks), false); err != nil {
		b.Fatal(err)
	}
	if err := book.Close(); err != nil {
		b.Fatal(err)
	}
	return path
}

func BenchmarkImport(b *testing.B) {
	tanks := fishRoom(1000)
	for b.Loop() {
		book := open(b, filepath.Join(b.TempDir(), fmt.Sprint(b.N, time.Now().UnixNano())), true)
		if _, err := book.Import(b.Context(), noon, tanks, false); err != nil {
			b.Fatal(err)
		}
		if err := book.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAddCore is what one command costs: to open, add and close.
func BenchmarkAddCore(b *testing.B) {
	path := filled(b, 1000)
	core := layers.Core{Date: layers.DateOf(noon), Layers: []layers.Layer{{ThicknessMM: 12}}}
	n := 0
	for b.Loop() {
		book := open(b, path, false)
		core.Station = fmt.Sprint("s", n)
		n++
		if err := book.AddCore(b.Context(), noon, "tank-0500", core); err != nil {
			b.Fatal(err)
		}
		if err := book.Close(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTank(b *testing.B) {
	path := filled(b, 1000)
	for b.Loop() {
		book := open(b, path, false)
		tank, err := book.Tank(b.Context(), "tank-0500")
		if err != nil || len(tank.Cores) != 100 {
			b.Fatal(len(tank.Cores), err)
		}
		book.Close()
	}
}

func BenchmarkTanks(b *testing.B) {
	path := filled(b, 1000)
	book := open(b, path, false)
	defer book.Close()
	var ours time.Duration
	b.Run("ours", func(b *testing.B) {
		for b.Loop() {
			n := 0
			for tank, err := range book.Tanks(b.Context(), false) {
				if err != nil {
					b.Fatal(err)
				}
				n += len(tank.Cores)
			}
			if n != 100_000 {
				b.Fatal(n)
			}
		}
		ours = b.Elapsed() / time.Duration(b.N)
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		b.ReportMetric(float64(m.Sys)/(1<<20), "MB-sys")
	})
	b.Run("sqlite3", func(b *testing.B) {
		program, err := exec.LookPath("sqlite3")
		if err != nil {
			b.Skip("no sqlite3 program here")
		}
		for b.Loop() {
			out, err := os.Create(filepath.Join(b.TempDir(), "rows"))
			if err != nil {
				b.Fatal(err)
			}
			cmd := exec.Command(program, path, "SELECT "+cores.list()+" FROM cores WHERE until IS NULL ORDER BY "+cores.order())
			cmd.Stdout = out
			if err := cmd.Run(); err != nil {
				b.Fatal(err)
			}
			out.Close()
		}
		b.ReportMetric(float64(ours)/float64(b.Elapsed()/time.Duration(b.N)), "ours/sqlite3")
	})
}
