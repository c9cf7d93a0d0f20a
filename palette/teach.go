package palette

import "math"

// Lessons are what a tank's photos with layers that its keeper has named teach about another photo of it. The zero
// value: nothing.
type Lessons struct {
	Layers []Learned
	Light  []Offset // of photos of the same place
}

// Learned is a layer that the keeper has named in a photo.
type Learned struct {
	Band    Band
	Color   Color   // as it looks in white light, the shade of its own grains included
	Spread  float64 // root-mean-square CIEDE2000 difference from Color
	Texture Texture
}

// taughtSpread is how far one band strays from photo to photo of a tank, root mean square CIEDE2000 (assumption:
// more than within one photo, less than over all tanks). The doubt of a photo's colours is not in it: half of
// its variance is the camera's and the card's own and the same in both photos, so the doubt of one covers both.
const taughtSpread = 4.0

// NewLearned is what a photo teaches of a layer that is labelled; light is what the photo's match says of its light.
// What the light's doubt has that is not the same in another photo widens the spread.
func NewLearned(seen Seen, light Light) Learned {
	looks, brighter := light.Relight(seen.Lab), light
	brighter.EV += math.Sqrt(1-lastingShare) * light.EVDoubt
	return Learned{
		Band: seen.Label, Color: looks.Linear().Color(), Texture: seen.Texture,
		Spread: math.Hypot(taughtSpread, Difference(looks, brighter.Relight(seen.Lab))),
	}
}

// Offset is by how many stops the light of one photo differed from what its card, or the lack of one, led to
// expect, as far as that lasts at its place: the mean and the standard deviation of a normal distribution.
type Offset struct{ EV, Doubt float64 }

// lastingShare is the part of the variance of a photo's exposure that is the same in every photo of a place (same
// card, same lamp, same camera); the rest is new each time (assumption).
const lastingShare = 0.5

// leastTold is the part of the variance of a photo's exposure that its names must take away to tell anything of it
// (assumption).
const leastTold = 0.1

// leastOpen is the doubt of a photo's exposure, in stops, under which it counts as known (assumption: no eye and no
// camera tells a thousandth of a stop). The squares of far smaller doubts would be 0 and divided by.
const leastOpen = 0.001

// NewOffset is what a photo tells of the light at its place, from its light as expected and as its named layers show
// it; false: nothing. What was expected is taken out of what was found: a mean of variance s² after one of variance
// p² before is what an observation of variance 1/(1/s² - 1/p²) makes of it. What is new each time adds to its doubt.
func NewOffset(expected, found Light) (Offset, bool) {
	if expected.EVDoubt < leastOpen {
		return Offset{}, false
	}
	before, after := expected.EVDoubt*expected.EVDoubt, found.EVDoubt*found.EVDoubt
	told := 1 - after/before
	if told < leastTold {
		return Offset{}, false
	}
	return Offset{
		EV:    (found.EV - expected.EV) / told,
		Doubt: math.Sqrt(after/told + (1-lastingShare)*before),
	}, true
}

// Lasting weighs offsets by their precision, together with none, for the next photo at their place, whose exposure is
// open by so many stops: what lasts of it, and its doubt.
func Lasting(by []Offset, open float64) Offset {
	precision, sum := 1/(lastingShare*open*open), 0.0
	for _, o := range by {
		precision += 1 / (o.Doubt * o.Doubt)
		sum += o.EV / (o.Doubt * o.Doubt)
	}
	return Offset{EV: sum / precision, Doubt: math.Sqrt(1 / precision)}
}

// Taught is the light to expect after what other photos of the place told. Its doubt is at least that of what is new
// each time.
func (l Light) Taught(by []Offset) Light {
	if len(by) == 0 || l.EVDoubt < leastOpen {
		return l
	}
	lasting := Lasting(by, l.EVDoubt)
	l.EV += lasting.EV
	l.EVDoubt = math.Hypot(math.Sqrt(1-lastingShare)*l.EVDoubt, lasting.Doubt)
	return l
}
