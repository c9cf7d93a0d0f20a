package reports

import (
	"runtime"
	"sync"

	"panecore/palette"
)

// history is every core of the tank by date, several drawn at once.
func (o *outlook) history(s Settings) []Core {
	cores := make([]Core, len(o.readings))
	workers := runtime.GOMAXPROCS(0)
	var crew sync.WaitGroup
	for first := range workers {
		crew.Go(func() {
			var draws coreDraws
			for i := first; i < len(cores); i += workers {
				cores[i] = draws.alone(o.readings[i], o.matcher, o.tank.ID, s)
			}
		})
	}
	crew.Wait()
	return cores
}

// alone draws a reading by itself.
func (c *coreDraws) alone(r *reading, matcher *palette.Matcher, tank string, s Settings) Core {
	r.match = matcher.Match(r.column)
	c.begin()
	d := newDrawer(r, tank, s.Seed)
	for n := range s.Draws {
		c.add(d.draw(n))
	}
	return c.core(r)
}
