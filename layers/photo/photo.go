// Package photo reads a bed's layers from a picture of the glass: scale and roll from a ruler,
// light from a grey card, layers from changes of colour, bands from the palette with the doubt
// that the light leaves. It saves nothing.
//
// Depths are in millimetres down from the mean bed surface, pixels are those of the upright
// picture, light is linear with white at 1.
package photo

import (
	"fmt"
	"math"
	"slices"

	"panecore/layers"
	"panecore/layers/photo/picture"
	"panecore/palette"
)

// Picks are what a keeper marks on the picture.
type Picks struct {
	Strip    Box      // the part of the pane to read
	SurfaceY *float64 // row of the bed surface, roughly; nil: found by itself, else the strip's top
	Ruler    Ruler
	Plane    *Plane // of the pane, as a tag on it shows; nil: the pane is seen straight on, to the ruler's scale
	Neutral  []Card // grey cards; with none the light is less sure; nil: not marked
	Hidden   []Disc // what lies before the bed, a stone, a snail or a root, and is not to be read
}

// Refusal is the error for a photo that can't be read.
type Refusal struct {
	Reason string // what is wrong with it
	Help   string // what would help
}

func (r *Refusal) Error() string { return r.Reason + "; " + r.Help }

// Reading is what a photo shows of a bed.
type Reading struct {
	Core        layers.Core // the layers' colours are under Light
	Names       []palette.Band
	PxPerMM     float64
	RollDegrees float64
	GlareShare  float64 // share of the strip's bed that is masked
	Gain        palette.Linear
	Cards       int           // that Gain is based on
	Light       palette.Light // solved for
	Reliable    bool          // false: the layers may be wrong, see Warnings
	Warnings    []string
	Strip       [4]Point         // corners of the part read, from the upper left clockwise
	Edges       [][]Point        // the bed surface and the lower edge of each layer, from left to right
	Confidence  []float64        // of each of Edges, 0 to 1, see confidence
	Moved       []bool           // of each of Edges: it lies where a keeper set it, not where it was traced
	Set         []layers.SetEdge // Edges but the strip's foot, as a keeper has set them, if one is bent
	Masked      [][4]Point
	Water       int // how many of the upper layers look like water above the bed
}

// Point is a place in the upright picture, pixels.
type Point struct{ X, Y float64 }

// Read reads the layers in a picture's strip and names them with the tank's matcher. Its error
// is a *Refusal.
func Read(p *picture.Picture, picks Picks, matcher *palette.Matcher) (*Reading, error) {
	v, err := Look(p, picks, matcher)
	if err != nil {
		return nil, err
	}
	return v.Reading, nil
}

// pickError is the error of a point clicked on the ruler, mm (assumption).
const pickError = 0.2

// tagError is by how much a tag may be off its size, as a share: printer, paper and tape (assumption; a line to measure
// is printed beside it).
const tagError = 0.005

// scaleError is the standard error of the scale as a share of it.
func (k Picks) scaleError() float64 {
	if k.Plane != nil {
		return math.Hypot(tagError, paneDoubt)
	}
	return math.Hypot(math.Sqrt2*pickError/k.Ruler.LengthMM, paneDoubt)
}

// paneDoubt is by how much a bed may look smaller than the ruler on the pane before it, as a share: 4 to 12 mm
// of glass and water seen from 25 to 50 cm (assumption).
const paneDoubt = 0.018

