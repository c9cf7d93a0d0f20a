package palette

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
)

// Column is a core's layers as seen, top to bottom.
type Column struct {
	Layers []Seen
	Unlit  bool  // the glass is known to get no light
	Loose  bool  // neighbours may yet be found to be one layer
	Light  Light // in which all its colours were seen
}

// Seen is a layer as it was seen.
type Seen struct {
	Lab         Lab
	ThicknessMM float64
	DepthMM     float64 // of its middle, in a photo
	Doubt       float64 // of the colour, by its origin, CIEDE2000
	Texture     Texture // as a photo shows it
	Label       Band    // the keeper's own name for it, taken as certain; NoBand: none
}

// Texture is what a photo shows of a layer's grain. The zero value: nothing.
type Texture struct {
	Contrast float64 // standard deviation of ln luminance between places ContrastMM apart
	Fineness float64 // of the square of that, the part which places FinenessMM apart differ by already
}

// How far apart places are whose light is compared, mm: a coarse grain, and a fine one (assumptions).
const (
	ContrastMM = 1.6
	FinenessMM = 0.35
)

// Match is a column with the probabilities of its bands, under each state of the light that its
// colours allow.
type Match struct {
	chains   []chain
	evidence float64
	unlit    bool
}

// chain is a column under one state of the light and one showing of the native colour: a hidden Markov
// chain down the column whose state is the last step of the order. A layer either takes the next step or,
// as an overlay, leaves the step as it is.
type chain struct {
	view
	matcher    *Matcher // as it is in this view
	links      []link
	likelihood float64 // natural logarithm, of the column
	evidence   float64 // the same with how likely this view is
	share      float64 // probability of this view
}

// view is a state of the light and a showing of the native colour.
type view struct {
	lightState
	showing
	shaded int  // of shades
	all    bool // all is known, and nothing is asked of the layers
	loose  bool // of the column
}

// order is how layers follow each other.
func (v *view) order() *order {
	switch {
	case v.all:
		return &asTyped
	case v.loose:
		return &asFound
	}
	return &asCut
}

// relight is a colour as it would look in known light if no grain shaded another.
func (v *view) relight(lab Lab) Lab {
	if v.all {
		return v.lightState.relight(lab)
	}
	state := v.lightState
	state.ev += shades[v.shaded].stops
	state.gain = math.Exp2(state.ev)
	return state.relight(lab)
}

// link is a layer of a chain.
type link struct {
	weights
	before [steps]float64       // P(step above | layers above), filtered
	after  [steps]float64       // evidence of the layers below, given the step here
	prob   [Unknown + 1]float64 // P(band | whole column)
}

// weights is what a layer by itself says about its band: likelihood × thickness × share, without
// the order.
type weights [Unknown + 1]float64

// Match gives every band a probability at every layer of a column. A photo's light is expected to be what other
// photos of the place told.
func (m *Matcher) Match(column Column) *Match {
	column.Light = column.Light.Taught(m.light)
	return m.match(column, column.views())
}

// views are those that a column may be in, each with its share in its light's prior.
func (c *Column) views() []view {
	if c.Light.known() {
		return []view{{lightState: c.Light.states()[0], showing: showing{layer: nowhere}, all: true}}
	}
	showings := c.showings()
	var list []view
	for _, light := range c.Light.states() {
		prior := light.prior
		for _, s := range showings {
			share := s.shaded()
			for shaded := range shades {
				light.prior = prior * share[shaded] * s.share(len(showings))
				list = append(list, view{lightState: light, showing: s, shaded: shaded, loose: c.Loose})
			}
		}
	}
	return list
}

func (m *Matcher) match(column Column, views []view) *Match {
	match := &Match{chains: make([]chain, len(views)), unlit: column.Unlit}
	share := func(first int) {
		for i := first; i < len(views); i += workers {
			match.chains[i] = m.in(views[i]).weigh(views[i], column)
		}
	}
	var pending sync.WaitGroup
	for first := 1; first < min(workers, len(views)); first++ {
		pending.Go(func() { share(first) })
	}
	share(0) // here: a core read by eye has one view, and a goroutine for it costs a quarter more
	pending.Wait()
	match.shareOut()
	return match
}

// workers is how many goroutines share the views.
const workers = 4

// in is the matcher as it is in a view.
func (m *Matcher) in(v view) *Matcher {
	switch {
	case v.all:
		return m
	case v.layer == nowhere:
		return m.without()
	}
	return m.showing(v.relight(v.color), v.depthMM, v.shaded)
}

