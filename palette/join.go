package palette

import (
	"math"
	"slices"
)

// A Joint is a layer that may stand for some neighbours in a column. It remembers what its colour says,
// so that asking about it again, after others were joined, is cheap.
type Joint struct {
	seen  Seen
	first bool // it is the column's first layer
	says  map[asked]*weights
}

// asked is a view, whatever the number of the layer that shows the native colour, and whether it is this one.
type asked struct {
	view
	shows bool
}

// NewJoint is a layer, the column's first or another.
func NewJoint(seen Seen, first bool) *Joint { return &Joint{seen, first, map[asked]*weights{}} }

func (j *Joint) weights(c *chain, shows, unlit bool) *weights {
	key := asked{c.view, shows}
	key.layer = 0
	w := j.says[key]
	if w == nil {
		found := c.matcher.weighLayer(&j.seen, j.first, unlit, c.view, shows)
		w = &found
		j.says[key] = w
	}
	return w
}

// JoinedEvidence is the evidence of the column with n layers from the i-th on joined into one, in the
// views that it was matched in. The layers above and below say the same as before, so only the joined ones
// are weighed.
func (m *Match) JoinedEvidence(i, n int, by *Joint) float64 {
	evidence := make([]float64, len(m.chains))
	for at := range m.chains {
		c := &m.chains[at]
		above, below := c.links[i].before, &c.links[i+n-1].after
		apart := above
		for k := range n {
			apart = c.links[i+k].pass(c.order(), apart)
		}
		shows := i <= c.layer && c.layer < i+n
		evidence[at] = c.evidence + math.Log(dot(by.weights(c, shows, m.unlit).pass(c.order(), above), below)/dot(apart, below))
	}
	best := slices.Max(evidence)
	sum := 0.0
	for _, e := range evidence {
		if e >= best-idleState {
			sum += math.Exp(e - best)
		}
	}
	return best + math.Log(sum)
}

func dot(a [steps]float64, b *[steps]float64) (sum float64) {
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// Join is the match of the column with n layers from the i-th on joined into one.
func (m *Match) Join(i, n int, by *Joint) *Match {
	out := &Match{chains: slices.Clone(m.chains), unlit: m.unlit}
	for at := range out.chains {
		c := &out.chains[at]
		former := c.evidence - c.likelihood
		shows := i <= c.layer && c.layer < i+n
		if c.layer >= i {
			c.layer = max(i, c.layer-n+1)
		}
		links := make([]link, 0, len(c.links)-n+1)
		for k := range c.links {
			switch {
			case k == i:
				links = append(links, link{weights: *by.weights(c, shows, m.unlit)})
			case k < i || k >= i+n:
				links = append(links, link{weights: c.links[k].weights})
			}
		}
		c.links = links
		c.likelihood = c.forward()
		c.evidence = former + c.likelihood
		c.backward()
	}
	out.shareOut()
	return out
}
