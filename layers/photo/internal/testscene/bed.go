package testscene

import (
	"panecore/palette"
)

// A bed is the bed as it is painted and measured: open, base and shade pixel by pixel, body and
// share layer by layer.
type bed struct {
	*stage
	edge                 [][]float32
	loose                int // layers of loose matter at the top
	top                  int // first row that may hold bed
	heap                 *heap
	open                 []float32
	base                 []rgb     // lit grains, before their mean is set
	shade                []float32 // light on a stain, or on loose matter
	body                 []rgb     // colours that the layers aim at
	share                []float32 // of a pixel that a layer and those below it take; reused
	ragged, blotch       noise
	tally                *tally
	nativeGain           rgb
	stainGain, looseGain float32
}

// paintBed lays the bed on the stage and measures it within the strip.
func (st *stage) paintBed() *tally {
	b := &bed{stage: st, edge: st.edges(), loose: st.scene.loose()}
	b.top = int(st.surface - float32(st.scene.WaveMM)*st.ppm - 3*st.ppm)
	b.top = max(0, b.top)
	b.strew()
	b.light()
	b.body, b.ragged, b.blotch = b.coats(), b.noise(303), b.noise(302)
	b.share = make([]float32, len(b.body)+1)
	b.tally = newTally(st)
	b.paint()
	return b.tally
}

// strew lays the grains.
func (b *bed) strew() {
	ragged := b.noise(300)
	foot := min(b.h, int(b.floor)+1)
	line := b.edge[b.loose]
	spread := float32(0)
	if b.loose < len(b.scene.Layers) {
		spread = float32(b.scene.Layers[b.loose].Edge) * b.ppm
	}
	b.heap = b.pile(b.top, foot, func(x, y, r float32, id uint32) bool {
		column := max(0, min(b.w-1, int(x)))
		stray := spread * (unit(hash(int32(id), 3, 0)) - 0.5 + 0.4*ragged.at(x/(3*b.ppm), y/(3*b.ppm)))
		return y-0.75*r > line[column]+stray
	})
	b.open = b.heap.openness()
}

// light fills in each pixel's colour and light, and the factors that bring the means to the
// colours aimed at.
func (b *bed) light() {
	n := b.scene.Native
	form := habits[n.Habit]
	b.base, b.shade = make([]rgb, len(b.heap.id)), make([]float32, len(b.heap.id))
	fine, floc := b.noise(301), newFloc(b.stage)
	colour := linear(n.Color)
	var grains, flocs int
	var sum rgb
	var stain, matter float32
	dust := newCoarse(b.w, b.heap.h, func(x, y float32) float32 { return 1 + 0.07*fine.sum(x/b.ppm/11, y/b.ppm/6, 2) })
	own, of := tone(colour, 0, n), uint32(0)
	for y := range b.heap.h {
		for x := range b.w {
			k := y*b.w + x
			id := b.heap.id[k]
			row := float32(y+b.top) + 0.5
			if id == 0 && row < b.edge[b.loose][x]+b.heap.radius {
				if row < b.edge[0][x]-3*b.ppm {
					continue
				}
				b.shade[k] = floc.at(float32(x), row)
				matter += b.shade[k]
				flocs++
				continue
			}
			open := mix(1, b.open[k], form.hollow)
			fx, fy := float32(x)/b.ppm, row/b.ppm
			grit := 1 + form.speckle*fine.sum(fx*5+float32(id&1023), fy*5, 2)
			lit := open * (0.45 + 0.65*max(b.heap.lit[k], -0.1))
			if id == 0 {
				lit = 0.4 * (1 - 0.7*form.hollow)
			}
			dust := dust.at(x, y)
			if id != of {
				own, of = tone(colour, id, n), id
			}
			b.base[k] = own.times(lit * grit * dust)
			b.shade[k] = mix(lit, 0.8, 0.3) * (1 + 0.5*(grit-1)) * dust
			sum = sum.plus(b.base[k])
			stain += b.shade[k]
			grains++
		}
	}
	b.nativeGain, b.stainGain, b.looseGain = rgb{1, 1, 1}, 1, 1
	if grains > 0 {
		for c := range sum {
			b.nativeGain[c] = colour[c] * float32(grains) / sum[c]
		}
		b.stainGain = float32(grains) / stain
	}
	if flocs > 0 {
		b.looseGain = float32(flocs) / matter
	}
}

// tone is a grain's own colour: near the substrate's, or that of another mineral.
func tone(c rgb, id uint32, n Native) rgb {
	m := float32(n.Motley)
	a, e, f := unit(hash(int32(id), 11, 1)), unit(hash(int32(id), 12, 1)), unit(hash(int32(id), 13, 1))
	light := 1 + 0.55*m*(a+e-1)
	warm := 0.35 * m * (f - 0.5)
	out := rgb{c[0] * light * (1 + warm), c[1] * light, c[2] * light * (1 - warm)}
	switch odd := unit(hash(int32(id), 14, 1)) / max(habits[n.Habit].odd, 1e-6); {
	case odd < 0.06*m:
		return out.toward(rgb{0.03, 0.03, 0.03}, 0.8) // hornblende, slate
	case odd < 0.11*m:
		return out.toward(rgb{0.62, 0.6, 0.55}, 0.6) // quartz
	case odd < 0.17*m:
		return out.toward(rgb{0.3, 0.13, 0.06}, 0.6) // iron-stained
	}
	return out
}

