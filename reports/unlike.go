package reports

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/palette"
)

// From here on a core is so unlike the one before it that a mistake is likelier than the
// bed (assumptions: more than a bed does in a month by itself).
const (
	unlikeShare  = 0.25 // of the depth that was seen
	unlikeMM     = 10.0 // of depth or mulm
	unlikeGrowth = 5.0  // of mulm, mm a month, added to that
)

// Unlike gives the core that was read before another at its station, where the two differ
// so much that the photo, the tank or the ruler's length may be wrong, and nothing was
// taken out or put in between. Second result: whether there is one.
func Unlike(tank layers.Tank, own []palette.Prototype, now Core, s Settings) (former Core, unlike bool) {
	var last *layers.Core
	for i, c := range tank.Cores {
		if c.Station == now.Station && c.Date < now.Date && (last == nil || c.Date > last.Date) {
			last = &tank.Cores[i]
		}
	}
	if last == nil || slices.ContainsFunc(tank.Events, func(e layers.Event) bool { return e.Kind.Splits() && last.Date <= e.Date && e.Date <= now.Date }) {
		return former, false
	}
	former = ReadCore(tank, *last, own, s)
	if was := last.DepthMM(); math.Abs(now.DepthMM()-was) > max(unlikeMM, unlikeShare*was) {
		return former, true
	}
	if former.Mulm == nil || now.Mulm == nil {
		return former, false
	}
	apart := now.Mulm.Low > former.Mulm.High || now.Mulm.High < former.Mulm.Low
	return former, apart && math.Abs(now.Mulm.Value-former.Mulm.Value) > unlikeMM+unlikeGrowth*last.Date.Months(now.Date)
}
