package testscene

import "strconv"

// rulerStyle is what a ruler is made of.
type rulerStyle uint8

const (
	whitePlastic rulerStyle = iota
	steel
	yellowTape
	beech
)

var rulers = [...]struct{ body, ink rgb }{
	whitePlastic: {rgb{0.72, 0.73, 0.72}, rgb{0.02, 0.02, 0.025}},
	steel:        {rgb{0.36, 0.37, 0.38}, rgb{0.03, 0.03, 0.03}},
	yellowTape:   {rgb{0.68, 0.52, 0.08}, rgb{0.02, 0.02, 0.02}},
	beech:        {rgb{0.50, 0.34, 0.17}, rgb{0.05, 0.03, 0.02}},
}

// paintRuler tapes the ruler on the glass.
func (st *stage) paintRuler() {
	r := st.scene.Ruler
	if r.LengthMM == 0 {
		return
	}
	style := rulers[r.Style]
	left, wide := st.x(r.LeftMM), float32(r.WidthMM)*st.ppm
	top, long := st.y(r.TopMM-3), float32(r.LengthMM+6)*st.ppm
	grain := st.noise(600)
	st.shadow(left, top, wide, long, 0)
	st.box(left, top, wide, long, 0, func(u, v float32) (rgb, float32) {
		t := u / wide
		light := 0.97 + 0.05*grain.at(u/st.ppm/9, v/st.ppm/30) - 0.1*step(0.03, 0, min(t, 1-t))
		switch r.Style {
		case steel:
			light += 0.10*grain.sum(u/st.ppm*9, v/st.ppm/9, 2) + 0.15*grain.at(0.5, v/st.ppm/28)
		case beech:
			light += 0.13 * grain.sum(u/st.ppm*1.6, v/st.ppm/14, 3)
		}
		return style.body.times(light), 1
	})
	ink := brush{style.ink, 1, 0.92}
	for mm := 0; mm <= int(r.LengthMM); mm++ {
		length := float32(2.6)
		if mm%5 == 0 {
			length = 3.8
		}
		if mm%10 == 0 {
			length = 5.5
		}
		y, half := st.y(r.TopMM+float64(mm)), max(0.09*st.ppm, 0.5)
		from, to := left+half, left+length*st.ppm
		if r.TicksRight {
			from, to = left+wide-length*st.ppm, left+wide-half
		}
		st.stroke(from, y, half, to, y, half, ink)
		if mm%10 == 0 {
			st.tickNumber(mm, y, ink)
		}
	}
}

// tickNumber writes a tick's number beside it.
func (st *stage) tickNumber(mm int, y float32, ink brush) {
	r := st.scene.Ruler
	if r.InCM {
		mm /= 10
	}
	text := strconv.Itoa(mm)
	high := 3.1 * st.ppm
	wide := high * 0.66
	x := st.x(r.LeftMM) + 6.6*st.ppm
	if r.TicksRight {
		x = st.x(r.LeftMM+r.WidthMM) - 6.6*st.ppm - wide*float32(len(text))
	}
	st.write(text, x, y-high/2, high, ink)
}

// digits are each a single line in a box one wide and two high.
var digits = [10][][2]float32{
	{{.5, 0}, {.22, .2}, {.1, .65}, {.1, 1.35}, {.22, 1.8}, {.5, 2}, {.78, 1.8}, {.9, 1.35}, {.9, .65}, {.78, .2}, {.5, 0}},
	{{.2, .4}, {.55, 0}, {.55, 2}},
	{{.12, .5}, {.2, .15}, {.5, 0}, {.8, .15}, {.88, .55}, {.7, 1}, {.1, 2}, {.92, 2}},
	{{.12, .3}, {.45, 0}, {.8, .2}, {.82, .65}, {.5, .92}, {.85, 1.25}, {.85, 1.7}, {.5, 2}, {.1, 1.7}},
	{{.95, 1.4}, {.05, 1.4}, {.7, 0}, {.7, 2}},
	{{.85, 0}, {.2, 0}, {.15, .85}, {.5, .72}, {.85, 1}, {.9, 1.45}, {.7, 1.88}, {.4, 2}, {.1, 1.75}},
	{{.8, .15}, {.5, 0}, {.2, .4}, {.1, 1.1}, {.15, 1.65}, {.5, 2}, {.82, 1.75}, {.9, 1.35}, {.75, .95}, {.45, .85}, {.14, 1.2}},
	{{.1, 0}, {.92, 0}, {.4, 2}},
	{{.5, .92}, {.18, .7}, {.15, .25}, {.5, 0}, {.85, .25}, {.82, .7}, {.5, .92}, {.13, 1.25}, {.15, 1.75}, {.5, 2}, {.85, 1.75}, {.87, 1.25}, {.5, .92}},
	{{.2, 1.85}, {.5, 2}, {.8, 1.6}, {.9, .9}, {.85, .35}, {.5, 0}, {.18, .25}, {.1, .65}, {.25, 1.05}, {.55, 1.15}, {.86, .8}},
}

// write draws a whole number.
func (st *stage) write(text string, x, y, high float32, ink brush) {
	unit, r := high/2, max(0.055*high, 0.5)
	for _, digit := range text {
		line := digits[digit-'0']
		for i, to := range line[1:] {
			from := line[i]
			st.stroke(x+from[0]*unit, y+from[1]*unit, r, x+to[0]*unit, y+to[1]*unit, r, ink)
		}
		x += high * 0.66
	}
}

// paintCard tapes the grey card on the glass.
func (st *stage) paintCard() {
	c := st.scene.Card
	if c.WidthMM == 0 {
		return
	}
	left, top := st.x(c.LeftMM), st.y(c.TopMM)
	wide, high := float32(c.WidthMM)*st.ppm, float32(c.HeightMM)*st.ppm
	grey := rgb{float32(c.Y * c.Cast[0]), float32(c.Y * c.Cast[1]), float32(c.Y * c.Cast[2])}
	paper := st.noise(610)
	st.shadow(left, top, wide, high, float32(c.TiltDeg))
	st.box(left, top, wide, high, float32(c.TiltDeg), func(u, v float32) (rgb, float32) {
		return grey.times(1 + 0.015*paper.sum(u/st.ppm*2.5, v/st.ppm*2.5, 2)), 1
	})
	if c.TapeAcross {
		st.tape(left+0.5*wide, top+0.02*high, wide*0.75, 6*st.ppm, float32(c.TiltDeg)+st.between(-4, 4))
		return
	}
	st.tape(left, top, 12*st.ppm, 5*st.ppm, -42)
	st.tape(left+wide, top, 12*st.ppm, 5*st.ppm, 40)
}

// tape sticks a strip of clear tape over a point.
func (st *stage) tape(x, y, wide, high, turn float32) {
	n := st.noise(620)
	st.box(x-wide/2, y-high/2, wide, high, turn, func(u, v float32) (rgb, float32) {
		return rgb{0.75, 0.74, 0.7}, 0.13 + 0.06*n.sum(u/st.ppm/2, v/st.ppm/1.2, 2)
	})
}

// shadow darkens the bed under a thing on the glass, a little below it and to its side.
func (st *stage) shadow(left, top, wide, high, turn float32) {
	off, soft := 0.5*st.ppm, 0.9*st.ppm
	st.box(left+off-soft, top+off-soft, wide+2*soft, high+2*soft, turn, func(u, v float32) (rgb, float32) {
		inside := min(min(u, wide+2*soft-u), min(v, high+2*soft-v)) / (2 * soft)
		return rgb{}, 0.35 * clamp(inside, 0, 1)
	})
}
