package seek

import (
	"cmp"
	"math"
	"slices"
)

// Card is a grey or white card as found: the part of it that shows nothing else, with upright sides.
type Card struct {
	Corner     Point // upper left
	W, H       float64
	Confidence float64
}

// What a card is (assumptions, tried on drawn and path-traced pictures).
const (
	cardLeast   = 10.0 // mm, its shorter side
	cardMost    = 90.0 // mm, its longer side
	cardLong    = 3.5  // times its shorter side, at most
	cardFull    = 0.86 // share of the least rectangle around it that it fills, at least
	cardSides   = 0.07 // ln of the light by which it differs from what lies beside it, on three sides or more
	cardTint    = 0.30 // ln by which its channels may differ from those of a white ruler beside it
	cardColour  = 0.70 // the same beside equal channels, where there is no ruler
	cardInner   = 0.72 // share of its width and height that is used
	cardDarkest = 0.03 // luminance, at least, white at 1
	rimMM       = 1.2  // from a side to where light is compared
)

// cellsMM are the sides of the cells that are joined, mm: wide ones even out the noise of a dark picture (assumption).
func cellsMM() []float64 { return []float64{.4, .9} }

// joins are the differences of ln light up to which neighbouring cells are of one thing (assumption: from a card in
// even light to one in a shadow's edge or a noisy picture).
func joins() []float32 { return []float32{.02, .035, .06, .1} }

// Card is the likeliest grey or white card in the picture; ruler is the one found, if any. False: none is seen.
func (s *Small) Card(pxPerMM float64, ruler *Ruler) (best Card, found bool) {
	var white *[2]float64
	if ruler != nil {
		tint := s.tint(ruler)
		white = &tint
	}
	for _, mm := range cellsMM() {
		f := s.cells(max(1, int(math.Round(mm*pxPerMM/s.Scale))))
		if ruler != nil {
			f.hide(s, ruler.Plate)
		}
		k := f.side * s.Scale
		perMM := pxPerMM / k
		right, below := f.steps()
		for _, join := range joins() {
			for _, part := range f.parts(right, below, join, int(cardLeast*cardLeast*perMM*perMM*cardFull)) {
				if c := f.card(part, perMM, white); c.Confidence > best.Confidence {
					c.Corner, c.W, c.H = Point{c.Corner.X * k, c.Corner.Y * k}, c.W*k, c.H*k
					best, found = c, true
				}
			}
		}
	}
	return best, found
}

// cells are a small picture made smaller: ln of light in three channels.
type cells struct {
	side float64 // pixels of the small picture
	w, h int
	ln   [][3]float32
	shut []bool // not looked at
}

func (s *Small) cells(n int) *cells {
	f := &cells{side: float64(n), w: s.Width / n, h: s.Height / n}
	f.ln, f.shut = make([][3]float32, f.w*f.h), make([]bool, f.w*f.h)
	for y := range f.h {
		for x := range f.w {
			var sum [3]float32
			for dy := range n {
				for dx := range n {
					for c, v := range s.colour[(y*n+dy)*s.Width+x*n+dx] {
						sum[c] += v
					}
				}
			}
			for c, v := range sum {
				f.ln[y*f.w+x][c] = float32(math.Log(dark + float64(v)/float64(n*n)))
			}
		}
	}
	return f
}

// hide shuts the cells within a ruler's plate.
func (f *cells) hide(s *Small, plate [4]Point) {
	k := s.Scale * f.side
	for y := range f.h {
		for x := range f.w {
			at, inside := Point{(float64(x) + .5) * k, (float64(y) + .5) * k}, true
			for i, a := range plate {
				b := plate[(i+1)%4]
				inside = inside && (b.X-a.X)*(at.Y-a.Y)-(b.Y-a.Y)*(at.X-a.X) >= 0
			}
			if inside {
				f.shut[y*f.w+x] = true
			}
		}
	}
}

