package photo_test

import (
	"fmt"
	"math"
	"slices"

	"panecore/palette"
	"panecore/reports"
)

// A drawnBed is what is true of a photo; depths and thicknesses in mm from the mean bed
// surface down.
type drawnBed struct {
	layers  []drawnPart
	depthMM float64 // to the strip's foot
	oxicMM  *float64
	mulmMM  float64
}

type drawnPart struct {
	band        palette.Band
	topMM       float64
	thicknessMM float64       // NaN: not known
	color       palette.Color // under neutral light; black: not known
}

// A toldBed is what is said of a photo that was read.
type toldBed struct{ reports.Core }

// flagged reports that a reading says of itself that it may not be believed.
func (b toldBed) flagged() bool {
	mean := 0.0
	for _, l := range b.Layers {
		mean += l.Probability / float64(len(b.Layers))
	}
	return !b.Reliable || mean < 0.5
}

// A score is how far what was told of some photos agrees with what is true of them.
type score struct {
	photos, refused, flagged       int
	oxicErrors, mulmErrors         []float64 // mm
	oxicMissed, oxicInvented       int
	drawn, told, found             int     // boundaries between layers
	depthMM, rightMM               float64 // of beds, and of that with the right band
	differences                    []float64
	oxicHeld, mulmHeld, layersHeld []bool // whether the interval holds the truth
}

func (s *score) add(o score) {
	s.photos += o.photos
	s.refused += o.refused
	s.flagged += o.flagged
	s.oxicErrors = append(s.oxicErrors, o.oxicErrors...)
	s.mulmErrors = append(s.mulmErrors, o.mulmErrors...)
	s.oxicMissed += o.oxicMissed
	s.oxicInvented += o.oxicInvented
	s.drawn, s.told, s.found = s.drawn+o.drawn, s.told+o.told, s.found+o.found
	s.depthMM, s.rightMM = s.depthMM+o.depthMM, s.rightMM+o.rightMM
	s.differences = append(s.differences, o.differences...)
	s.oxicHeld = append(s.oxicHeld, o.oxicHeld...)
	s.mulmHeld = append(s.mulmHeld, o.mulmHeld...)
	s.layersHeld = append(s.layersHeld, o.layersHeld...)
}

// String is one photo's score in a line, for whoever looks for its faults.
func (s score) String() string {
	if s.refused > 0 {
		return "refused"
	}
	return fmt.Sprintf("%.0f %% of depth right, %d of %d boundaries found, %d told, oxic depth off by %.2f %v, mulm by %.2f %v, thicknesses held %v, flagged %d",
		100*s.rightMM/s.depthMM, s.found, s.drawn, s.told, s.oxicErrors, s.oxicHeld, s.mulmErrors, s.mulmHeld, s.layersHeld, s.flagged)
}

// scoreOf is the score of one photo that was read.
func scoreOf(truth drawnBed, told toldBed) score {
	s := score{photos: 1, depthMM: truth.depthMM, drawn: len(truth.layers) - 1, told: len(told.Layers) - 1}
	if told.flagged() {
		s.flagged = 1
	}
	s.found = matched(topsOf(truth.layers), told.tops())
	for mm := bandStep / 2; mm < truth.depthMM; mm += bandStep {
		if truth.bandAt(mm) == told.bandAt(mm) {
			s.rightMM += bandStep
		}
	}
	switch reached := told.OxicDepth != nil && !told.OxicDepth.AtLeast && told.OxicDepth.Basis != reports.NotReached; {
	case truth.oxicMM == nil && reached:
		s.oxicInvented = 1
	case truth.oxicMM != nil && !reached:
		s.oxicMissed = 1
	case truth.oxicMM != nil:
		s.oxicErrors = []float64{math.Abs(told.OxicDepth.Value - *truth.oxicMM)}
		s.oxicHeld = []bool{holds(*told.OxicDepth, *truth.oxicMM)}
	}
	if told.Mulm != nil {
		s.mulmErrors = []float64{math.Abs(told.Mulm.Value - truth.mulmMM)}
		s.mulmHeld = []bool{holds(*told.Mulm, truth.mulmMM)}
	}
	for _, l := range truth.layers {
		if held, ok := told.thicknessHolds(l); ok {
			s.layersHeld = append(s.layersHeld, held)
		}
	}
	return s
}

