package judge

import (
	"fmt"
	"math"
	"os"
	"slices"
	so "sort"
	"strconv"
	"testing"

	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/internal/testworlds"
)

func TestTmp(t *testing.T) {
	w, _ := strconv.Atoi(os.Getenv("W"))
	s := drawSorts(60, 900)[w]
	s.tanks = slices.DeleteFunc(s.tanks, func(k testworlds.Tank) bool { return k.Record.Cores[0].Layers[0].Band == palette.NoBand })
	found := Interpret(slices.Values(records(s.tanks)), reports.DefaultSettings()).Tanks
	var idx []int
	for i := range found {
		idx = append(idx, i)
	}
	z := func(i int) float64 {
		e, tr := found[i].Mulm, s.tanks[i].Truth.Mulm
		if os.Getenv("Q") == "g" {
			e, tr = found[i].Accumulation, s.tanks[i].Truth.Growth
		}
		if e == nil {
			return 99
		}
		return math.Abs(e.Value-tr) / (e.High - e.Low + .01)
	}
	so.Slice(idx, func(a, b int) bool { return z(idx[a]) > z(idx[b]) })
	for _, i := range idx[:6] {
		f, tk := found[i], s.tanks[i]
		fmt.Printf("== %d z %.2f mulm %v truth %.1f growth %v truth %.2f events", i, z(i), *f.Mulm, tk.Truth.Mulm, f.Accumulation, tk.Truth.Growth)
		for _, e := range tk.Record.Events {
			fmt.Print(" ", e.Date)
		}
		fmt.Println()
		o := infer.NewOutlook(tk.Record, reports.DefaultSettings())
		for _, g := range o.Gone {
			fmt.Print(" gone ", g.From, " ", g.Reading.Core.Date, " ", g.MM)
		}
		fmt.Println()
		by := map[string]string{}
		for _, r := range o.Readings {
			by[r.Core.Station] += fmt.Sprintf("%s:%v%s ", r.Core.Date.String()[2:], r.Named.Mulm, r.Slip)
		}
		for k, v := range by {
			fmt.Println("   ", k, v)
		}
	}
}

func TestTmpTable(t *testing.T) {
	n, _ := strconv.Atoi(os.Getenv("N"))
	lab := os.Getenv("LAB")
	for _, s := range drawSorts(n, 77) {
		if s.name == keptName {
			continue
		}
		if lab != "" {
			s.tanks = slices.DeleteFunc(s.tanks, func(k testworlds.Tank) bool {
				return (k.Record.Cores[0].Layers[0].Band == palette.NoBand) == (lab == "1")
			})
		}
		found := Interpret(slices.Values(records(s.tanks)), reports.DefaultSettings()).Tanks
		of := hold(s.tanks, found)
		fmt.Printf("%-24s %3d", s.name, len(s.tanks))
		for i := range asked[:5] {
			a := &of[i]
			slices.Sort(a.widths)
			fmt.Printf(" | %5.1f %+5.2f %5.2f w%5.2f", a.coverage(), a.off/float64(max(1, a.told)), a.ratio(), append(a.widths, 0)[len(a.widths)/2])
		}
		fmt.Println()
	}
}
