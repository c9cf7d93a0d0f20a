package judge

import (
	"fmt"
	"testing"

	"panecore/reports"
	"panecore/reports/infer"
	"slices"
)

func TestTmpHold(t *testing.T) {
	worlds, tanks := drawWorlds()
	found := Interpret(slices.Values(tanks[:141]), reports.DefaultSettings()).Tanks
	for i, f := range found {
		if i != 140 { continue }
		o0 := infer.NewOutlook(tanks[i], reports.DefaultSettings())
		for _, r := range o0.Readings { fmt.Print(r.Core.Station, " ", r.Core.Date, " ", r.Settled, r.Slip, " | ") }
		o := infer.NewOutlook(tanks[i], reports.DefaultSettings())
		if len(o.Gone) == 0 && !f.Watch.Runaway() {
			continue
		}
		fmt.Printf("== %d %s p %v since %v labelled native %d", i, worlds[i].kind, *f.Watch.Probability, f.Watch.Since, len(tanks[i].Native))
		for _, g := range o.Gone { fmt.Print(" GONE ", g.From, " ", g.Reading.Core.Date, " ", g.MM) }
		for _, e := range tanks[i].Events { fmt.Print(" ", e.Kind, e.Date) }
		fmt.Println()
		by := map[string]string{}
		for _, r := range o.Readings {
			by[r.Core.Station] += fmt.Sprintf("%s:", r.Core.Date.String()[2:])
			for k, n := range r.Names { by[r.Core.Station] += fmt.Sprintf("%.0f%s ", r.Core.Layers[k].ThicknessMM, n.String()[:2]) }
			by[r.Core.Station] += fmt.Sprintf("[%.0f %.0f %s] ", r.Settled.Mulm, r.Settled.Oxic, r.Slip)
		}
		for k, v := range by { fmt.Println("   ", k, v[max(0, len(v)-1200):]) }
	}
}
