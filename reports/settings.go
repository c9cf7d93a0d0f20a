package reports

import (
	"panecore/layers"
	"panecore/palette"
)

// Settings steer how findings are made.
type Settings struct {
	Draws   int          // Monte Carlo draws a tank
	Seed    uint64       // the same seed gives the same findings
	AsOf    layers.Date  // zero: each tank's newest record of any kind
	History bool         // list every core, not just the newest of each station
	Units   layers.Units // of lengths in sentences; numbers are always mm

	AltitudeM float64 // of the room above sea level, m, for the oxygen that water takes up

	// Own gives the keeper's own prototypes for a tank by its id; nil: there are none.
	// It is called from several goroutines at once.
	Own func(id string) []palette.Prototype
}

// DayOf is the day the tank is judged as of.
func (s Settings) DayOf(tank layers.Tank) layers.Date {
	if s.AsOf != 0 {
		return s.AsOf
	}
	return Newest(tank)
}

// Newest is the day of a tank's newest record of any kind; zero: it has none.
func Newest(tank layers.Tank) layers.Date {
	var newest layers.Date
	for _, core := range tank.Cores {
		newest = max(newest, core.Date)
	}
	for _, test := range tank.Water {
		newest = max(newest, test.Date)
	}
	for _, event := range tank.Events {
		newest = max(newest, event.Date)
	}
	return newest
}

// PrototypesOf are the keeper's own prototypes for a tank by its id.
func (s Settings) PrototypesOf(id string) []palette.Prototype {
	if s.Own == nil {
		return nil
	}
	return s.Own(id)
}

// The defaults of Settings.
const (
	DefaultDraws = 2000
	DefaultSeed  = 1
)

// DefaultSettings are the settings if nothing else is asked for.
func DefaultSettings() Settings { return Settings{Draws: DefaultDraws, Seed: DefaultSeed} }
