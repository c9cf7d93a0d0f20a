package reports

import (
	"runtime"
	"slices"
	"sync"
)

// history is every core of the tank by date, the newest as they stand in newest, several
// of the others drawn at once: each has its own random numbers, so they are the same
// whoever draws them.
func (o *outlook) history(newest []Core, s Settings) []Core {
	cores := make([]Core, len(o.readings))
	workers := runtime.GOMAXPROCS(0)
	var crew sync.WaitGroup
	for first := range workers {
		crew.Go(func() {
			var sim simulation
			for i := first; i < len(cores); i += workers {
				if j := slices.Index(o.newest, o.readings[i]); j >= 0 {
					cores[i] = newest[j]
				} else {
					cores[i] = sim.alone(o, o.readings[i], s)
				}
			}
		})
	}
	crew.Wait()
	return cores
}

// alone draws one reading of a tank by itself.
func (sim *simulation) alone(o *outlook, r *reading, s Settings) Core {
	r.match = o.matcher.Match(columnOf(r.core))
	one := &outlook{facts: o.facts, tank: o.tank, newest: []*reading{r}}
	for range sim.roll(one, newDrawers(one.newest), s.Draws, s.Seed, new(scene)) {
	}
	return sim.cores[0].core(r)
}
