package testworlds

import (
	"math"
	"math/rand/v2"

	"panecore/layers"
	"panecore/palette"
)

// Colors are what layers look like: published soil and mineral colours (testdata/checks/soilcolours.csv,
// sources there), mulm by eye (assumption).
func Colors() map[palette.Band][]string {
	return map[palette.Band][]string{
		palette.MulmLight: {"#8b6b4a", "#7a5f42", "#96724e", "#857050"},
		palette.MulmDark:  {"#54422f", "#4a3b2b", "#5b4a37", "#4f4030"},
		palette.Rust:      {"#a2701b", "#845628", "#964b26", "#bc8958"},
		palette.Black:     {"#4c473e", "#484848", "#403c33", "#3d3c33"},
		palette.Grey:      {"#626155", "#717c76", "#81786f", "#787b6f"},
	}
}

// Substrates are what they look like when they are laid, by eye (assumption).
func Substrates() map[layers.Kind][]string {
	return map[layers.Kind][]string{
		layers.Sand:   {"#d8cba8", "#cbb78e", "#e0d8c4", "#c9c2b2"},
		layers.Gravel: {"#a89a82", "#b8a890", "#8f8a80", "#c2b6a0"},
		layers.Soil:   {"#4a3a2c", "#3b2e24", "#54432f", "#453a33"},
	}
}

// A part of a column is a layer as it is, down to its lower edge, mm below the bed surface.
type part struct {
	bottom float64
	band   palette.Band
}

// cut is a column down to where it is seen.
func cut(column []part, seen float64) []part {
	for i := range column {
		if column[i].bottom >= seen {
			column[i].bottom = seen
			return column[:i+1]
		}
	}
	return column
}

// A keeper reads columns and types them.
type keeper struct {
	rng      *rand.Rand
	noise    func() float64 // what an edge is read off by, mm
	kind     layers.Kind
	colors   map[palette.Band]palette.Color
	labelled bool
}

// newKeeper is one whose layers keep their colours from day to day.
func newKeeper(rng *rand.Rand, kind layers.Kind, noise func() float64) keeper {
	k := keeper{rng: rng, noise: noise, kind: kind, colors: map[palette.Band]palette.Color{}, labelled: rng.IntN(2) == 0}
	oneOf := func(list []string) palette.Color {
		c, err := palette.ParseColor(list[rng.IntN(len(list))])
		if err != nil {
			panic(err)
		}
		return c
	}
	for _, band := range []palette.Band{palette.MulmLight, palette.MulmDark, palette.Rust, palette.Black, palette.Grey} {
		k.colors[band] = oneOf(Colors()[band])
	}
	k.colors[palette.Native] = oneOf(Substrates()[kind])
	return k
}

// thinnest is the thickness from which on a layer is seen at all, mm (assumption).
const thinnest = 0.5

// reads is a column as it is typed: each edge off by the noise, to the millimetre, and each channel of
// a colour off by six at most.
func (k keeper) reads(column []part) (list []layers.Layer) {
	var top, typed float64
	for _, p := range column {
		if p.bottom-top >= thinnest {
			edge := max(typed+1, math.Round(p.bottom+k.noise()))
			l := layers.Layer{ThicknessMM: edge - typed, Color: k.near(k.colors[p.band])}
			if k.labelled {
				l.Band = p.band
			}
			list, typed = append(list, l), edge
		}
		top = p.bottom
	}
	return list
}

// typed is what a keeper's layers say of a column: how deep the mulm and the rust below it reach.
func typed(column []part, list []layers.Layer) (at Level) {
	var top, mm float64
	for _, p := range column {
		if p.bottom-top >= thinnest {
			mm, list = mm+list[0].ThicknessMM, list[1:]
			switch p.band {
			case palette.MulmLight, palette.MulmDark:
				at.Mulm, at.Oxic = mm, mm
			case palette.Rust:
				at.Oxic = mm
			}
		}
		top = p.bottom
	}
	return at
}

func (k keeper) near(c palette.Color) palette.Color {
	jitter := func(c uint8) uint8 { return uint8(min(255, max(0, int(c)+k.rng.IntN(13)-6))) }
	return palette.Color{R: jitter(c.R), G: jitter(c.G), B: jitter(c.B)}
}

// knows is a column as one types it who errs in nothing.
func (k keeper) knows(column []part) (list []layers.Layer) {
	var top float64
	for _, p := range column {
		if p.bottom > top {
			list = append(list, layers.Layer{ThicknessMM: p.bottom - top, Color: k.colors[p.band], Band: p.band})
		}
		top = p.bottom
	}
	return list
}

// deepestMM is the most that one core may hold, mm: more than that is refused when it is typed.
const deepestMM = 2000

// slips is a typed core spoilt; other is one of another tank.
func (k keeper) slips(list []layers.Layer, other func() []layers.Layer) []layers.Layer {
	for {
		var spoilt []layers.Layer
		switch k.rng.IntN(6) {
		case 0:
			spoilt = layers.Scaled(list, 10) // mm typed as cm
		case 1:
			spoilt = layers.Scaled(list, 0.1) // cm typed as mm
		case 2:
			spoilt = layers.TurnedOver(list)
		case 3: // depths typed as thicknesses
			spoilt = layers.Scaled(list, 1)
			for i := range spoilt[1:] {
				spoilt[i+1].ThicknessMM += spoilt[i].ThicknessMM
			}
		case 4:
			spoilt = other()
		default:
			spoilt = layers.Scaled(list, 1)
			spoilt[k.rng.IntN(len(spoilt))].ThicknessMM *= 10
		}
		if (layers.Core{Layers: spoilt}).DepthMM() <= deepestMM {
			return spoilt
		}
	}
}
