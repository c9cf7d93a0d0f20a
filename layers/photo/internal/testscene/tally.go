package testscene

import (
	"math"

	"panecore/palette"
)

// A tally adds up the layers as painted within the strip.
type tally struct {
	st          *stage
	left, right int         // columns
	foot        int         // first row below the strip
	amount      [][]float64 // of each layer in each column, px
	colour      [][3]float64
	weight      []float64
}

func newTally(st *stage) *tally {
	s := st.scene
	x, half := st.stripX(), s.Strip.WidthMM*s.PxPerMM/2
	t := &tally{st: st, left: max(0, int(math.Round(x-half))), right: min(st.w, int(math.Round(x+half)))}
	t.foot = int(st.stripFoot())
	t.amount = make([][]float64, len(s.Layers))
	for k := range t.amount {
		t.amount[k] = make([]float64, max(0, t.right-t.left))
	}
	t.colour, t.weight = make([][3]float64, len(s.Layers)), make([]float64, len(s.Layers))
	return t
}

// stripX is the strip's middle across the stage, px.
func (st *stage) stripX() float64 {
	return float64(st.x(st.scene.Strip.LeftMM + st.scene.Strip.WidthMM/2))
}

// stripFoot is the first row of the stage below the strip, px.
func (st *stage) stripFoot() float64 {
	return min(math.Round(float64(st.surface)+st.scene.Strip.DepthMM*st.scene.PxPerMM), float64(st.h))
}

// innerShare is the least share of a pixel that counts toward a layer's colour: less lies at its
// edge.
const innerShare = 0.9

func (t *tally) add(k, x, y int, share float32, c rgb) {
	if x < t.left || x >= t.right || y >= t.foot {
		return
	}
	t.amount[k][x-t.left] += float64(share)
	if share >= innerShare {
		for i := range c {
			t.colour[k][i] += float64(c[i])
		}
		t.weight[k]++
	}
}

// edge is a layer's upper edge in a column, px: the amounts of it and of all layers below,
// stacked up from the strip's foot. A gradual edge is thus in its middle.
func (t *tally) edge(k, column int) float64 {
	row := float64(t.foot)
	for i := k; i < len(t.amount); i++ {
		row -= t.amount[i][column]
	}
	return row
}

// truth fills in the layers and depths.
func (t *tally) truth(out *Truth) {
	s := t.st.scene
	columns := t.right - t.left
	if columns <= 0 {
		return
	}
	var surface float64
	for c := range columns {
		surface += t.edge(0, c) / float64(columns)
	}
	if surface >= float64(t.foot) {
		return // the strip holds no bed
	}
	t.st.seen = surface
	out.DepthMM = (float64(t.foot) - surface) / s.PxPerMM
	for k, laid := range s.Layers {
		l := Layer{
			Band: laid.Band, MinMM: math.Inf(1), MaxMM: math.Inf(-1), Thinnest: math.Inf(1), Thickest: math.Inf(-1),
		}
		for c := range columns {
			top, thick := (t.edge(k, c)-surface)/s.PxPerMM, t.amount[k][c]/s.PxPerMM
			l.TopMM += top / float64(columns)
			l.ThicknessMM += thick / float64(columns)
			l.MinMM, l.MaxMM = min(l.MinMM, top), max(l.MaxMM, top)
			l.Thinnest, l.Thickest = min(l.Thinnest, thick), max(l.Thickest, thick)
		}
		if t.weight[k] > 0 {
			var mean rgb
			for i := range mean {
				mean[i] = float32(t.colour[k][i] / t.weight[k])
			}
			l.Color = asStored(mean)
		}
		out.Layers = append(out.Layers, l)
	}
	out.depths()
}

// depths fills in the oxic depth and the mulm from the layers.
func (out *Truth) depths() {
	for _, l := range out.Layers {
		if l.Band.IsMulm() {
			out.MulmMM += l.ThicknessMM
		}
	}
	for i, l := range out.Layers {
		if l.Band == palette.Rust && i+1 < len(out.Layers) {
			out.OxicMM = &out.Layers[i+1].TopMM
			return
		}
	}
	for i, l := range out.Layers {
		if l.Band.IsReduced() {
			out.OxicMM = &out.Layers[i].TopMM
			return
		}
	}
}
