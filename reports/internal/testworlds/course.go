package testworlds

import (
	"math"

	"panecore/layers"
)

// A law is how a tank's mulm and its front move. Times are months since the first reading; the mulm
// M of a spot changes by
//
//	dM/dt = rate + what the rate has strayed by then + decay · (level − M)
//
// and never falls below 0. Lengths are mm. The rust thickens by front; a season comes on top.
type law struct {
	start, rate  float64
	decay, level float64   // decay is a share a month; 0: the growth doesn't level off
	turns        []float64 // what each month adds to the rate; the last month's rate goes on
	swing, phase float64   // the season's amplitude, mm, and its place in the year
	rust, front  float64
	removals     []removal
}

// A removal is a siphoning: the share of the mulm that it takes.
type removal struct{ month, share float64 }

// A spot is what sets one place of the floor apart: its mulm and rust, mm, are off by as much
// throughout; what falls on it and how its front moves differ from the tank's by a part of it.
type spot struct {
	mulm, rust    float64
	rates, fronts float64
	removed       []float64 // by how much each removal's share differs
}

// trend is a spot's mulm without the season at rising times. A reading at the time of a removal comes
// before it.
func (l *law) trend(s *spot, months []float64) []float64 {
	list := make([]float64, 0, len(months))
	mm, at, next, strayed, turned := max(0, l.start+s.mulm), 0.0, 0, 0.0, 0
	for _, until := range months {
		for at < until {
			if next < len(l.removals) && l.removals[next].month <= at {
				mm *= 1 - min(0.95, max(0, l.removals[next].share+s.removed[next]))
				next++
				continue
			}
			end := until
			if turned < len(l.turns) { // the rate changes with the month
				for turned < len(l.turns) && float64(turned) <= at {
					strayed += l.turns[turned]
					turned++
				}
				if turned < len(l.turns) {
					end = min(end, float64(turned))
				}
			}
			if next < len(l.removals) {
				end = min(end, l.removals[next].month)
			}
			mm = l.step(mm, l.inflow(s, strayed), end-at)
			at = end
		}
		list = append(list, mm)
	}
	return list
}

// inflow is what falls on a spot a month.
func (l *law) inflow(s *spot, strayed float64) float64 {
	return (l.rate+strayed+l.decay*l.level)*(1+s.rates) + l.decay*s.mulm
}

// step is the mulm after some months of one inflow.
func (l *law) step(mm, inflow, months float64) float64 {
	if l.decay == 0 {
		return max(0, mm+inflow*months)
	}
	level := inflow / l.decay
	return max(0, level+(mm-level)*math.Exp(-l.decay*months))
}

// slope is how fast a spot's mulm of so many mm grows after the last month's turn, without the season.
func (l *law) slope(s *spot, mm float64) float64 {
	var strayed float64
	for _, turn := range l.turns {
		strayed += turn
	}
	if slope := l.inflow(s, strayed) - l.decay*mm; mm > 0 {
		return slope
	} else {
		return max(0, slope)
	}
}

const year = 12 // months

func (l *law) season(month float64) float64 {
	return l.swing * math.Sin(2*math.Pi*month/year+l.phase)
}

func (l *law) seasonSlope(month float64) float64 {
	return l.swing * 2 * math.Pi / year * math.Cos(2*math.Pi*month/year+l.phase)
}

// mulm is what a reader without error would see of a spot's mulm at rising times.
func (l *law) mulm(s *spot, months []float64) []float64 {
	list := l.trend(s, months)
	for i := range list {
		list[i] = max(0, list[i]+l.season(months[i]))
	}
	return list
}

func (l *law) rustAt(s *spot, month float64) float64 {
	return max(0, l.rust+s.rust+l.front*(1+s.fronts)*month)
}

// limitMM is the mulm at which a bed is to be siphoned by default, mm.
var limitMM = layers.LimitMulm.Rule().Default

// horizonMonths is how far the law is followed; what has not come by then never does (assumption: no
// tank is kept for 200 years).
const horizonMonths = 200 * year

// reaches is the first day's month after now on which the floor's mulm reaches the limit, if the law
// goes on: from mm on, without the season, growing by slope a month; false: never.
func (l *law) reaches(limit, now, mm, slope float64) (month float64, ever bool) {
	inflow := slope + l.decay*mm
	for month = now; month < now+horizonMonths; month += 1 / layers.DaysPerMonth {
		if mm+l.season(month) >= limit {
			return month, true
		}
		mm = l.step(mm, inflow, 1/layers.DaysPerMonth)
	}
	return 0, false
}
