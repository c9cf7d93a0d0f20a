package trend

import "testing"

// What is weighed below, about as much of it as beds do (assumptions): a runaway and a removal.
var (
	runaway = Turn{Mean: -6, Spread: 4}
	removal = Turn{Step: true, Mean: -15, Spread: 10}
)

// gain is by how much more likely a turn makes a fit's readings than none does, a logarithm.
func (f *Fit) gain(turn Turn, at float64) float64 {
	turn.At = at
	return f.Bound(&turn) - f.Bound(nil)
}

// clearly is a gain that leaves no doubt, a logarithm: 3000 to 1.
const clearly = 8.0

// TestBound_turns: each kind of turn is told from none and from the other kind, at its time; neither an even
// record nor one with a slip shows any.
func TestBound_turns(t *testing.T) {
	for seed := range uint64(30) {
		r := usual.record(dice(seed))
		from := usual.visit(r, 6)
		ramp := r.copied()
		for i, reading := range ramp.Readings {
			ramp.Readings[i].Y -= 8 * max(0, reading.T-from)
		}
		f := New(ramp)
		if gain := f.gain(runaway, from); gain < clearly || gain < f.gain(runaway, from-3)+2 || gain < f.gain(runaway, from+3)+2 {
			t.Errorf("seed %d, 8 mm a month: gain %.1f, 3 months earlier %.1f, later %.1f", seed, gain, f.gain(runaway, from-3), f.gain(runaway, from+3))
		}
		if ofStep := f.gain(removal, from); ofStep > f.gain(runaway, from)-clearly {
			t.Errorf("seed %d, 8 mm a month: a step gains %.1f, a ramp %.1f", seed, ofStep, f.gain(runaway, from))
		}
		f = New(r.lowered(from, 20, 0, 1, 2))
		if ofStep, ofRamp := f.gain(removal, from), f.gain(runaway, from); ofStep < clearly || ofRamp > ofStep-clearly {
			t.Errorf("seed %d, lowered by 20 mm: a step gains %.1f, a ramp %.1f", seed, ofStep, ofRamp)
		}
		slip, lastSlip := r.copied(), r.copied()
		slip.Readings[7*usual.stations+1].Y /= 10
		lastSlip.Readings[len(r.Readings)-1].Y -= 20
		for name, other := range map[string]*Record{"even": r, "with a slip": slip, "with a slip at the end": lastSlip} {
			f := New(other)
			if ofStep, ofRamp := f.gain(removal, from), f.gain(runaway, from); ofStep > -1 || ofRamp > -1 {
				t.Errorf("seed %d, %s: a step gains %.1f, a ramp %.1f, want less than none", seed, name, ofStep, ofRamp)
			}
		}
	}
}

// TestBound_never: a turn after the last reading, or one that turns nothing, is as likely as none.
func TestBound_never(t *testing.T) {
	r := usual.record(dice(3))
	f := New(r)
	for name, gain := range map[string]float64{
		"after the last reading": f.gain(runaway, r.now()),
		"nothing, a ramp":        f.gain(Turn{Spread: 1e-9}, 5),
		"nothing, a step":        f.gain(Turn{Step: true, Spread: 1e-9}, 5),
	} {
		if !alike(gain, 0, 1e-6) {
			t.Errorf("%s: gains %g", name, gain)
		}
	}
}
