package trend

import (
	"math"
)

// Fit is what a record says of now: the tank's level and rate under each way its course may go.
type Fit struct {
	States  []State
	Sound   []float64 // by reading: the probability that it is no slip
	Error   float64   // how far a sound reading strays, mm, standard deviation
	Freedom float64   // how many readings that is known from
	Apart   []float64 // by station: its rate beside the tank's, mm a month
	Differ  bool      // the stations' rates differ by more than chance
	Season  float64   // the probability that the course has a season

	cumulative []float64
	level      spread // of the floor about its stations
	rate       spread
	mode       *solution
	likeliest  State
	weighing   *weighing
}

// State is one way a course may go: how likely, and the stations' mean level and rate now.
type State struct {
	Weight     float64
	Decay      float64 // of the slope, a month
	Drift      float64 // how far the slope strays in a month, mm a month
	Season     bool
	Level      float64 // mm
	Rate       float64 // mm a month
	levelError float64 // standard deviations
	rateError  float64
	together   float64 // their correlation
}

// The ways a course may go, with how likely each is before anything is read (assumptions: half of
// all beds grow evenly; organic matter decays by 0.001 to 0.02 a day, and growth that it limits
// levels off as fast).
var (
	decays  = [...]weighted{{0, 0.75}, {0.04, 0.07}, {0.09, 0.07}, {0.18, 0.06}, {0.35, 0.05}}
	drifts  = [...]weighted{{0, 0.69}, {0.05, 0.1}, {0.15, 0.13}, {0.4, 0.08}}
	seasons = [...]weighted{{0, 0.8}, {1, 0.2}}
)

type weighted struct{ value, weight float64 }

// leastWeight is the least probability of a way that is kept (assumption).
const leastWeight = 0.002

// What is usual of the spots of a floor: their levels stand apart by usualApart mm and a share of
// the level, their rates by usualRateApart mm a month and a share of the rate (assumptions).
const (
	usualApart, usualApartShare         = 0.4, 0.12
	usualRateApart, usualRateApartShare = 0.02, 0.22
	usualAlike                          = 0.77 // of all floors grow alike everywhere
)

// New fits a record; nil: it has no reading.
func New(r *Record) *Fit { return NewTurned(r, nil) }

// NewTurned fits a record whose course takes a turn, nil for none.
func NewTurned(r *Record, turn *Turn) *Fit {
	if len(r.Readings) == 0 {
		return nil
	}
	w := weigh(r, turn)
	f := &Fit{Sound: w.sound, Error: w.spot, Freedom: w.freedom, weighing: w}
	sightings := w.sightings()
	knots := knotsOf(r.begin(), r.now())
	best := math.Inf(-1)
	var logs []float64
	for _, decay := range decays {
		if decay.value > 0 && r.now()-r.begin() < leastBend {
			break
		}
		c := &course{begin: r.begin(), now: r.now(), decay: decay.value, knots: knots, turn: turn}
		a := newArrow(c, sightings, w.removals, w.prior)
		level, rate := w.targets(c)
		a.reduce(level)
		a.reduce(rate)
		both := a.together(level, rate)
		precisions := make([]float64, c.size())
		for _, drift := range drifts {
			for _, season := range seasons {
				if season.value > 0 && r.now()-r.begin() < leastCycle {
					continue
				}
				c.precisions(drift.value, season.value > 0, precisions)
				s := a.solve(precisions)
				log := s.evidence + math.Log(decay.weight*drift.weight*season.weight)
				if log > best {
					best, f.mode = log, s
				}
				logs = append(logs, log)
				f.States = append(f.States, s.state(level, rate, both, w.middle, State{Decay: decay.value, Drift: drift.value, Season: season.value > 0}))
			}
		}
	}
	f.weighStates(logs, best)
	f.floor()
	return f
}

// A record must span so many months before it can show that growth levels off, or a season
// (assumptions).
const leastBend, leastCycle = 4.0, 8.0

