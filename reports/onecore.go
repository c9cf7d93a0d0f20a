package reports

import (
	"panecore/layers"
	"panecore/palette"
)

// ReadCore says what one core of a tank shows, by itself: its bands, mulm and colour oxic
// depth, each with its doubt.
func ReadCore(tank layers.Tank, core layers.Core, own []palette.Prototype, s Settings) Core {
	o := &outlook{facts: newFacts(tank, core.Date), tank: tank, matcher: NewMatcher(tank, own)}
	return o.alone(newReading(core, o.matcher), s)
}

// alone draws one reading by itself.
func (o *outlook) alone(r *reading, s Settings) Core {
	r.match = o.matcher.Match(columnOf(r.core))
	one := &outlook{facts: o.facts, tank: o.tank, newest: []*reading{r}}
	var sim simulation
	sim.run(one, newDrawers(one.newest), s.Draws, s.Seed)
	return sim.cores[0].core(r)
}
