package photo

import (
	"math"

	"panecore/palette"
)

// How two slices are compared (assumptions, tried on drawn beds that changed and on beds that did not).
const (
	ChangePxPerMM = 2.0
	changeSmooth  = 2.0   // mm on each side of a patch that is averaged, so that single grains don't show
	changeSeen    = 0.5   // share of a patch that must be seen
	changeBeside  = 5.0   // mm on each side over which a patch is compared with its neighbours
	changeSure    = 1.645 // standard errors: 90 % of a normal error lies within as many
	lastingTint   = 0.5   // of the variance of a colour's doubt is the card's and the camera's own, the same in both photos
)

// Change is where and by how much the bed differs between two slices, from the bed surface down.
type Change struct {
	Width, Height int       // cells, of ChangePxPerMM
	Difference    []float64 // row by row, CIEDE2000; 0: within the doubt; not a number: not seen in both
	Least         float64   // the median of what a difference must exceed to be told, CIEDE2000; 0: nothing is seen in both
	Share         float64   // of what is seen in both: how much of it changed
	LightEV       float64   // stops by which the later photo's light was taken down to match
}

// Compare shows where the bed changed from one slice of a station to a later one. Both are levelled at their bed
// surfaces. A difference in light that the doubt of either allows is taken off first; what then lies within the doubt of
// the colours, of the places of the layers and of the grain is no change.
func Compare(before, after *Slice) *Change {
	c := &Change{
		Width:  int(float64(min(before.Width, after.Width)) / SlicePxPerMM * ChangePxPerMM),
		Height: int((float64(min(before.Height, after.Height))/SlicePxPerMM - SliceAbove) * ChangePxPerMM),
	}
	a, b := before.patches(c.Width, c.Height), after.patches(c.Width, c.Height)
	c.LightEV = lightBetween(a, b, before, after)
	b.darken(c.LightEV)
	tint := tintBetween(before, after)
	offset := math.Hypot(before.doubt.Surface.ErrorMM, after.doubt.Surface.ErrorMM)
	c.Difference = make([]float64, c.Width*c.Height)
	var least []float64
	told := 0
	for at := range c.Difference {
		if !a.seen[at] || !b.seen[at] {
			c.Difference[at] = math.NaN()
			continue
		}
		depth := float64(at/c.Width) / ChangePxPerMM
		stray := math.Hypot(offset, depth*math.Hypot(before.scaleDoubt(), after.scaleDoubt()))
		doubt := changeSure * norm(tint, a.veiled(at, before), b.veiled(at, after),
			max(a.strayed(at, stray), b.strayed(at, stray)), math.Sqrt2*min(a.grain(at), b.grain(at)))
		least = append(least, doubt)
		if d := palette.Difference(a.lab[at], b.lab[at]); d > doubt {
			c.Difference[at] = d
			told++
		}
	}
	if len(least) > 0 {
		c.Share = float64(told) / float64(len(least))
		c.Least = median(least)
	}
	return c
}

// norm is the root of a sum of squares.
func norm(parts ...float64) (sum float64) {
	for _, p := range parts {
		sum = math.Hypot(sum, p)
	}
	return sum
}

// tintBetween is the doubt about the difference of two colours, CIEDE2000. Without a card nothing is the same in both.
func tintBetween(before, after *Slice) float64 {
	both := math.Hypot(before.doubt.ColorDoubt, after.doubt.ColorDoubt)
	if before.carded && after.carded {
		both *= math.Sqrt(1 - lastingTint)
	}
	return both
}

// scaleDoubt is the standard error of a slice's millimetres, as a share of them, without what the pane does alike in
// every photo of a place.
func (s *Slice) scaleDoubt() float64 {
	return math.Sqrt(max(0, s.doubt.ScaleError*s.doubt.ScaleError-paneDoubt*paneDoubt))
}

// lightBetween is by how many stops the later slice is lighter all over, as far as the doubt of their light allows.
func lightBetween(a, b *patches, before, after *Slice) float64 {
	var stops []float64
	for at := range a.light {
		if a.seen[at] && b.seen[at] {
			stops = append(stops, math.Log2((b.light[at].Luminance()+darkLight)/(a.light[at].Luminance()+darkLight)))
		}
	}
	if len(stops) == 0 {
		return 0
	}
	most := changeSure * math.Hypot(before.doubt.Light.EVDoubt, after.doubt.Light.EVDoubt)
	return min(most, max(-most, median(stops)))
}

