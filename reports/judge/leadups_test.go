package judge

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/internal/testworlds"
)

// watching are the settings of a record that is judged day by day.
func watching() reports.Settings { return reports.Settings{Draws: 50, Seed: reports.DefaultSeed} }

// onEach judges a record as it stood at the end of each of some days.
func onEach(record layers.Tank, days []layers.Date) []reports.Tank {
	return Interpret(func(yield func(layers.Tank) bool) {
		for _, day := range days {
			if !yield(testworlds.Until(record, day)) {
				return
			}
		}
	}, watching()).Tanks
}

// toldOf reports whether trouble is more likely than not.
func toldOf(f reports.Tank) bool { return f.Watch.Probability != nil && *f.Watch.Probability >= 0.5 }

// daysOf are the days on which a record was read, after one and before another.
func daysOf(record layers.Tank, after, before layers.Date) (days []layers.Date) {
	for _, core := range record.Cores {
		if after < core.Date && core.Date < before {
			days = append(days, core.Date)
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// TestWatch_leadUps: how often trouble is told in time while black swells up to the surface.
func TestWatch_leadUps(t *testing.T) {
	rng := rand.New(rand.NewPCG(902, 1))
	for _, power := range []float64{1, 1.5} {
		for _, every := range []int{14, 30} {
			for _, fast := range []bool{false, true} {
				var told int
				count := scaled(10, 100)
				for id := range count {
					rise := testworlds.Rise{Days: 90 + rng.IntN(61), Power: power, Every: every, Stations: 1 + rng.IntN(4)}
					ahead := layers.Date(aheadDays)
					if fast {
						rise.Days, ahead = 45, 1
					}
					l := rise.Draw(rng, id)
					if slices.ContainsFunc(onEach(l.Record, daysOf(l.Record, l.Begin, l.End-ahead+1)), toldOf) {
						told++
					}
				}
				share := 100 * float64(told) / float64(count)
				row := fmt.Sprintf("rises of power %g in 90 to 150 days, read every %d: %.0f %% told %d days ahead", power, every, share, aheadDays)
				want := toldSlow
				if fast {
					row = fmt.Sprintf("rises of power %g in 45 days, read every %d: %.0f %% told before the last day", power, every, share)
					want = toldFast
				}
				t.Log(row)
				if share < float64(want) && !(fast && every == 30) { // a month between readings can't be asked for so much
					t.Errorf("%s, want %d", row, want)
				}
			}
		}
	}
}

// What healthy tanks are watched with: the share of readings with a slip, at most, and the days
// from the first reading to the first day that counts, since less is hardly a record (assumptions).
const (
	slipsWatched = 0.03
	watchedFrom  = 100 // days; the fourth month's reading is the first after them
	slipsName    = "one rate, slips, 3 %"
)

// TestWatch_healthy: how many healthy tanks are told of trouble, or to siphon though there is little to
// take, on any day on which they are read from the fourth month on.
func TestWatch_healthy(t *testing.T) {
	count := scaled(4, 30)
	var tanks, alarmed int
	for i, w := range append(testworlds.Worlds(), testworlds.World{Name: slipsName, Slips: slipsWatched}) {
		if w.Slips > slipsWatched {
			w.Name, w.Slips = "rates differ, slips, 3 %", slipsWatched
		}
		rng := rand.New(rand.NewPCG(903, uint64(i)))
		var told, siphon int
		for id := range count {
			tank := w.Healthy(rng, id)
			days := daysOf(tank.Record, tank.Days()[0]+watchedFrom, tank.Days()[len(tank.Days())-1]+1)
			found, floor := onEach(tank.Record, days), tank.Floor(days)
			var falsely, needlessly bool
			for j, f := range found {
				falsely = falsely || toldOf(f)
				needlessly = needlessly || f.Advice.Action == reports.Siphon && floor[j].Mulm < shallowMM
			}
			if falsely {
				told++
			}
			if needlessly {
				siphon++
			}
		}
		tanks, alarmed = tanks+count, alarmed+told
		siphonShare := 100 * float64(siphon) / float64(count)
		t.Logf("%-27s %d tanks: %5.1f %% told of trouble, %5.1f %% told to siphon with less than %d mm", w.Name, count, 100*float64(told)/float64(count), siphonShare, shallowMM)
		if w.Name == slipsName && siphonShare > siphonedForSlips {
			t.Errorf("%s: %.1f %% told to siphon with less than %d mm of mulm, want %d at most", w.Name, siphonShare, shallowMM, siphonedForSlips)
		}
	}
	if share := 100 * float64(alarmed) / float64(tanks); share > falselyTold {
		t.Errorf("%.1f %% of the healthy tanks are told of trouble, want %d at most", share, falselyTold)
	}
}
