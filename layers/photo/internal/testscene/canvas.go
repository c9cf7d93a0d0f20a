package testscene

import "math"

// A canvas is a picture in linear light, row by row from the top.
type canvas struct {
	w, h int
	px   []rgb
}

func newCanvas(w, h int) *canvas { return &canvas{w, h, make([]rgb, w*h)} }

// over paints a colour at a pixel with an opacity of 0 to 1.
func (c *canvas) over(x, y int, colour rgb, opacity float32) {
	if x < 0 || y < 0 || x >= c.w || y >= c.h || opacity <= 0 {
		return
	}
	p := &c.px[y*c.w+x]
	*p = p.toward(colour, min(opacity, 1))
}

// A brush is how a stroke looks.
type brush struct {
	colour  rgb
	edge    float32 // factor on the colour at the rim; 1: flat
	opacity float32
}

// stroke paints a line from one disc to another, in pixels.
func (c *canvas) stroke(x0, y0, r0, x1, y1, r1 float32, b brush) {
	reach := max(r0, r1) + 1
	left, right := max(0, int(min(x0, x1)-reach)), min(c.w-1, int(max(x0, x1)+reach))
	top, foot := max(0, int(min(y0, y1)-reach)), min(c.h-1, int(max(y0, y1)+reach))
	dx, dy := x1-x0, y1-y0
	length2 := max(dx*dx+dy*dy, 1e-6)
	across := 1 / sqrt(length2)
	for y := top; y <= foot; y++ {
		for x := left; x <= right; x++ {
			px, py := float32(x)+0.5-x0, float32(y)+0.5-y0
			t := clamp((px*dx+py*dy)/length2, 0, 1)
			ex, ey := px-t*dx, py-t*dy
			d2, r := ex*ex+ey*ey, mix(r0, r1, t)
			if d2 >= (r+0.5)*(r+0.5) {
				continue
			}
			// Shading depends only on the distance across, so that joined strokes show no joints.
			rim := (px*dy - py*dx) * across / max(r, 0.5)
			c.over(x, y, b.colour.times(mix(1, b.edge, min(rim*rim, 1))), b.opacity*min(r+0.5-sqrt(d2), 1))
		}
	}
}

// curve paints a bent ribbon through three points (a quadratic Bézier curve) whose half
// width is given along it by a function of 0 to 1.
func (c *canvas) curve(p [3][2]float32, half func(t float32) float32, b brush) {
	const pieces = 24
	at := func(t float32) (float32, float32) {
		u := 1 - t
		return u*u*p[0][0] + 2*u*t*p[1][0] + t*t*p[2][0], u*u*p[0][1] + 2*u*t*p[1][1] + t*t*p[2][1]
	}
	x0, y0 := at(0)
	for i := 1; i <= pieces; i++ {
		t := float32(i) / pieces
		x1, y1 := at(t)
		c.stroke(x0, y0, half(t-1.0/pieces), x1, y1, half(t), b)
		x0, y0 = x1, y1
	}
}

// box paints a rectangle turned about its middle, by a function of the place on it in
// pixels from its upper left corner that gives colour and opacity.
func (c *canvas) box(left, top, w, h, turnDeg float32, paint func(u, v float32) (rgb, float32)) {
	sin64, cos64 := math.Sincos(float64(turnDeg) * math.Pi / 180)
	sin, cos := float32(sin64), float32(cos64)
	mx, my := left+w/2, top+h/2
	reachX, reachY := (w*abs(cos)+h*abs(sin))/2+1, (w*abs(sin)+h*abs(cos))/2+1
	for y := max(0, int(my-reachY)); y <= min(c.h-1, int(my+reachY)); y++ {
		for x := max(0, int(mx-reachX)); x <= min(c.w-1, int(mx+reachX)); x++ {
			dx, dy := float32(x)+0.5-mx, float32(y)+0.5-my
			u, v := dx*cos+dy*sin+w/2, dy*cos-dx*sin+h/2
			inside := min(min(u, w-u), min(v, h-v)) + 0.5
			if inside <= 0 {
				continue
			}
			colour, opacity := paint(u, v)
			c.over(x, y, colour, opacity*min(inside, 1))
		}
	}
}

func abs(x float32) float32 { return max(x, -x) }

// sample is the canvas between its pixels.
func (c *canvas) sample(x, y float32) rgb {
	x, y = clamp(x-0.5, 0, float32(c.w-1)-0.001), clamp(y-0.5, 0, float32(c.h-1)-0.001)
	i, j := int(x), int(y)
	u, v := x-float32(i), y-float32(j)
	k := j*c.w + i
	right, down := 1, c.w
	if i+1 >= c.w {
		right = 0
	}
	if j+1 >= c.h {
		down = 0
	}
	top := c.px[k].toward(c.px[k+right], u)
	return top.toward(c.px[k+down].toward(c.px[k+down+right], u), v)
}

// blur blurs by three running means, which are nearly a Gaussian of a standard deviation in
// pixels.
func (c *canvas) blur(sigma float32) {
	if sigma < 2 {
		c.blurFine(sigma)
		return
	}
	radius := int(math.Round((math.Sqrt(4*float64(sigma*sigma)+1) - 1) / 2))
	buffer := make([]rgb, max(c.w, c.h))
	for range 3 {
		for y := range c.h {
			runningMean(c.px[y*c.w:], 1, c.w, radius, buffer)
		}
		for x := range c.w {
			runningMean(c.px[x:], c.w, c.h, radius, buffer)
		}
	}
}

func runningMean(px []rgb, stride, n, radius int, buffer []rgb) {
	for i := range n {
		buffer[i] = px[i*stride]
	}
	at := func(i int) rgb { return buffer[max(0, min(n-1, i))] }
	var sum rgb
	for i := -radius; i <= radius; i++ {
		sum = sum.plus(at(i))
	}
	share := 1 / float32(2*radius+1)
	for i := range n {
		px[i*stride] = sum.times(share)
		sum = sum.plus(at(i + radius + 1)).plus(at(i - radius).times(-1))
	}
}

// blurFine blurs by a true Gaussian, for a few pixels.
func (c *canvas) blurFine(sigma float32) {
	if sigma < 0.1 {
		return
	}
	radius := int(math.Ceil(float64(2.5 * sigma)))
	weights := make([]float32, radius+1)
	var total float32
	for i := range weights {
		weights[i] = float32(math.Exp(-float64(i*i) / (2 * float64(sigma) * float64(sigma))))
		total += weights[i]
		if i > 0 {
			total += weights[i]
		}
	}
	for i := range weights {
		weights[i] /= total
	}
	out := make([]rgb, len(c.px))
	c.convolve(c.px, out, weights, 1)
	c.convolve(out, c.px, weights, c.w)
}

// convolve weighs each pixel with its neighbours along an axis. The stride is 1 along rows and
// the width along columns.
func (c *canvas) convolve(from, to []rgb, weights []float32, stride int) {
	for y := range c.h {
		for x := range c.w {
			k, before, after := y*c.w+x, x, c.w-1-x
			if stride != 1 {
				before, after = y, c.h-1-y
			}
			sum := from[k].times(weights[0])
			for r, w := range weights[1:] {
				a, b := &from[k-min(r+1, before)*stride], &from[k+min(r+1, after)*stride]
				sum[0] += w * (a[0] + b[0])
				sum[1] += w * (a[1] + b[1])
				sum[2] += w * (a[2] + b[2])
			}
			to[k] = sum
		}
	}
}
