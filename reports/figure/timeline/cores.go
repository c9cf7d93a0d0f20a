package timeline

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// widths are how wide cores are drawn.
type widths struct {
	share float64 // of the median interval
	most  float64 // mm
}

// The widths of cores (assumptions).
var (
	coreWidths  = widths{0.72, 6.5}
	stripWidths = widths{0.96, 16}
)

const (
	leastWidth   = 0.6  // mm, where nothing clips it
	leastClipped = 0.15 // mm
)

// at is the width of cores at intervals of days, given in ascending order.
func (w widths) at(days []layers.Date, perDay float64) float64 {
	if len(days) == 0 {
		return w.most
	}
	median := float64(days[(len(days)-1)/2]+days[len(days)/2]) / 2
	return min(w.most, max(leastWidth, w.share*median*perDay))
}

// slot is a core's place on the time axis and its sides, mm.
type slot struct{ x, left, right float64 }

// slotsOf gives cores of a width their room around their places, which come in order.
// Neighbours too close for it meet halfway; cores of one day share its room. No core crosses
// the line of a removal.
func slotsOf(places, removals []float64, width float64) []slot {
	slots := make([]slot, 0, len(places))
	for i := 0; i < len(places); {
		j := i + 1
		for j < len(places) && places[j] == places[i] {
			j++
		}
		left, right := places[i]-width/2, places[i]+width/2
		if i > 0 {
			left = max(left, (places[i-1]+places[i])/2)
		}
		if j < len(places) {
			right = min(right, (places[i]+places[j])/2)
		}
		for _, at := range removals {
			if at < places[i] {
				left = max(left, at)
			} else {
				right = min(right, at)
			}
		}
		left, right = min(left, places[i]-leastClipped/2), max(right, places[i]+leastClipped/2)
		each := (right - left) / float64(j-i)
		for n := range j - i {
			from := left + float64(n)*each
			slots = append(slots, slot{places[i], from, from + each})
			if j-i > 1 {
				slots[len(slots)-1].x = from + each/2
			}
		}
		i = j
	}
	return slots
}

// seam is how far a layer's colour reaches under the next, mm, so that no ground shows between
// them.
const seam = 0.08

func (l *picture) core(r *stationRow, i int) {
	core, s := r.Cores[i], r.slots[i]
	strip := l.stripOf(core)
	if strip == nil || strip.Picture == nil {
		l.layers(r, core, s) // under a strip until it has been fetched
	}
	if strip != nil {
		l.showStrip(r, core, s, *strip)
	}
}

// layers draws a core in the colours as read.
func (l *picture) layers(r *stationRow, core reports.Core, s slot) {
	seen := core.DepthMM()
	width := s.right - s.left
	for n, layer := range core.Layers {
		top, foot := r.y(layer.TopMM, seen), r.y(layer.BottomMM(), seen)
		under := 0.0
		if n < len(core.Layers)-1 {
			under = seam
		}
		l.Rect(s.left, top, width, foot-top+under, pen.AsRead(layer.Hex))
	}
	for _, layer := range core.Layers {
		top, foot := r.y(layer.TopMM, seen), r.y(layer.BottomMM(), seen)
		l.Grain(s.left, top, width, foot-top, layer.Hex, layer.Band)
	}
	for n := range core.Layers {
		l.edge(core.Layers[max(0, n-1)], core.Layers[n], s, r.y(core.Layers[n].TopMM, seen))
	}
	if width >= pen.LeastGrain && slices.ContainsFunc(core.Layers, func(l reports.Layer) bool { return l.Hex.Lab().L > paleLightness }) {
		l.Frame(s.left, r.y(0, seen), width, r.y(seen, seen)-r.y(0, seen), pen.Stroke{Ink: pen.InkSoft, Width: edgeWidth})
	}
}

// What sets layers apart from each other and from the ground (assumptions: distinct in grey on
// paper).
const (
	alikeLightness = 14   // difference in lightness (L*) below which a line parts two layers
	paleLightness  = 88   // lightness (L*) above which a core has an outline
	edgeWidth      = 0.12 // mm
)

// edge draws a fine line between two layers of similar lightness.
func (l *picture) edge(above, below reports.Layer, s slot, y float64) {
	if above.TopMM < below.TopMM && math.Abs(above.Hex.Lab().L-below.Hex.Lab().L) < alikeLightness {
		l.Line(pen.Stroke{Ink: pen.On(below.Hex).Faint(0.5), Width: edgeWidth}, pen.At(s.left, y), pen.At(s.right, y))
	}
}

func (l *picture) coreWords(core reports.Core) string {
	text := words.CoreTitle(core)
	m := words.Length(l.Units)
	if core.Mulm != nil {
		text += ": mulm " + m.Estimate(*core.Mulm)
	}
	if core.OxicDepth != nil {
		text += ", colour oxic depth " + m.Estimate(*core.OxicDepth)
	}
	return text
}