// patches are the means of a slice around each cell of a change, levelled at the bed surface.
type patches struct {
	width, height int
	light         []palette.Linear
	lab           []palette.Lab
	seen          []bool
}

func (s *Slice) patches(width, height int) *patches {
	p := &patches{width, height, make([]palette.Linear, width*height), make([]palette.Lab, width*height), make([]bool, width*height)}
	reach := changeSmooth / 2 * SlicePxPerMM
	for y := range height {
		for x := range width {
			across := float64(s.Width)/2 + (float64(x)+0.5-float64(width)/2)/ChangePxPerMM*SlicePxPerMM
			down := (SliceAbove + (float64(y)+0.5)/ChangePxPerMM) * SlicePxPerMM
			at := y*width + x
			p.light[at], p.seen[at] = s.mean(across, down, reach)
			p.lab[at] = p.light[at].Lab()
		}
	}
	return p
}

// mean is the light around a place in a slice as it would be with a level bed surface; false: too little is seen. What lies
// above the surface is left out.
func (s *Slice) mean(across, down, reach float64) (mean palette.Linear, ok bool) {
	n, all := 0.0, 0.0
	surface := int(math.Round(SliceAbove * SlicePxPerMM))
	for x := max(0, int(math.Round(across-reach))); x < min(s.Width, int(math.Round(across+reach))); x++ {
		shift := int(math.Round(s.relief[x] * SlicePxPerMM))
		for y := max(surface, int(math.Round(down-reach))); y < int(math.Round(down+reach)); y++ {
			all++
			if y+shift < 0 || y+shift >= s.Height || s.seen[(y+shift)*s.Width+x] != inSight {
				continue
			}
			n++
			for ch, v := range s.light[(y+shift)*s.Width+x] {
				mean[ch] += v
			}
		}
	}
	for ch := range mean {
		mean[ch] /= max(1, n)
	}
	return mean, n > 0 && n >= changeSeen*all
}

// darken takes so many stops of light off.
func (p *patches) darken(ev float64) {
	for at := range p.light {
		for ch := range p.light[at] {
			p.light[at][ch] *= math.Exp2(-ev)
		}
		p.lab[at] = p.light[at].Lab()
	}
}

// veiled is what the doubt about a slice's stray light does to a patch, CIEDE2000.
func (p *patches) veiled(at int, s *Slice) float64 {
	light := p.light[at]
	for ch := range light {
		light[ch] += s.doubt.Light.VeilDoubt
	}
	return palette.Difference(p.lab[at], light.Lab())
}

// strayed is how much a patch differs from those so many mm above and below it, CIEDE2000: the most of the two.
func (p *patches) strayed(at int, mm float64) (most float64) {
	rows := max(1, int(math.Ceil(mm*ChangePxPerMM)))
	share := mm * ChangePxPerMM / float64(rows)
	for _, y := range []int{at/p.width - rows, at/p.width + rows} {
		if y >= 0 && y < p.height && p.seen[y*p.width+at%p.width] {
			most = max(most, share*palette.Difference(p.lab[at], p.lab[y*p.width+at%p.width]))
		}
	}
	return most
}

// grain is how much a patch's neighbours to the left and right differ from their mean, root-mean-square CIEDE2000.
func (p *patches) grain(at int) float64 {
	reach := int(changeBeside * ChangePxPerMM)
	row := at / p.width * p.width
	var mean palette.Linear
	var beside []int
	for x := max(0, at-row-reach); x < min(p.width, at-row+reach+1); x++ {
		if i := row + x; p.seen[i] {
			beside = append(beside, i)
			for ch, v := range p.light[i] {
				mean[ch] += v
			}
		}
	}
	for ch := range mean {
		mean[ch] /= float64(len(beside))
	}
	middle, squares := mean.Lab(), 0.0
	for _, i := range beside {
		d := palette.Difference(middle, p.lab[i])
		squares += d * d / float64(len(beside))
	}
	return math.Sqrt(squares)
}