// weigh weighs a column in one view.
func (m *Matcher) weigh(v view, column Column) chain {
	c := chain{view: v, matcher: m, links: make([]link, len(column.Layers))}
	for i := range c.links {
		c.links[i].weights = m.weighLayer(&column.Layers[i], i == 0, column.Unlit, v, i == v.layer)
	}
	c.likelihood = c.forward()
	c.evidence = math.Log(v.prior) + c.likelihood
	c.backward()
	return c
}

// shareOut gives the chains their shares by their evidence and drops those with next to none.
func (m *Match) shareOut() {
	best := math.Inf(-1)
	for i := range m.chains {
		best = max(best, m.chains[i].evidence)
	}
	m.chains = slices.DeleteFunc(m.chains, func(c chain) bool { return c.evidence < best-idleState })
	sum := 0.0
	for i := range m.chains {
		c := &m.chains[i]
		c.share = math.Exp(c.evidence - best)
		sum += c.share
	}
	for i := range m.chains {
		m.chains[i].share /= sum
	}
	m.evidence = best + math.Log(sum)
}

// Evidence is the logarithm of the likelihood of the column as cut: it compares two ways to
// cut one view into layers.
func (m *Match) Evidence() float64 { return m.evidence }

// idleState is how far below the best a state's logarithm of evidence may lie and still count
// (assumption: e^-9 is one in 8,000).
const idleState = 9.0

// Names is each layer's likeliest band in view of the whole column, see [Match.Names].
func (m *Matcher) Names(column Column) []Band { return m.Match(column).Names() }

// Names is each layer's likeliest band over everything that the other layers and the light may be,
// so that no alternative is likelier than the name.
func (m *Match) Names() []Band {
	names := make([]Band, len(m.chains[0].links))
	for i := range names {
		names[i] = Unknown
		for b := MulmLight; b < Unknown; b++ {
			if m.Probability(i, b) > m.Probability(i, names[i]) {
				names[i] = b
			}
		}
	}
	return names
}

// weighLayer weighs a layer in a view; shows: the view has the native colour from it.
func (m *Matcher) weighLayer(seen *Seen, first, unlit bool, v view, shows bool) (weight weights) {
	color := v.relight(seen.Lab)
	if seen.Label != NoBand {
		weight[seen.Label] = m.named(seen, color, v, shows)
		return weight
	}
	density, shares := thicknessDensities(seen.ThicknessMM), overlayShares(first, unlit)
	again := m.again(color, seen, v, shows)
	for b := range again {
		again[b] *= density[b] * shares[b]
	}
	if seen.Texture != (Texture{}) {
		for b, like := range grainDensities(seen.Texture, v.grain(shows)) {
			density[b] *= like
		}
	}
	if shows {
		color := tint(color)
		weight[Native] = m.substrate(&color, seen.Doubt, v.shaded)*density[Native]*shares[Native] + again[Native]
		return weight
	}
	weight = m.inPhoto(color, seen)
	for b := range weight {
		weight[b] = weight[b]*density[b]*shares[b] + again[b]
	}
	return weight
}

// grain is the grain of the layer that shows the native colour, beside which a layer's is laid.
func (v *view) grain(shows bool) Texture {
	if shows {
		return Texture{}
	}
	return v.texture
}

// named weighs a layer that the keeper has named: nothing but the name can be, and what its colour says of the light
// remains. mistold is how little it says where it is not the band's at all.
func (m *Matcher) named(seen *Seen, color Lab, v view, shows bool) float64 {
	if v.all || seen.Label == Unknown {
		return 1
	}
	plain := *seen
	plain.Texture = Texture{}
	again := m.again(color, &plain, v, shows)[seen.Label]
	if shows {
		color := tint(color)
		return again + m.substrate(&color, seen.Doubt, v.shaded)
	}
	return again + mistold + m.inPhoto(color, seen)[seen.Label]
}

// overlay is the weight of all bands that leave the step as it is.
func (w *weights) overlay() (sum float64) {
	for _, b := range overlays {
		sum += w[b]
	}
	return sum
}

// step is the joint weight of going from one step to another at this layer by taking the latter's
// band.
func (w *weights) step(order *order, from, to int) float64 { return order[from][to] * w[stepBand[to]] }

