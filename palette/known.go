package palette

import "math"

// A bed changes slowly: a layer that was named in one photo is there again in the next. So a layer that looks as it
// did is of its band for that reason too, whatever else such a colour, such a grain or such a place may mean.

// known is what a matcher knows from other photos of the tank.
type known struct {
	layers [len(shades)][]knownLayer // as a bed in each shade shows them, in the light in which its other bands look as their matter does
	light  []Offset
}

// knownLayer is a layer that was named, as a group of one colour.
type knownLayer struct {
	group
	texture Texture
}

// learnedKind is the kind of the colours that photos taught.
const learnedKind = "learned"

// recurs is how much a layer that looks as one that was named counts for its band, beside a colour of all tanks that
// fits as well (assumption: it is there again more surely than the order of bands expects any one band).
const recurs = 2.0

// asLooks is the place in shades of a bed that looks as its matter does.
const asLooks = 0

func (l Lessons) known() (k known) {
	k.light = l.Light
	var ofBand [Unknown + 1]float64
	for _, layer := range l.Layers {
		ofBand[layer.Band]++
	}
	for i, shaded := range shades {
		lighter := lightState{ev: shaded.stops, gain: math.Exp2(shaded.stops)}
		for _, layer := range l.Layers {
			color := spot{color: tint(lighter.relight(layer.Color.Lab())), variance: layer.Spread * layer.Spread}
			k.layers[i] = append(k.layers[i], knownLayer{
				group{layer.Band, learnedKind, recurs / ofBand[layer.Band], []spot{color}}, layer.Texture,
			})
		}
	}
	return k
}

// grainStrays is by how much the grain of one layer strays from photo to photo, standard deviation of the logarithm
// (assumption: as that of native layers within one).
const grainStrays = 0.3

// again is the likelihood of a layer's colour and grain in every band, if it is one that was named.
func (m *Matcher) again(lab Lab, seen *Seen, v view, shows bool) (like [Unknown + 1]float64) {
	if len(m.layers[v.shaded]) == 0 {
		return like
	}
	var usual [Unknown + 1]float64
	if seen.Texture != (Texture{}) {
		usual = grainDensities(seen.Texture, v.grain(shows))
	}
	color := tint(lab)
	for i := range m.layers[v.shaded] {
		l := &m.layers[v.shaded][i]
		like[l.band] += l.weight * l.density(&color, seen.Doubt) * l.grain(seen.Texture, usual[l.band])
	}
	return like
}

// grain is the density of a grain, if it is seen at all: usual is that of the band.
func (l *knownLayer) grain(seen Texture, usual float64) float64 {
	switch {
	case seen == (Texture{}):
		return 1
	case l.texture == (Texture{}):
		return usual
	}
	contrast, fineness := logNormal{l.texture.Contrast, grainStrays}, logNormal{l.texture.Fineness, grainStrays}
	return contrast.density(math.Log(seen.Contrast)) * fineness.density(math.Log(seen.Fineness))
}
