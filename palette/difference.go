package palette

import "math"

// Difference is the CIEDE2000 colour difference of two colours with unit weights (kL = kC = kH = 1);
// 1 is about the least that an eye can see.
//
// Source: CIE 142-2001, in the form of Sharma, Wu & Dalal, "The CIEDE2000
// color-difference formula: implementation notes, supplementary test data, and
// mathematical observations", Color Research & Application 30(1):21-30, 2005.
//
// The mean hue is the direction of the sum of the two unit hue vectors, which
// spares five of the seven trigonometric calls of the printed form.
func Difference(x, y Lab) float64 {
	p, q := tint(x), tint(y)
	return difference(&p, &q)
}

// tinted is a colour with its chroma at hand.
type tinted struct {
	Lab
	chroma float64
}

func tint(lab Lab) tinted { return tinted{lab, math.Sqrt(lab.A*lab.A + lab.B*lab.B)} }

func difference(x, y *tinted) float64 {
	stretch := 1 + 0.5*(1-math.Sqrt(chromaWeight((x.chroma+y.chroma)/2)))
	ax, ay := stretch*x.A, stretch*y.A
	cx := math.Sqrt(ax*ax + x.B*x.B)
	cy := math.Sqrt(ay*ay + y.B*y.B)

	deltaH, cos, sin := hues(ax, x.B, cx, ay, y.B, cy)

	light := (x.L+y.L)/2 - 50
	light *= light
	c := (cx + cy) / 2
	sL := 1 + 0.015*light/math.Sqrt(20+light)
	sC := colourful(c)
	sH := 1 + 0.015*c*hueWeight(cos, sin)

	dL, dC, dH := (y.L-x.L)/sL, (cy-cx)/sC, deltaH/sH
	return math.Sqrt(max(0, dL*dL+dC*dC+dH*dH+hueTurn(cos, sin, c)*dC*dH))
}

// chromaWeight is c^7/(c^7+25^7).
func chromaWeight(c float64) float64 {
	const twentyFive7 = 25 * 25 * 25 * 25 * 25 * 25 * 25
	c2 := c * c
	c7 := c2 * c2 * c2 * c
	return c7 / (c7 + twentyFive7)
}

// hues is the hue difference ΔH′ and the cosine and sine of the mean hue of two colours given as a′,
// b, C′.
func hues(ax, bx, cx, ay, by, cy float64) (deltaH, cos, sin float64) {
	if cx*cy == 0 { // a neutral has no hue: the other's counts for both
		if c := cx + cy; c > 0 {
			return 0, (ax + ay) / c, (bx + by) / c
		}
		return 0, 1, 0
	}
	ux, vx := ax/cx, bx/cx
	uy, vy := ay/cy, by/cy
	u, v := ux+uy, vx+vy
	length := math.Sqrt(u*u + v*v)
	if length < 1e-6 {
		return opposedHues(ax, bx, ay, by, math.Sqrt(cx*cy))
	}
	// |u| is 2cos(Δh/2) and the cross product sin(Δh), so their ratio is sin(Δh/2).
	return 2 * math.Sqrt(cx*cy) * (ux*vy - uy*vx) / length, u / length, v / length
}

// opposedHues is hues for two that lie 180° apart: there the formula jumps, and the printed rule
// (|Δh| up to and including 180° is taken as it is) needs a tolerance for the last bits of the two
// angles.
func opposedHues(ax, bx, ay, by, c float64) (deltaH, cos, sin float64) {
	const halfTurn = math.Pi + 1e-11
	hx, hy := hue(ax, bx), hue(ay, by)
	delta, mean := hy-hx, (hx+hy)/2
	switch {
	case delta > halfTurn:
		delta, mean = delta-2*math.Pi, mean+math.Pi
	case delta < -halfTurn:
		delta, mean = delta+2*math.Pi, mean+math.Pi
	}
	sin, cos = math.Sincos(mean)
	return 2 * c * math.Sin(delta/2), cos, sin
}

// hue is an angle in [0, 2π).
func hue(a, b float64) float64 {
	h := math.Atan2(b, a)
	if h < 0 {
		h += 2 * math.Pi
	}
	return h
}

// hueWeight is the formula's T for a mean hue given by its cosine and sine.
func hueWeight(cos, sin float64) float64 {
	const (
		cos30, sin30 = 0.86602540378443864676, 0.5
		cos6, sin6   = 0.99452189536827333692, 0.10452846326765347140
		cos63, sin63 = 0.45399049973954679156, 0.89100652418836786236
	)
	cos2, sin2 := cos*cos-sin*sin, 2*sin*cos
	cos3, sin3 := cos2*cos-sin2*sin, sin2*cos+cos2*sin
	cos4, sin4 := cos2*cos2-sin2*sin2, 2*sin2*cos2
	return 1 - 0.17*(cos*cos30+sin*sin30) + 0.24*cos2 +
		0.32*(cos3*cos6-sin3*sin6) - 0.20*(cos4*cos63+sin4*sin63)
}

// hueTurn is the formula's rotation R_T, which matters only for blues.
func hueTurn(cos, sin, c float64) float64 {
	const cos275, sin275 = 0.08715574274765817356, -0.99619469809174553230
	if cos*cos275+sin*sin275 < -0.58 { // over 125° away, where it is below 1e-10
		return 0
	}
	h := math.Atan2(sin, cos) * (180 / math.Pi)
	if h < 0 {
		h += 360
	}
	h = (h - 275) / 25
	turn := 60 * math.Exp(-h*h) * (math.Pi / 180)
	return -2 * math.Sin(turn) * math.Sqrt(chromaWeight(c))
}

// squareFloor is a quick lower bound of the square of Difference. The lightness weight S_L never
// exceeds 1 + 0.015·|mean L* - 50|. The chroma and hue terms together are never less than the
// distance in the a*b* plane divided by the larger weight S_C, which is at most
// 1 + 0.045·1.5·(mean chroma), unless a blue hue turns them: if a b* is below zero they are left out.
func squareFloor(x, y *tinted) float64 {
	l := (x.L - y.L) / (1 + 0.015*math.Abs((x.L+y.L)/2-50))
	if x.B < 0 || y.B < 0 {
		return l * l
	}
	a, b, weight := x.A-y.A, x.B-y.B, 1+0.0675*(x.chroma+y.chroma)/2
	return l*l + (a*a+b*b)/(weight*weight)
}

// colourful is S_C of CIEDE2000: how much less a difference counts the more chroma there is.
func colourful(chroma float64) float64 { return 1 + 0.045*chroma }