const (
	bandStep = 0.1  // mm of depth, in which bands are compared
	gate     = 4.0  // mm within which a boundary counts as found
	hairline = 0.25 // mm that rounding may leave open at a column's end
	rounding = 0.01 // mm that an interval is widened by for it
)

func holds(e reports.Estimate, truth float64) bool {
	return e.Low-rounding <= truth && truth <= e.High+rounding
}

func topsOf(list []drawnPart) (tops []float64) {
	for _, l := range list[1:] {
		tops = append(tops, l.topMM)
	}
	return tops
}

func (b toldBed) tops() (tops []float64) {
	for _, l := range b.Layers[1:] {
		tops = append(tops, l.TopMM)
	}
	return tops
}

// matched is how many of the depths drawn can be paired with one told each, in order and
// within the gate.
func matched(drawn, told []float64) int {
	above := make([]int, len(told)+1)
	for _, d := range drawn {
		row := make([]int, len(told)+1)
		for j, r := range told {
			row[j+1] = max(above[j+1], row[j])
			if math.Abs(d-r) <= gate {
				row[j+1] = max(row[j+1], above[j]+1)
			}
		}
		above = row
	}
	return above[len(told)]
}

func (b drawnBed) bandAt(mm float64) palette.Band {
	band := b.layers[0].band
	for _, l := range b.layers {
		if l.topMM <= mm {
			band = l.band
		}
	}
	return band
}

func (b toldBed) bandAt(mm float64) palette.Band {
	band := palette.Unknown
	for _, l := range b.Layers {
		if l.TopMM <= mm && mm <= l.TopMM+l.Thickness.Value+hairline {
			band = l.Band
		}
	}
	return band
}

func overlap(l reports.Layer, d drawnPart) float64 {
	return min(l.TopMM+l.Thickness.Value, d.topMM+d.thicknessMM) - max(l.TopMM, d.topMM)
}

// most is the layer told that shares most with one drawn, of those that fit; ok is false where
// none does.
func (b toldBed) most(d drawnPart, fits func(reports.Layer) bool) (best reports.Layer, shared float64, ok bool) {
	for _, l := range b.Layers {
		if mm := overlap(l, d); mm > shared && fits(l) {
			best, shared, ok = l, mm, true
		}
	}
	return best, shared, ok
}

// thicknessHolds reports whether the thickness told of a layer holds the true one; ok is false where
// no layer was told for it.
func (b toldBed) thicknessHolds(d drawnPart) (held, ok bool) {
	l, shared, ok := b.most(d, func(l reports.Layer) bool { return l.Band == d.band })
	if !ok || shared < 0.5*min(d.thicknessMM, l.Thickness.Value) {
		return false, false
	}
	return holds(l.Thickness, d.thicknessMM), true
}

// colourErrors are the CIEDE2000 differences of the colours told to those drawn.
func colourErrors(truth drawnBed, told toldBed) (list []float64) {
	for _, d := range truth.layers {
		l, shared, ok := told.most(d, func(reports.Layer) bool { return true })
		if ok && shared >= 0.3*d.thicknessMM && d.color != (palette.Color{}) {
			list = append(list, palette.Difference(l.Hex.Lab(), d.color.Lab()))
		}
	}
	return list
}

// quantileOf is the value below which a share of a list lies, linear between neighbours; NaN
// for none.
func quantileOf(list []float64, share float64) float64 {
	if len(list) == 0 {
		return math.NaN()
	}
	list = slices.Sorted(slices.Values(list))
	at := share * float64(len(list)-1)
	i := int(at)
	return list[i] + (at-float64(i))*(list[min(i+1, len(list)-1)]-list[i])
}

func shareOf(list []bool) float64 {
	held := 0
	for _, ok := range list {
		if ok {
			held++
		}
	}
	return float64(held) / float64(len(list))
}
