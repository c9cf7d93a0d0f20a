package palette

import "math"

// Light is what a photo leaves open and all colours of a column share: how much more strongly the
// bed was lit than they show, and how much stray light veils them. The zero value means that all is
// known.
type Light struct {
	EV        float64 // most likely exposure to add to the colours, photographic stops (log2)
	EVDoubt   float64 // its standard deviation, stops
	Veil      float64 // most likely stray light in the colours, in linear light of 0 to 1
	VeilDoubt float64 // its standard deviation
}

// known reports whether nothing is left open.
func (l Light) known() bool { return l.EVDoubt == 0 && l.VeilDoubt == 0 }

// lightState is one state of the light.
type lightState struct {
	ev, veil float64
	gain     float64 // 2^ev
	prior    float64
}

// How finely the light's unknowns are cut: steps on either side, reaching so many standard
// deviations (assumptions).
const (
	exposureSteps = 6
	veilSteps     = 1
	exposureReach = 3.0
	veilReach     = 1.5
)

// states are those that the light may be in; only one if all is known.
func (l Light) states() []lightState {
	evs, evPrior := around(l.EV, l.EVDoubt, exposureSteps, exposureReach)
	veils, veilPrior := around(l.Veil, l.VeilDoubt, veilSteps, veilReach)
	list := make([]lightState, 0, len(evs)*len(veils))
	for i, ev := range evs {
		for j, veil := range veils {
			list = append(list, lightState{ev, veil, math.Exp2(ev), evPrior[i] * veilPrior[j]})
		}
	}
	return list
}

// around cuts a normal distribution into values and their shares.
func around(mean, sd float64, steps int, reach float64) (values, shares []float64) {
	if sd == 0 {
		return []float64{mean}, []float64{1}
	}
	sum := 0.0
	for i := -steps; i <= steps; i++ {
		z := reach * float64(i) / float64(steps)
		values = append(values, mean+z*sd)
		shares = append(shares, math.Exp(-z*z/2))
		sum += math.Exp(-z * z / 2)
	}
	for i := range shares {
		shares[i] /= sum
	}
	return values, shares
}

// relight is a colour as it would look in known light: stray light taken off, exposure added.
func (l lightState) relight(lab Lab) Lab {
	if l.veil == 0 && l.ev == 0 {
		return lab
	}
	light := lab.Linear()
	for i := range light {
		light[i] = l.gain * max(darkest, light[i]-l.veil)
	}
	return light.Lab()
}

// Relight is a colour under the light's most likely state.
func (l Light) Relight(lab Lab) Lab {
	return lightState{ev: l.EV, veil: l.Veil, gain: math.Exp2(l.EV)}.relight(lab)
}

// darkest is the least linear light left when stray light is taken off (assumption: what the darkest
// mud still reflects).
const darkest = 0.003
