package palette

import "math"

// A column goes down through steps, numbered as the bands are. Films and mats are not steps. Two
// steps are not bands: the top, and native material below rust or a reduced band, since there is no
// second front below a bed that has lost its oxygen.
const (
	atTop       = int(NoBand) // nothing but overlays above
	nativeBelow = int(Unknown) + 1
	steps       = nativeBelow + 1
)

// shares says for each step how often a band lies right under it, in a hundred columns. The order is
// that of the oxidants used up on the way down (oxygen, then iron, then sulphate). A step left out
// counts as Unknown does. If the shares of all bands under one step do not add up to a hundred, they
// count in proportion.
type shares [steps]float64

func (s *shares) at(step int) float64 {
	if s[step] == 0 {
		return s[Unknown]
	}
	return s[step]
}

// stepBands are the bands that are steps, overlays the others, both in the order of Bands.
var stepBands, overlays = func() (onWay, others []Band) {
	for _, b := range Bands() {
		if b.IsOverlay() {
			others = append(others, b)
		} else {
			onWay = append(onWay, b)
		}
	}
	return onWay, others
}()

// wayDown are the steps that a layer may take, froms those it may come from.
var wayDown, froms = func() (to, from []int) {
	for _, b := range stepBands {
		to = append(to, int(b))
	}
	to = append(to, nativeBelow)
	return to, append([]int{atTop}, to...)
}()

// stepBand is the band of each step.
var stepBand = func() (band [steps]Band) {
	for _, b := range stepBands {
		band[b] = b
	}
	band[nativeBelow] = Native
	return band
}()

// softening is the share of the order that is spread evenly, for beds that do not keep to it: roots,
// burrows, caps of sand (assumption).
const softening = 0.3

// order is the probability of going from one step to the next.
type order [steps][steps]float64

// asTyped is the bands' shares, softened. A photo shows no edge between two layers of one band: asFound is for what
// it is first cut into, at every step of colour, asCut for what is left once neighbours that look alike are joined.
var (
	asTyped = softened(shared())
	asFound = asTyped.alike(0.5)
	asCut   = asTyped.alike(0)
)

// cutInTwo is how often a layer of a photo is of the one above, cut in two by a shade or a patch (assumption).
const cutInTwo = 0.05

// alike leaves a share of the neighbours of one band, and those that a photo cuts in two.
func (o order) alike(left float64) order {
	for _, from := range wayDown {
		same := o[from][from]
		for _, to := range wayDown {
			o[from][to] *= 1 - cutInTwo
		}
		o[from][from] = cutInTwo + left*same
	}
	return o
}

// shared is the order by the bands' shares.
func shared() (order order) {
	for _, from := range froms {
		var sum float64
		for _, b := range stepBands {
			sum += bands[b].under.at(from)
		}
		for _, b := range stepBands {
			order[from][b] = bands[b].under.at(from) / sum
		}
	}
	return order
}

func softened(order order) order {
	for _, from := range froms {
		var open []Band
		for _, b := range stepBands {
			if softensTo(from, b) {
				open = append(open, b)
			}
		}
		var given float64
		for _, b := range open {
			given += softening * order[from][b]
			order[from][b] *= 1 - softening
		}
		for _, b := range open {
			order[from][b] += given / float64(len(open))
		}
		if belowFront(from) {
			order[from][Native], order[from][nativeBelow] = 0, order[from][Native]
		}
	}
	return order
}

// softensTo reports a band that gets part of what is spread under a step. Mulm lies on top by
// definition, so it gets none below anything else; nor does a second rust front below the first or
// below a reduced band.
func softensTo(from int, to Band) bool {
	switch above := stepBand[from]; {
	case bands[to].rare:
		return false
	case to.IsMulm():
		return above == NoBand || above.IsMulm() || above == Unknown
	case to.Material() == IronOxide:
		return from != atTop && !belowFront(from)
	}
	return true
}

