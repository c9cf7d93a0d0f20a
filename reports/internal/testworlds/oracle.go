package testworlds

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Widths are those of 90 % intervals, mm, mm a month, and months for Reached (infinite: never reached).
type Widths struct{ Mulm, Oxic, Growth, Shift, Reached float64 }

// Narrowest are the widths of the narrowest intervals of who knows the law, which no keeper does: the larger
// of two. One is given by who knows the world that the tank is of, how its readings
// stray and when it was siphoned, and from what ranges and with what spreads the rest is drawn: an
// interval that is narrower misses too often in that world. The other is given by who knows all that but
// which world it is, so that the rates may differ from spot to spot and growth may level off: a few
// stations don't tell. It reports false if the tank goes by another law.
func (t Tank) Narrowest() (w Widths, known bool) {
	if t.oracle == nil {
		return Widths{}, false
	}
	return t.oracle(), true
}

// A knob is a number of the law or of a station that the oracle doesn't know, with the standard
// deviation of what it may be.
type knob struct {
	at      *float64
	sd      float64
	station int // -1: it moves all of them and the floor
}

// knobs are those of a bed; they move l and the stations.
func (b *bed) knobs(l *law, stations []spot, known bool) (list []knob) {
	add := func(station int, at *float64, sd float64) {
		if sd > 0 {
			list = append(list, knob{at, sd, station})
		}
	}
	uniform := func(low, high float64) float64 { return (high - low) / math.Sqrt(12) }
	offset, differ := rms(offsetLow, offsetHigh), rms(0, differMost)
	if known && !b.world.Mixed {
		differ = b.world.Differ
	}
	add(-1, &l.start, uniform(startLow, startHigh))
	if b.world.LevelsOff || !known {
		add(-1, &l.decay, uniform(decayLow, decayHigh))
	}
	if b.world.LevelsOff {
		add(-1, &l.level, uniform(levelLow, levelHigh))
	} else {
		add(-1, &l.rate, uniform(rateLow, rateHigh))
	}
	if b.world.Season {
		add(-1, &l.swing, uniform(swingLow, swingHigh))
		add(-1, &l.phase, uniform(0, 2*math.Pi))
	}
	for i := range l.turns {
		add(-1, &l.turns[i], turn)
	}
	add(-1, &l.rust, uniform(rustLow, rustHigh))
	add(-1, &l.front, uniform(frontLow, frontHigh))
	for i := range l.removals {
		add(-1, &l.removals[i].share, uniform(shareLow, shareHigh))
	}
	for i := range stations {
		s := &stations[i]
		add(i, &s.mulm, offset)
		add(i, &s.rust, offset)
		add(i, &s.rates, differ)
		add(i, &s.fronts, differ)
		for j := range s.removed {
			add(i, &s.removed[j], patchyShare/math.Sqrt2) // half of them are patchy
		}
	}
	return list
}

// rms is the root mean square of what is drawn evenly from a range: a spread that is itself drawn.
func rms(low, high float64) float64 {
	return math.Sqrt((low*low + low*high + high*high) / 3)
}

// atLeast is the larger of two widths of each number.
func (w Widths) atLeast(o Widths) Widths {
	return Widths{max(w.Mulm, o.Mulm), max(w.Oxic, o.Oxic), max(w.Growth, o.Growth), max(w.Shift, o.Shift), max(w.Reached, o.Reached)}
}

// nudge is the part of a knob's standard deviation by which it is turned to see what follows.
const nudge = 1e-4

// narrowest linearises the law about the truth. With a normal prior on every knob and normal noise on
// every edge, the covariance of the knobs is the inverse of the information, and the width of a number
// follows from how the knobs move it.
func (b *bed) narrowest(sights []Sight, stationCount int, truth Truth, known bool) Widths {
	l := b.law
	l.turns, l.removals = slices.Clone(l.turns), slices.Clone(l.removals)
	places := slices.Clone(b.spots[:stationCount])
	for i := range places {
		places[i].removed = slices.Clone(places[i].removed)
	}
	now := b.month(b.days[len(b.days)-1])
	then := now
	if truth.Reached != 0 {
		then = b.month(truth.Reached)
	}
	months := make([][]float64, stationCount)
	for _, s := range sights {
		months[s.Station] = append(months[s.Station], s.Month)
	}
	seen := func(station int) (edges []float64) { // what a station's sights show
		for i, s := range places {
			if station != i && station >= 0 {
				edges = append(edges, make([]float64, 2*len(months[i]))...)
				continue
			}
			for j, mm := range l.mulm(&s, months[i]) {
				edges = append(edges, mm, mm+l.rustAt(&s, months[i][j]))
			}
		}
		return edges
	}
	mean := func() []float64 { // what is asked of the floor
		s := spot{removed: make([]float64, len(l.removals))}
		trend := l.trend(&s, []float64{now})[0]
		mulm, growth := trend+l.season(now), l.slope(&s, trend)
		return []float64{mulm, mulm + l.rustAt(&s, now), growth, growth + l.front, l.trend(&s, []float64{then})[0] + l.season(then)}
	}
	knobs := b.knobs(&l, places, known)
	information := mat.NewSymDense(len(knobs), nil)
	var edges [][]float64
	gradients := mat.NewDense(len(knobs), 5, nil)
	askedAtTruth := mean()
	for i, k := range knobs {
		was := seen(k.station)
		*k.at += nudge * k.sd
		is, asked := seen(k.station), mean()
		*k.at -= nudge * k.sd
		for j := range is {
			is[j] = (is[j] - was[j]) / nudge // of a standard deviation of the knob
		}
		edges = append(edges, is)
		if k.station < 0 {
			for j := range asked {
				gradients.Set(i, j, (asked[j]-askedAtTruth[j])/nudge)
			}
		}
	}
	precision := 1 / (b.noise*b.noise + 1.0/12) // a twelfth for rounding
	for i := range knobs {
		for j := i; j < len(knobs); j++ {
			var sum float64
			for n := range edges[i] {
				sum += edges[i][n] * edges[j][n]
			}
			if sum *= precision; i == j {
				sum++ // the prior, in standard deviations of the knob
			}
			information.SetSym(i, j, sum)
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(information) {
		panic("testworlds: an information matrix is not positive definite")
	}
	width := func(asked int) float64 {
		var solved mat.VecDense
		g := gradients.ColView(asked)
		if err := factor.SolveVecTo(&solved, g); err != nil {
			panic(err)
		}
		return 2 * 1.645 * math.Sqrt(mat.Dot(g, &solved)) // 1.645: the normal's 95 % point
	}
	w := Widths{Mulm: width(0), Oxic: width(1), Growth: width(2), Shift: width(3), Reached: math.Inf(1)}
	if s := (&spot{}); truth.Reached != 0 { // the doubt of the mulm then, in months of its growth
		w.Reached = width(4) / (b.slope(s, limitMM-b.season(then)) + b.seasonSlope(then))
	}
	return w
}