// paint sets every pixel of the bed.
func (b *bed) paint() {
	for y := range b.heap.h {
		for x := range b.w {
			if !b.shares(x, y) {
				continue
			}
			var colour rgb
			for k := range b.body {
				share := b.share[k] - b.share[k+1]
				if share <= 0 {
					continue
				}
				c := b.colour(k, x, y)
				colour = colour.plus(c.times(share))
				b.tally.add(k, x, y+b.top, share, c)
			}
			if b.share[0] < 1 {
				b.over(x, y+b.top, colour.times(1/b.share[0]), b.share[0])
				continue
			}
			b.px[(y+b.top)*b.w+x] = colour
		}
	}
}

// shares fills in how much of a pixel each layer takes with those below it, and reports whether
// the pixel has any bed.
func (b *bed) shares(x, y int) bool {
	k := y*b.w + x
	row := float32(y+b.top) + 0.5
	id := b.heap.id[k]
	n := len(b.body)
	pore := row > b.edge[b.loose][x]+b.heap.radius
	above := float32(1)
	for i := range n {
		switch {
		case i <= b.loose && (id != 0 || pore):
			b.share[i] = 1
		case i == b.loose:
			b.share[i] = 0
		default:
			b.share[i] = min(above, b.reached(i, x, row, id))
		}
		above = b.share[i]
	}
	b.share[n] = 0
	return b.share[0] > 0
}

// reached is how much of a pixel lies below a layer's upper edge, 0 to 1. A gradual edge has
// tongues and single grains as well as a soft change.
func (b *bed) reached(i, x int, row float32, id uint32) float32 {
	wide := max(float32(b.scene.Layers[i].Edge)*b.ppm, 1.2)
	ragged := 0.35*b.ppm + 0.25*b.heap.radius
	off := row - b.edge[i][x]
	reach := 1.2*wide + 1.6*ragged
	if off < -reach {
		return 0
	}
	if off > reach {
		return 1
	}
	u, v := float32(x)/b.ppm, row/b.ppm
	n := noise(i)*131 + b.ragged
	off += 0.8*wide*n.sum(u/1.6, v/1.1, 3) + ragged*n.sum(u/0.7+50, v/0.7, 2)
	if id != 0 { // a stain covers most of a grain, or little
		off += (0.5*wide + 0.8*b.heap.radius) * (unit(hash(int32(id), int32(i), 5)) - 0.5)
	}
	return step(-0.35*wide, 0.35*wide, off)
}

// colour is the colour of a layer at a pixel.
func (b *bed) colour(i, x, y int) rgb {
	k := y*b.w + x
	l := &b.scene.Layers[i]
	if i < b.loose {
		return b.body[i].times(b.shade[k] * b.looseGain)
	}
	native := b.base[k].by(b.nativeGain)
	if i == b.loose {
		native = b.grimed(native, x, y)
	}
	if l.Band == palette.Native {
		return native
	}
	u, v := float32(x)/b.ppm, float32(y)/b.ppm
	cover := float32(l.Cover)
	// Coats fill gaps first, wear off where grains stand out, and stick to some grains more
	// than to others.
	own := unit(hash(int32(b.heap.id[k]), int32(i), 9)) - 0.5
	patch := float32(b.scene.Stain) * (0.9*b.blotch.sum(u/2.4+float32(i)*31, v/1.4, 3) + 0.7*own)
	cover += 1.6*patch*min(cover, 1-cover) + 0.5*(1-cover)*(0.5-b.open[k])
	coat := b.body[i]
	lit := b.shade[k] * b.stainGain
	if l.Band.IsOverlay() { // a film on the glass hides the grains' shadows
		lit = 1 + 0.45*(lit-1) + 0.3*b.blotch.sum(u*1.3+70, v*1.3, 3)
	} else { // stains are old or fresh
		age := 0.5*b.blotch.sum(u/1.1+90, v/0.8, 3) + 0.35*own
		coat = rgb{coat[0] * (1 + 0.45*age), coat[1] * (1 + 0.65*age), coat[2] * (1 + 0.8*age)}
	}
	return native.toward(coat.times(lit), clamp(cover, 0, 1))
}

// grimed is the colour of the uppermost grains with the mulm that has sunk between them.
func (b *bed) grimed(native rgb, x, y int) rgb {
	if b.loose == 0 || b.scene.Mulm.Sunk <= 0 {
		return native
	}
	const fade = 6 // mm
	deep := max(0, (float32(y+b.top)-b.edge[b.loose][x])/b.ppm)
	share := float32(b.scene.Mulm.Sunk) * fade / (fade + deep) * (1.3 - b.open[y*b.w+x])
	return native.toward(b.body[b.loose-1].times(0.8), clamp(share, 0, 0.6))
}

// coats are the colours of mulm, stains and films that bring a layer near its own colour,
// together with the grains that show through.
func (b *bed) coats() []rgb {
	native := linear(b.scene.Native.Color)
	var out []rgb
	for i, l := range b.scene.Layers {
		c, share := linear(l.Color), float32(l.Cover)
		if i >= b.loose && l.Band != palette.Native {
			for k := range c {
				c[k] = max((c[k]-(1-share)*native[k])/share, 0.1*c[k])
			}
		}
		out = append(out, c)
	}
	return out
}