// belowFront reports a step at or below which the column has no oxygen.
func belowFront(step int) bool {
	b := stepBand[step]
	return step == nativeBelow || b.Material() == IronOxide || b.IsReduced()
}

// atFloor weighs the last step of a column: a core that goes down to the tank's floor seldom ends in
// anything but the substrate (assumption, kept mild because a view may end higher).
var atFloor = func() (weight [steps]float64) {
	weight[atTop] = 1
	for _, step := range wayDown {
		weight[step] = bands[stepBand[step]].floor
	}
	return weight
}()

// filmShare is how often a layer is a film of one kind (assumptions).
func filmShare(_, unlit bool) float64 {
	if unlit {
		return 0.001 // algae without light are all but ruled out
	}
	return 0.012 // on glass that may be lit
}

// matShare is how often a layer is a white mat (assumptions).
func matShare(top, _ bool) float64 {
	if top {
		return 0.015
	}
	return 0.004 // within the bed, on wood or a root
}

// overlayShares is how often a layer is each overlay; every step gets the rest.
func overlayShares(top, unlit bool) (share [Unknown + 1]float64) {
	var sum float64
	for _, b := range overlays {
		share[b] = bands[b].overlay(top, unlit)
		sum += share[b]
	}
	for _, b := range stepBands {
		share[b] = 1 - sum
	}
	return share
}

// usualLog is the natural logarithm of the usual medians.
var usualLog = func() (logs [Unknown + 1]float64) {
	for _, b := range Bands() {
		logs[b] = math.Log(bands[b].usual.medianMM)
	}
	return logs
}()

// Thicknesses beyond these say no more about a band than these do, mm (assumption).
const thinnest, thickest = 1.0, 200.0

// thicknessDensities is the log-normal density of a thickness in every band.
func thicknessDensities(mm float64) (density [Unknown + 1]float64) {
	log := math.Log(min(max(mm, thinnest), thickest))
	for b := NoBand + 1; b <= Unknown; b++ {
		spread := bands[b].usual.spread
		z := (log - usualLog[b]) / spread
		density[b] = math.Exp(-z*z/2) / spread
	}
	return density
}

// grainDensities is the log-normal density of a layer's grain in every band, beside that of the layer which
// shows the native colour, if one does. Flocs of mulm are finer than most grains and throw no shadows; a coat
// hides what sets grains apart, but leaves them their size and their shadows (assumptions, tried on rendered
// beds).
func grainDensities(seen, native Texture) (density [Unknown + 1]float64) {
	contrast, fineness := math.Log(seen.Contrast), math.Log(seen.Fineness)
	for b := NoBand + 1; b <= Unknown; b++ {
		c, f := usualTexture(b, native)
		density[b] = c.density(contrast) * f.density(fineness)
	}
	return density
}

// logNormal is a log-normal distribution.
type logNormal struct{ median, spread float64 }

func (d logNormal) density(log float64) float64 {
	z := (log - math.Log(d.median)) / d.spread
	return math.Exp(-z*z/2) / d.spread
}

func usualTexture(b Band, native Texture) (contrast, fineness logNormal) {
	shown := native != Texture{}
	switch {
	case b.IsMulm():
		return logNormal{0.32, 0.3}, logNormal{0.55, 0.6}
	case b == Native && shown:
		return logNormal{native.Contrast, 0.3}, logNormal{native.Fineness, 0.3}
	case b == Native:
		return logNormal{0.5, 0.4}, logNormal{0.45, 0.6}
	case shown && b == Black:
		return logNormal{0.38, 0.5}, logNormal{native.Fineness, 0.45}
	case shown && (b.Material() == IronOxide || b.Material() == Gley):
		return logNormal{0.8 * native.Contrast, 0.45}, logNormal{native.Fineness, 0.6}
	}
	return logNormal{0.38, 0.5}, logNormal{0.45, 0.6}
}