// tint is ln of red and blue beside green of a ruler's bright half.
func (s *Small) tint(r *Ruler) [2]float64 {
	var list [][3]float32
	for i := range 40 {
		for j := range 40 {
			u, v := (float64(i)+.5)/40, (float64(j)+.5)/40
			at := func(of func(Point) float64) float64 {
				return (of(r.Plate[0])*(1-u)+of(r.Plate[1])*u)*(1-v) + (of(r.Plate[3])*(1-u)+of(r.Plate[2])*u)*v
			}
			x, y := int(at(func(p Point) float64 { return p.X })/s.Scale), int(at(func(p Point) float64 { return p.Y })/s.Scale)
			if x >= 0 && x < s.Width && y >= 0 && y < s.Height {
				list = append(list, s.colour[y*s.Width+x])
			}
		}
	}
	slices.SortFunc(list, func(a, b [3]float32) int { return cmp.Compare(b[1], a[1]) })
	var sum [3]float64
	for _, light := range list[:len(list)/2] {
		for c, v := range light {
			sum[c] += float64(v)
		}
	}
	return [2]float64{math.Log((dark + sum[0]) / (dark + sum[1])), math.Log((dark + sum[2]) / (dark + sum[1]))}
}

// steps are how much each cell differs from its neighbour to the right and from that below, ln of light in the channel
// that differs most; infinite where one is missing or shut.
func (f *cells) steps() (right, below []float32) {
	differ := func(a, b int) (most float32) {
		if f.shut[a] || f.shut[b] {
			return float32(math.Inf(1))
		}
		for c, v := range f.ln[a] {
			most = max(most, v-f.ln[b][c], f.ln[b][c]-v)
		}
		return most
	}
	right, below = make([]float32, len(f.ln)), make([]float32, len(f.ln))
	for i := range f.ln {
		right[i], below[i] = float32(math.Inf(1)), float32(math.Inf(1))
		if i%f.w+1 < f.w {
			right[i] = differ(i, i+1)
		}
		if i+f.w < len(f.ln) {
			below[i] = differ(i, i+f.w)
		}
	}
	return right, below
}