func (v *View) reading(s *strata, bed named) *Reading {
	g, light := v.grid, v.light
	prior, solved := light.unknown(), bed.match.Light()
	r := &Reading{
		PxPerMM: g.pxPerMM, RollDegrees: g.rollDegrees(), Gain: light.gain, Cards: light.cards,
		Light: solved, Names: bed.names, Warnings: slices.Clone(light.warnings), GlareShare: v.hidden,
	}
	r.Strip = g.quad(0, float64(g.rows), 0, float64(g.cols))
	r.Masked = g.hidden(s.field)
	r.Edges = append(r.Edges, s.line(g, 0))
	gain := math.Exp2(solved.EV)
	r.Core.Photo = &layers.Photo{
		ColorDoubt: light.doubt(),
		ScaleError: v.picks.scaleError(),
		Light: palette.Light{
			EV: prior.EV - solved.EV, EVDoubt: prior.EVDoubt,
			Veil: (prior.Veil - solved.Veil) * gain, VeilDoubt: prior.VeilDoubt * gain,
		},
		Surface: s.edgeOf(0),
	}
	r.Confidence = append(r.Confidence, confidence(r.Core.Photo.Surface))
	for i, l := range bed.layers {
		edge := s.edgeOf(l.bottom)
		edge.Contrast, edge.Fineness = l.grain.Contrast, l.grain.Fineness
		r.Edges = append(r.Edges, s.line(g, l.bottom))
		r.Confidence = append(r.Confidence, confidence(edge))
		r.Core.Layers = append(r.Core.Layers, layers.Layer{
			ThicknessMM: s.thickness(l),
			Color:       solved.Relight(l.light.Lab()).Linear().Color(),
			Band:        l.label(),
			Edge:        &edge,
		})
		if l.seen < leastRowSeen {
			r.Warnings = append(r.Warnings, fmt.Sprintf("layer %d: %.0f %% of it is hidden by glare", i+1, 100*(1-l.seen)))
		}
	}
	if light.cards == 0 {
		r.Warnings = append(r.Warnings, "no grey card to go by: tint and exposure are the camera's own, so colours and names are less sure")
	}
	if len(bed.layers) == 1 {
		r.Warnings = append(r.Warnings, "the strip shows one material from top to bottom: no layers")
	}
	r.Warnings = append(append(r.Warnings, s.gaps()...), v.doubts...)
	for k := range r.Edges {
		r.Moved = append(r.Moved, k < len(s.level) && (!slices.Contains(v.strata.level, s.level[k]) || k < len(s.bends) && len(s.bends[k]) > 0))
	}
	r.Reliable = len(v.doubts) == 0
	r.Core.Photo.Unreliable = !r.Reliable
	return r
}

// The error of an edge's mean depth grows with how gradual and how uneven the edge is
// (assumptions, checked against rendered photos).
const (
	gradual = 0.2 // of the depth over which one layer changes to the other
	uneven  = 0.3 // of the edge's standard deviation across the strip
	settled = 0.6 // mm: by so much the grains of one layer sink between those of the other
)

// nearEnough is how far an edge's mean depth may be off and count as right, mm (assumption: what is
// read off a ruler by eye).
const nearEnough = 1.0

// confidence is the probability that an edge's mean depth is right to nearEnough, by its normal
// error, which holds how gradual and how uneven the edge is. It doesn't say whether there is an
// edge. The strip's lower end, which the keeper marked, is sure.
func confidence(e layers.Edge) float64 { return math.Erf(nearEnough / (e.ErrorMM * math.Sqrt2)) }

// edgeOf is the error and relief of an edge, with depths from the surface's mean.
func (s *strata) edgeOf(k int) layers.Edge {
	depth := (s.levelOf(k) - s.level[0]) * s.field.pitch
	e := layers.Edge{HighestMM: depth, LowestMM: depth}
	if k == len(s.level) {
		return e
	}
	var squares, steps float64
	n := float64(len(s.at))
	for b := range s.at {
		d := (s.at[b][k] - s.level[0]) * s.field.pitch
		e.HighestMM, e.LowestMM = min(e.HighestMM, d), max(e.LowestMM, d)
		squares += (d - depth) * (d - depth) / n
		if b > 0 {
			step := (s.at[b][k] - s.at[b-1][k]) * s.field.pitch
			steps += step * step / n
		}
	}
	soft := gradual * s.width(k)
	e.ErrorMM = math.Sqrt(settled*settled + soft*soft + uneven*uneven*squares + 2*steps/n)
	return e
}
