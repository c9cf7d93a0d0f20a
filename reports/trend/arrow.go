package trend

import (
	"math"
	"slices"
)

// An arrow is the equations of a course and its stations. Stations depend on the course and not on each
// other, so each is eliminated by itself and the work grows with their number only.
type arrow struct {
	course *course
	size   int
	shared equations // of the course, stations eliminated, without its own prior
	right  []float64
	blocks []block
	square float64 // of the readings, less what the stations explain
	logDet float64 // of the stations' blocks
}

// A block is one station: its offset, its rate beside the tank's, and what each removal that it was
// read on both sides of took.
type block struct {
	removals []float64
	own      equations
	across   []float64 // station × course
	right    []float64 // of the station alone
	solved   []float64 // right solved
	carried  []float64 // across solved by the factor alone
}

const (
	offsetAt = iota // now, mm, as if nothing had been taken
	rateAt          // beside the tank's, mm a month
	takenAt         // by each removal, mm
)

// A sighting is a reading with its weight in the equations.
type sighting struct {
	t, y   float64
	weight float64 // 1/mm²
}

// spreads are what is thought of stations before anything is read, standard deviations.
type spreads struct {
	offset float64 // mm
	rate   float64 // mm a month
	taken  float64 // mm
}

// equations are those of a station with so many parameters before anything is read.
func (p spreads) equations(parameters int) equations {
	e := newEquations(parameters)
	for k := range parameters {
		deviation := p.taken
		switch k {
		case offsetAt:
			deviation = p.offset
		case rateAt:
			deviation = p.rate
		}
		e.matrix[k*parameters+k] = 1 / (deviation * deviation)
	}
	return e
}

// station fills in what each of a station's parameters adds to a reading. What a removal took grows
// back as the slope decays: growth that levels off is quicker again from lower down.
func (c *course) station(removals []float64, t float64, row []float64) {
	row[offsetAt], row[rateAt] = 1, t-c.now
	for k, removal := range removals {
		row[takenAt+k] = 0
		if t > removal {
			row[takenAt+k] = -math.Exp(-c.decay * (t - removal))
		}
	}
}

// stationSlope fills in what each of a station's parameters adds to its slope now.
func (c *course) stationSlope(removals []float64, row []float64) {
	row[offsetAt], row[rateAt] = 0, 1
	for k, removal := range removals {
		row[takenAt+k] = c.decay * math.Exp(-c.decay*(c.now-removal))
	}
}

// newArrow sets up the equations of stations' sightings; removals are each station's own.
func newArrow(c *course, stations [][]sighting, removals [][]float64, prior spreads) *arrow {
	g := c.size()
	a := &arrow{course: c, size: g, shared: newEquations(g), right: make([]float64, g), blocks: make([]block, len(stations))}
	row := make([]float64, g)
	for s, list := range stations {
		b := &a.blocks[s]
		k := takenAt + len(removals[s])
		*b = block{removals: removals[s], own: prior.equations(k), across: make([]float64, k*g), right: make([]float64, k)}
		off := make([]float64, k)
		for _, seen := range list {
			c.at(seen.t, row)
			c.station(b.removals, seen.t, off)
			a.square += seen.weight * seen.y * seen.y
			a.shared.add(seen.weight, row)
			b.own.add(seen.weight, off)
			for i, x := range row {
				a.right[i] += seen.weight * seen.y * x
			}
			for i, x := range off {
				if x == 0 {
					continue
				}
				wx, line := seen.weight*x, b.across[i*g:(i+1)*g]
				b.right[i] += wx * seen.y
				for j, y := range row {
					line[j] += wx * y
				}
			}
		}
		a.eliminate(b)
	}
	return a
}

// eliminate takes a station out of the equations of the course.
func (a *arrow) eliminate(b *block) {
	g, k := a.size, b.own.n
	b.own.factor()
	a.logDet += b.own.logDet
	b.solved = slices.Clone(b.right)
	b.own.forward(b.solved)
	a.square -= dot(b.solved, b.solved)
	b.carried = slices.Clone(b.across)
	for i := range k { // the factor solved for all columns at once
		line := b.own.matrix[i*k : i*k+i+1]
		row := b.carried[i*g : (i+1)*g]
		for n, x := range line[:i] {
			for j, y := range b.carried[n*g : (n+1)*g] {
				row[j] -= x * y
			}
		}
		for j := range row {
			row[j] /= line[i]
		}
		a.shared.add(-1, row)
		for j, x := range row {
			a.right[j] -= x * b.solved[i]
		}
	}
	b.own.backward(b.solved)
}

// A target is a sum of parameters that is asked for: of the course, and of each station.
type target struct {
	course   []float64
	stations [][]float64 // nil: the station does not count

	reduced  []float64 // the course's part once the stations are eliminated
	constant float64   // what the stations alone say of it
	variance float64   // and leave open
}

// reduce prepares a target for these equations.
func (a *arrow) reduce(t *target) {
	t.reduced = slices.Clone(t.course)
	t.constant, t.variance = 0, 0
	for s, own := range t.stations {
		if own == nil {
			continue
		}
		b := &a.blocks[s]
		solved := slices.Clone(own)
		b.own.solve(solved)
		t.constant += dot(own, b.solved)
		t.variance += dot(own, solved)
		for i, x := range solved {
			for j, y := range b.across[i*a.size : (i+1)*a.size] {
				t.reduced[j] -= x * y
			}
		}
	}
}

// together is what the stations' parts of two targets have in common: their covariance apart from the
// course.
func (a *arrow) together(t, u *target) (sum float64) {
	for s, own := range t.stations {
		if own == nil || u.stations[s] == nil {
			continue
		}
		solved := slices.Clone(u.stations[s])
		a.blocks[s].own.solve(solved)
		sum += dot(own, solved)
	}
	return sum
}