// weighStates turns evidence into weights and drops what has hardly any.
func (f *Fit) weighStates(logs []float64, best float64) {
	var sum float64
	for _, l := range logs {
		sum += math.Exp(l - best)
	}
	kept := f.States[:0]
	var cumulative float64
	for i, l := range logs {
		if l == best {
			f.likeliest = f.States[i]
		}
		if weight := math.Exp(l-best) / sum; weight >= leastWeight {
			state := f.States[i]
			state.Weight = weight
			kept = append(kept, state)
			cumulative += weight
			f.cumulative = append(f.cumulative, cumulative)
			if state.Season {
				f.Season += weight
			}
		}
	}
	f.States = kept
	for i := range f.cumulative {
		f.cumulative[i] /= cumulative
		f.States[i].Weight /= cumulative
	}
	f.Season /= cumulative
}

// targets are the stations' mean level and rate now: of the level those that are current count, of
// the rate all that were read.
func (w *weighing) targets(c *course) (level, rate *target) {
	level = &target{course: make([]float64, c.size()), stations: make([][]float64, len(w.by))}
	rate = &target{course: make([]float64, c.size()), stations: make([][]float64, len(w.by))}
	c.at(c.now, level.course)
	c.slope(rate.course)
	var current, read float64
	for s, list := range w.by {
		if w.record.Current[s] && len(list) > 0 {
			current++
		}
		if len(list) > 0 {
			read++
		}
	}
	for s, list := range w.by {
		if len(list) == 0 {
			continue
		}
		size := takenAt + len(w.removals[s])
		own := make([]float64, size)
		c.stationSlope(w.removals[s], own)
		rate.stations[s] = scaled(own, 1/read)
		if w.record.Current[s] {
			own := make([]float64, size)
			c.station(w.removals[s], c.now, own)
			level.stations[s] = scaled(own, 1/current)
		}
	}
	return level, rate
}

func scaled(row []float64, factor float64) []float64 {
	for i := range row {
		row[i] *= factor
	}
	return row
}

// state fills in the level and rate of a solution.
func (s *solution) state(level, rate *target, both, middle float64, as State) State {
	ofLevel, ofRate := s.open(level), s.open(rate)
	as.Level, as.Rate = s.value(level)+middle+s.course.turn.mean(s.course.now), s.value(rate)+s.course.turn.slope()
	as.levelError = math.Sqrt(level.variance + dot(ofLevel, ofLevel))
	as.rateError = math.Sqrt(rate.variance + dot(ofRate, ofRate))
	as.together = (both + dot(ofLevel, ofRate)) / (as.levelError * as.rateError)
	return as
}

// floor works out how far the floor may differ from its stations.
func (f *Fit) floor() {
	w := f.weighing
	var levels, rates, levelNoise, rateNoise []float64
	f.Apart = make([]float64, len(w.by))
	var mean, read float64
	for s, list := range w.by {
		if len(list) == 0 {
			continue
		}
		level, rate, levelVar, rateVar := f.mode.alone(w, s)
		off := make([]float64, takenAt+len(w.removals[s]))
		f.mode.course.stationSlope(w.removals[s], off)
		f.Apart[s] = dot(off, f.mode.station(s))
		mean, read = mean+f.Apart[s], read+1
		if w.record.Current[s] {
			levels, levelNoise = append(levels, level), append(levelNoise, levelVar)
		}
		rates, rateNoise = append(rates, rate), append(rateNoise, rateVar)
	}
	for s := range f.Apart {
		f.Apart[s] -= mean / read
	}
	var level, rate float64
	for _, state := range f.States {
		level += state.Weight * state.Level
		rate += state.Weight * state.Rate
	}
	f.level = spreadOf(usualSpread{usualApart + usualApartShare*math.Abs(level), 0}, levels, levelNoise)
	f.rate = spreadOf(usualSpread{usualRateApart + usualRateApartShare*math.Abs(rate), usualAlike}, rates, rateNoise)
	f.Differ = differ(rates, rateNoise)
}
