package testscene

import (
	"math"
	"strings"

	"panecore/palette"
)

func (p dice) native(name string) Native {
	n := natives[name]
	h := n.habits[p.IntN(len(n.habits))]
	return Native{
		Kind: n.kind, Color: between(hex(n.from), hex(n.to), p.Float64()), Habit: h,
		GrainMM: p.in([2]float64{n.fine, n.coarse}), Spread: n.spread, Motley: n.motley * (0.6 + 0.6*p.Float64()),
	}
}

func (p dice) layers(downward string, n Native, lim limits) []Layout {
	var out []Layout
	bands := strings.Fields(downward)
	for i, code := range bands {
		var beside []palette.Color // that the layer must differ from
		if i > 0 {
			beside = append(beside, out[i-1].Color)
		}
		if i+1 < len(bands) && codes[bands[i+1]] == palette.Native {
			beside = append(beside, n.Color)
		}
		l := p.layer(codes[code], n, lim)
		for range 12 {
			if l.Band == palette.Native || l.apart(beside) >= lim.apart {
				break
			}
			if other := p.layer(l.Band, n, lim); other.apart(beside) > l.apart(beside) {
				l = other
			}
		}
		out = append(out, l)
	}
	return out
}

// layer is a random layer of a band.
func (p dice) layer(band palette.Band, n Native, lim limits) Layout {
	look := looks[band][p.IntN(len(looks[band]))]
	l := Layout{
		Band: band, MM: p.in([2]float64{look.thin, look.fat}), Edge: p.in(lim.edge),
		Color: between(hex(look.from), hex(look.to), p.Float64()), Cover: p.in([2]float64{look.bare, look.full}),
	}
	switch {
	case band == palette.Native:
		l.Color = n.Color
	case !band.IsMulm() && band != palette.MatWhite:
		l.Cover = max(l.Cover, least(l.Color, n.Color))
		l.Color = through(l.Color, n.Color, p.Float64())
	}
	// An edge can't be wider than its layer.
	l.Edge = min(l.Edge, 0.45*l.MM)
	return l
}

// apart is the difference of a layer's colour from the nearest of others, CIEDE2000.
func (l Layout) apart(others []palette.Color) float64 {
	least := math.Inf(1)
	for _, c := range others {
		least = min(least, palette.Difference(l.Color.Lab(), c.Lab()))
	}
	return least
}

// least is the cover below which pale grains would outshine a dark coat.
func least(coat, native palette.Color) float64 {
	c, n := linear(coat), linear(native)
	var need float32
	for k := range c {
		need = max(need, 1-0.6*c[k]/n[k])
	}
	return float64(need)
}

// through mixes up to a tenth of the grains' colour into a coat, at most a fifth of its light.
func through(coat, native palette.Color, share float64) palette.Color {
	c, n := linear(coat), linear(native)
	return asStored(c.toward(n, float32(share)*min(0.1, 0.2*c.luma()/n.luma())))
}