// pass takes the weights of the steps above a layer to those below it.
func (w *weights) pass(order *order, now [steps]float64) (next [steps]float64) {
	overlay := w.overlay()
	for from, p := range now {
		if p == 0 {
			continue
		}
		next[from] += p * overlay
		for _, to := range wayDown {
			next[to] += p * w.step(order, from, to)
		}
	}
	return next
}

// forward filters: it fills before, layer by layer downward, and gives the logarithm of the
// column's likelihood.
func (c *chain) forward() (evidence float64) {
	now := [steps]float64{atTop: 1}
	for i := range c.links {
		c.links[i].before = now
		next := c.links[i].pass(c.order(), now)
		var sum float64
		for _, p := range next {
			sum += p
		}
		for to := range next {
			next[to] /= sum
		}
		evidence += math.Log(sum)
		now = next
	}
	var floor float64
	for to, p := range now {
		floor += p * atFloor[to]
	}
	return evidence + math.Log(floor)
}

// backward smooths: it fills after and prob, layer by layer upward.
func (c *chain) backward() {
	below, order := atFloor, c.order()
	for i := len(c.links) - 1; i >= 0; i-- {
		l := &c.links[i]
		l.after = below
		overlay := l.overlay()
		var next [steps]float64
		var sum, largest float64
		for _, from := range froms {
			next[from] = overlay * below[from]
			for _, to := range wayDown {
				joint := l.step(order, from, to) * below[to]
				next[from] += joint
				l.prob[stepBand[to]] += l.before[from] * joint
			}
			for _, b := range overlays {
				l.prob[b] += l.before[from] * l.weights[b] * below[from]
			}
			largest = max(largest, next[from])
		}
		for _, p := range l.prob {
			sum += p
		}
		for b := range l.prob {
			l.prob[b] /= sum
		}
		for from := range next {
			next[from] /= largest
		}
		below = next
	}
}

// heaviest is the overlay that a layer most looks like.
func (w *weights) heaviest() Band {
	best := overlays[0]
	for _, b := range overlays[1:] {
		if w[b] > w[best] {
			best = b
		}
	}
	return best
}

// Probability is that of a band at a layer, given the whole column, 0 to 1.
func (m *Match) Probability(layer int, b Band) float64 {
	p := 0.0
	for i := range m.chains {
		c := &m.chains[i]
		p += c.share * c.links[layer].prob[b]
	}
	return p
}

// Light is what the column's colours say about the light: the mean and standard deviation of each of
// its unknowns.
func (m *Match) Light() Light {
	var mean, square Light
	for i := range m.chains {
		c := &m.chains[i]
		mean.EV += c.share * c.ev
		square.EV += c.share * c.ev * c.ev
		mean.Veil += c.share * c.veil
		square.Veil += c.share * c.veil * c.veil
	}
	mean.EVDoubt = math.Sqrt(max(0, square.EV-mean.EV*mean.EV))
	mean.VeilDoubt = math.Sqrt(max(0, square.Veil-mean.Veil*mean.Veil))
	return mean
}

// Sample draws one path down the column by its probability and writes its bands into path, which
// must have as many elements as the column has layers.
func (m *Match) Sample(rng *rand.Rand, path []Band) {
	c := &m.chains[0]
	if len(m.chains) > 1 {
		u := rng.Float64()
		for i := range m.chains {
			c = &m.chains[i]
			if u -= c.share; u < 0 {
				break
			}
		}
	}
	at, order := atTop, c.order()
	for i := range c.links {
		path[i], at = c.links[i].take(order, rng.Float64(), at)
	}
}

// take picks a layer's band and the step after it, given the step above and a uniform number.
func (l *link) take(order *order, u float64, from int) (Band, int) {
	var sum float64
	for _, to := range wayDown {
		sum += l.step(order, from, to) * l.after[to]
	}
	sum += l.overlay() * l.after[from]
	u *= sum
	for _, to := range wayDown {
		if u -= l.step(order, from, to) * l.after[to]; u < 0 {
			return stepBand[to], to
		}
	}
	for _, b := range overlays {
		if u -= l.weights[b] * l.after[from]; u < 0 {
			return b, from
		}
	}
	return l.fallback(order, from)
}

// fallback is where take ends if rounding leaves some of the uniform number over.
func (l *link) fallback(order *order, from int) (Band, int) {
	band, step, most := l.heaviest(), from, 0.0
	for _, to := range wayDown {
		if p := l.step(order, from, to) * l.after[to]; p > most {
			band, step, most = stepBand[to], to, p
		}
	}
	return band, step
}
