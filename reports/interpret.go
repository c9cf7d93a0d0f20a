package reports

import (
	"iter"

	"panecore/layers"
)

// Settings steer how findings are made.
type Settings struct {
	Draws   int         // Monte Carlo draws a tank
	Seed    uint64      // the same seed gives the same findings
	AsOf    layers.Date // zero: each tank's newest core
	History bool        // list every core, not just the newest of each station
}

// The defaults of Settings.
const (
	DefaultDraws = 2000
	DefaultSeed  = 1
)

// Interpret makes the findings of every tank, in the order of tanks.
func Interpret(tanks iter.Seq[layers.Tank], s Settings) Findings {
	return Findings{Format: FindingsFormat}
}