// parts are the sets of cells joined to their neighbours that have at least so many cells, by their indices.
func (f *cells) parts(right, below []float32, join float32, least int) (list [][]int32) {
	root := make([]int32, len(f.ln))
	for i := range root {
		root[i] = int32(i)
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for i := range f.ln {
		if right[i] <= join {
			root[find(int32(i))] = find(int32(i + 1))
		}
		if below[i] <= join {
			root[find(int32(i))] = find(int32(i + f.w))
		}
	}
	count := make([]int, len(root))
	for i := range root {
		root[i] = find(int32(i))
		count[root[i]]++
	}
	place := make([]int32, len(root)) // of a root's part in the list
	for i, r := range root {
		if r == int32(i) && count[r] >= least {
			place[r] = int32(len(list))
			list = append(list, make([]int32, 0, count[r]))
		}
	}
	for i, r := range root {
		if count[r] >= least {
			list[place[r]] = append(list[place[r]], int32(i))
		}
	}
	return list
}

// card is a part as a card; its confidence is 0 if it can't be one. Places are in cells.
func (f *cells) card(part []int32, perMM float64, white *[2]float64) (c Card) {
	if float64(len(part)) > cardMost*cardMost*perMM*perMM {
		return c
	}
	var mean [3]float64
	left, top, right, bottom := f.w, f.h, 0, 0
	for _, i := range part {
		x, y := int(i)%f.w, int(i)/f.w
		left, right, top, bottom = min(left, x), max(right, x), min(top, y), max(bottom, y)
		for k, v := range f.ln[i] {
			mean[k] += float64(v) / float64(len(part))
		}
	}
	if left == 0 || top == 0 || right == f.w-1 || bottom == f.h-1 {
		return c
	}
	off := math.Max(math.Abs(mean[0]-mean[1]), math.Abs(mean[2]-mean[1])) / cardColour
	if white != nil { // a ruler may be of wood, or yellow
		off = min(off, math.Max(math.Abs(mean[0]-mean[1]-white[0]), math.Abs(mean[2]-mean[1]-white[1]))/cardTint)
	}
	if off > 1 || mean[1] < math.Log(cardDarkest) {
		return c
	}
	b := f.around(part)
	short, long := min(b.w, b.h)/perMM, max(b.w, b.h)/perMM
	full := float64(len(part)) / (b.w * b.h)
	if short < cardLeast || long > cardMost || long > cardLong*short || full < cardFull {
		return c
	}
	sides, edge := b.sides(f, perMM)
	if sides < 3 {
		return c
	}
	c.Confidence = min(1, (full-.7)/.25) * (1 - .4*off) * min(1, .5+edge) * (.8 + .05*float64(sides))
	// the greatest box with upright sides in the turned one, made smaller
	lean := math.Abs(math.Tan(b.turn))
	c.W, c.H = cardInner*(b.w-lean*b.h), cardInner*(b.h-lean*b.w)
	c.Corner = Point{b.x - c.W/2, b.y - c.H/2}
	return c
}

// turnedBox is a rectangle by its middle, its sides and its turn in radians.
type turnedBox struct{ x, y, w, h, turn float64 }

const mostTurn, turnStep = 15, 1 // degrees by which a card may hang askew (assumption)

// around is the least rectangle around a part.
func (f *cells) around(part []int32) (best turnedBox) {
	for degrees := -mostTurn; degrees <= mostTurn; degrees += turnStep {
		turn := float64(degrees) * math.Pi / 180
		sin, cos := math.Sincos(turn)
		u0, v0, u1, v1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, i := range part {
			x, y := float64(int(i)%f.w)+.5, float64(int(i)/f.w)+.5
			u, v := x*cos+y*sin, y*cos-x*sin
			u0, u1, v0, v1 = min(u0, u), max(u1, u), min(v0, v), max(v1, v)
		}
		w, h := u1-u0+1, v1-v0+1
		if best.w == 0 || w*h < best.w*best.h {
			u, v := (u0+u1)/2, (v0+v1)/2
			best = turnedBox{u*cos - v*sin, u*sin + v*cos, w, h, turn}
		}
	}
	return best
}

// sides counts the sides at which the light changes, and says by how much on the mean.
func (b turnedBox) sides(f *cells, perMM float64) (n int, edge float64) {
	rim := max(1.5, rimMM*perMM)
	sin, cos := math.Sincos(b.turn)
	light := func(u, v float64) (l [3]float32, ok bool) {
		x, y := int(b.x+u*cos-v*sin), int(b.y+u*sin+v*cos)
		if x < 0 || y < 0 || x >= f.w || y >= f.h {
			return l, false
		}
		return f.ln[y*f.w+x], true
	}
	for side := range 4 {
		var steps []float64
		for i := range 24 {
			along := (float64(i)+.5)/24 - .5
			var u, v, du, dv float64
			switch side {
			case 0:
				u, v, dv = along*b.w*.9, -b.h/2, -1
			case 1:
				u, v, dv = along*b.w*.9, b.h/2, 1
			case 2:
				u, v, du = -b.w/2, along*b.h*.9, -1
			case 3:
				u, v, du = b.w/2, along*b.h*.9, 1
			}
			out, ok1 := light(u+du*rim, v+dv*rim)
			in, ok2 := light(u-du*rim, v-dv*rim)
			if ok1 && ok2 {
				step := 0.0
				for c := range out {
					step = max(step, math.Abs(float64(out[c]-in[c])))
				}
				steps = append(steps, step)
			}
		}
		if len(steps) == 0 {
			continue
		}
		slices.Sort(steps)
		if m := steps[len(steps)/2]; m > cardSides {
			n++
			edge += m / 4
		}
	}
	return n, edge
}
