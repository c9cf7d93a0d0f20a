package photo

import (
	"fmt"
	"math"
	"slices"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// Card is a grey or white card in the picture.
type Card struct {
	Box         Box
	Reflectance float64 // luminance Y, 0 to 1; zero: not given
}

// Bounds of a usable card (assumptions).
const (
	cardInset      = 0.1  // share of its width and height left out at each edge
	cardPixels     = 64   // at least: a box of 10 x 10 without its edge
	cardBurnt      = 0.01 // share of its pixels, at most
	cardUneven     = 0.10 // standard deviation over mean, at most
	cardTinted     = 2.0  // greatest over least gain, above which there is a warning
	cardFarTinted  = 4.0  // the same, above which the photo is refused
	cardTooDark    = 0.01 // mean of its brightest channel, at least
	patchBlocks    = 8    // on each side, at most; the means of blocks are free of grain and noise
	blockPixels    = 4    // on each side of a block, at least
	alikePixels    = 4    // pixels side by side that count as one sample: colours are stored in fours
	leastOffset    = -0.06
	greatestOffset = 0.02
)

// patch is what the picture shows in a box.
type patch struct {
	light  palette.Linear // trimmed mean in linear sRGB
	spread float64        // standard deviation of its blocks' luminance over its mean
	burnt  float64        // share of pixels burnt or drowned in a channel
	pixels int
	doubt  float64 // standard error of its light by the noise of its pixels, as a share of the light
}

// readPatch reads a box without its edge. It must lie inside the picture.
func readPatch(p *picture.Picture, b Box) patch {
	x0, y0 := int(math.Ceil(b.X+cardInset*b.W)), int(math.Ceil(b.Y+cardInset*b.H))
	x1, y1 := int(b.X+(1-cardInset)*b.W), int(b.Y+(1-cardInset)*b.H)
	if x1 <= x0 || y1 <= y0 {
		return patch{}
	}
	row := make([]picture.Light, x1-x0)
	across, down := blocksOf(x1-x0), blocksOf(y1-y0)
	blocks := make([]struct {
		sum, squares [3]float64
		n            float64
	}, across*down)
	out := patch{pixels: len(row) * (y1 - y0)}
	burnt := 0
	for y := y0; y < y1; y++ {
		p.Row(row, x0, y)
		for i, px := range row {
			if high, low := max(px[0], px[1], px[2]), min(px[0], px[1], px[2]); high >= burntLevel || low <= drownedLevel {
				burnt++
			}
			b := &blocks[(y-y0)*down/(y1-y0)*across+i*across/len(row)]
			for c := range b.sum {
				v := float64(px[c])
				b.sum[c] += v
				b.squares[c] += v * v
			}
			b.n++
		}
	}
	out.burnt = float64(burnt) / float64(out.pixels)
	var means []palette.Linear
	var noise, sum [3]float64 // squares about the means of the blocks
	for _, b := range blocks {
		s := 1 / (65535 * b.n)
		means = append(means, p.SRGB([3]float64{b.sum[0] * s, b.sum[1] * s, b.sum[2] * s}))
		for c := range noise {
			noise[c] += max(0, b.squares[c]-b.sum[c]*b.sum[c]/b.n)
			sum[c] += b.sum[c]
		}
	}
	n := float64(out.pixels)
	for c := range noise {
		if sum[c] > 0 {
			deviation := math.Sqrt(noise[c] / (n - float64(len(blocks))))
			out.doubt = max(out.doubt, deviation/(sum[c]/n)/math.Sqrt(n/alikePixels))
		}
	}
	out.light, out.spread = trimmedMean(means)
	return out
}

// blocksOf is how many blocks a side of so many pixels has.
func blocksOf(pixels int) int { return min(patchBlocks, max(1, pixels/blockPixels)) }

// trimmedMean is the mean of the middle eight tenths by luminance, and the standard deviation
// of all luminances over their mean.
func trimmedMean(list []palette.Linear) (mean palette.Linear, spread float64) {
	slices.SortFunc(list, func(a, b palette.Linear) int {
		return int(math.Copysign(1, a.Luminance()-b.Luminance()))
	})
	var sum, squares float64
	for _, l := range list {
		y := l.Luminance()
		sum += y
		squares += y * y
	}
	n := float64(len(list))
	spread = math.Sqrt(max(0, squares/n-sum*sum/(n*n))) / (sum / n)
	cut := len(list) / 10
	kept := list[cut : len(list)-cut]
	for _, l := range kept {
		for c := range mean {
			mean[c] += l[c] / float64(len(kept))
		}
	}
	return mean, spread
}

// correction turns the picture's light into that of a neutral lamp: gain × light + offset.
type correction struct {
	gain, offset palette.Linear
	cards        int     // that it is based on
	exposed      bool    // the cards' reflectance fixes the lightness too
	seen         float64 // the cards' mean luminance in the picture
	noise        float64 // standard error of the gains by the noise of the cards' pixels, as a share of them
	warnings     []string
}

func (c *correction) apply(l palette.Linear) palette.Linear {
	for i := range l {
		l[i] = c.gain[i]*l[i] + c.offset[i]
	}
	return l
}

// newCorrection finds the light from the cards. An unusable card is left out with a warning;
// with no usable card the picture is taken as it is.
func newCorrection(p *picture.Picture, cards []Card) (*correction, error) {
	c := &correction{gain: palette.Linear{1, 1, 1}}
	var greys []grey
	for i, card := range cards {
		patch := readPatch(p, card.Box)
		if reason := patch.unusable(); reason != "" {
			c.warnings = append(c.warnings, fmt.Sprintf("grey card %d is left out: %s", i+1, reason))
			continue
		}
		greys = append(greys, grey{patch.light, card.Reflectance})
		c.noise = math.Hypot(c.noise, patch.doubt)
	}
	if inkAlone(greys) {
		c.warnings = append(c.warnings, "ink without usable paper beside it says too little about the light, and is left out")
		greys, c.noise = nil, 0
	}
	c.cards = len(greys)
	c.noise /= float64(max(1, len(greys)))
	for _, g := range greys {
		c.seen += g.seen.Luminance() / float64(len(greys))
	}
	if len(greys) == 0 {
		return c, nil
	}
	c.fit(greys)
	ratio := slices.Max(c.gain[:]) / slices.Min(c.gain[:])
	switch {
	case ratio > cardFarTinted:
		return nil, &Refusal{
			Reason: fmt.Sprintf("the light on the grey card is far from white: its channels differ by a factor of %.1f, want at most %g", ratio, cardFarTinted),
			Help:   "photograph in daylight or under a white lamp, or check that the box lies on the card",
		}
	case ratio > cardTinted:
		c.warnings = append(c.warnings, fmt.Sprintf("the light is strongly coloured: the card's channels differ by a factor of %.1f; colours are less sure", ratio))
	}
	return c, nil
}

// darkCard is the reflectance below which a card is ink: by itself its light is mostly what its face mirrors (assumption).
const darkCard = 0.1

// inkAlone reports that all cards are known to be as dark as ink.
func inkAlone(greys []grey) bool {
	return len(greys) > 0 && !slices.ContainsFunc(greys, func(g grey) bool { return g.reflectance == 0 || g.reflectance >= darkCard })
}

// unusable says why a patch can't serve as a grey card; empty: it can.
func (p *patch) unusable() string {
	switch {
	case p.pixels < cardPixels:
		return fmt.Sprintf("its box holds %d pixels without its edge, want at least %d", p.pixels, cardPixels)
	case p.burnt > cardBurnt:
		return fmt.Sprintf("%.0f %% of its pixels are over- or under-exposed; expose for the card", 100*p.burnt)
	case slices.Max(p.light[:]) < cardTooDark:
		return "it is too dark; give it the light that the bed gets"
	case p.spread > cardUneven:
		return fmt.Sprintf("its light is uneven by %.0f %%; keep glare and shadows off it", 100*p.spread)
	}
	return ""
}

// grey is a card's light in the picture and its reflectance; zero: not given.
type grey struct {
	seen        palette.Linear
	reflectance float64
}

// fit finds gain and offset. A card of unknown reflectance keeps its own luminance, which fixes
// the hue and leaves the exposure open. Two or more of known reflectance also give the stray
// light, by least squares in each channel.
func (c *correction) fit(greys []grey) {
	known := slices.DeleteFunc(slices.Clone(greys), func(g grey) bool { return g.reflectance == 0 })
	c.exposed = len(known) > 0
	if c.exposed {
		greys = known
	}
	if len(known) >= 2 && c.fitLines(known) {
		return
	}
	for i := range c.gain {
		var squares, products float64
		for _, g := range greys {
			target := g.reflectance
			if target == 0 {
				target = g.seen.Luminance()
			}
			squares += g.seen[i] * g.seen[i]
			products += g.seen[i] * target
		}
		c.gain[i] = products / squares
	}
}

// fitLines fits gain and offset in each channel and reports whether stray light can explain
// them.
func (c *correction) fitLines(greys []grey) bool {
	var gain, offset palette.Linear
	n := float64(len(greys))
	for i := range gain {
		var x, y, xx, xy float64
		for _, g := range greys {
			x += g.seen[i]
			y += g.reflectance
			xx += g.seen[i] * g.seen[i]
			xy += g.seen[i] * g.reflectance
		}
		gain[i] = (n*xy - x*y) / (n*xx - x*x)
		offset[i] = (y - gain[i]*x) / n
		if !(gain[i] > 0 && offset[i] >= leastOffset && offset[i] <= greatestOffset) {
			return false
		}
	}
	c.gain, c.offset = gain, offset
	return true
}

// What a card, or the lack of one, leaves open (assumptions). A card of unknown reflectance is
// anything from an 18 % grey to white paper; the camera aims for the right exposure.
const (
	usualReflectance = 0.36
	reflectanceDoubt = 0.8   // stops
	exposureDoubt    = 0.6   // stops
	knownDoubt       = 0.1   // stops
	veilUsual        = 0.01  // stray light
	veilDoubt        = 0.015 // its standard deviation
	doubtNoCard      = 8.0   // CIEDE2000
)

// unknown is the doubt about the light that all layers share.
func (c *correction) unknown() palette.Light {
	l := palette.Light{Veil: veilUsual, VeilDoubt: veilDoubt, EVDoubt: exposureDoubt}
	switch {
	case c.exposed:
		l.EVDoubt = math.Hypot(knownDoubt, math.Log2(1+c.noise))
	case c.cards > 0:
		byCard := math.Log2(usualReflectance / c.seen)
		share := exposureDoubt * exposureDoubt / (exposureDoubt*exposureDoubt + reflectanceDoubt*reflectanceDoubt)
		l.EV = share * byCard
		l.EVDoubt = exposureDoubt * math.Sqrt(1-share)
	}
	return l
}

// doubt is the doubt about each colour on its own, CIEDE2000.
func (c *correction) doubt() float64 {
	if c.cards == 0 {
		return doubtNoCard
	}
	return math.Hypot(palette.DoubtCard, tintDoubt(c.noise))
}

// tintDoubt is what the noise of the gains does to the colour of a middling grey, CIEDE2000: each
// channel errs by itself.
func tintDoubt(noise float64) (doubt float64) {
	middling := palette.Linear{usualReflectance, usualReflectance, usualReflectance}
	for c := range middling {
		off := middling
		off[c] *= 1 + noise
		doubt = math.Hypot(doubt, palette.Difference(middling.Lab(), off.Lab()))
	}
	return doubt
}
