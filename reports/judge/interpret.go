// Package judge is the door to everything that can be found out about a tank: it takes a recorded
// tank through inference, rules and rehearsals, and gives the findings to show.
package judge

import (
	"cmp"
	"iter"
	"runtime"
	"slices"
	"sync"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rules"
)

// Interpret makes the findings of every tank, in the order of tanks. It works on several tanks at
// once while the sequence still runs.
func Interpret(tanks iter.Seq[layers.Tank], s reports.Settings) reports.Findings {
	type job struct {
		index int
		tank  layers.Tank
	}
	type result struct {
		index int
		tank  reports.Tank
	}
	jobs, results := make(chan job), make(chan result)
	var workers sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		workers.Go(func() {
			var sim infer.Simulation
			for j := range jobs {
				results <- result{j.index, findingsOf(&sim, j.tank, s)}
			}
		})
	}
	go func() {
		index := 0
		for tank := range tanks {
			jobs <- job{index, tank}
			index++
		}
		close(jobs)
		workers.Wait()
		close(results)
	}()
	var done []result
	for r := range results {
		done = append(done, r)
	}
	slices.SortFunc(done, func(a, b result) int { return cmp.Compare(a.index, b.index) })
	findings := reports.Findings{Format: reports.FindingsFormat, Tanks: make([]reports.Tank, len(done))}
	for i, r := range done {
		findings.Tanks[i] = r.tank
	}
	return findings
}

func findingsOf(sim *infer.Simulation, tank layers.Tank, s reports.Settings) reports.Tank {
	c, found := judge(sim, tank, s)
	if s.History {
		found.Cores = c.History(s)
	}
	return found
}

// judge makes one tank's findings from each station's newest core. What they rest on stays in the
// case and in sim, whose memory the next tank reuses.
func judge(sim *infer.Simulation, tank layers.Tank, s reports.Settings) (*rules.Case, reports.Tank) {
	o := infer.NewOutlook(tank, s)
	found := reports.Tank{ID: tank.ID, Name: cmp.Or(tank.Name, tank.ID), AsOf: o.AsOf, Cores: []reports.Core{}, Questions: []reports.Question{}}
	drawers := o.Drawers(s.Seed)
	c := rules.NewCase(o, drawers)
	if len(o.Newest) == 0 {
		c.FillUnread(&found)
		return c, found
	}
	sim.Run(o, drawers, s, c.Hear)
	sim.Fill(o, &found)
	c.Fill(&found)
	return c, found
}
