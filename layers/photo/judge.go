package photo

import (
	"fmt"
	"math"

	"panecore/palette"
)

// Bounds of a readable photo (assumptions, tried on rendered photos).
const (
	mostBurnt      = 0.6  // share of the bed under glare or over-exposed
	leastBright    = 0.02 // luminance that the brightest twentieth of the bed reaches
	leastFine      = 1.0  // mean difference in lightness of cells side by side, CIELAB units
	leastContrast  = 3.0  // standard deviation of patches of the bed, CIELAB units
	fairContrast   = 10.0 // contrast that patches of algae never reach, CIELAB units
	leastColor     = 0.5  // mean chroma of the bed's blocks before the light is corrected, CIELAB units
	leastSteepness = 0.35 // of the sharpest boundary: share of its step within blurredAcross
	fairSteepness  = 0.5  // that algae before the bed never leave
	blurredAcross  = 0.6  // mm
	mostPatchy     = 0.5  // deviation of patches within layers over that of all
	sureName       = 0.9  // probability
	fairName       = 0.75
	poorName       = 0.5
)

// A sight is how well a strip can be seen. Its numbers are those of the bounds above.
type sight struct {
	burnt    float64
	hidden   float64 // share of the bed that is masked, reflections included
	bright   float64
	fine     float64
	contrast float64
	color    float64
	patchy   float64 // NaN: no patches
	steep    float64 // NaN: no boundary
}

// sight measures the strip below the bed surface.
func (s *strata) sight(g *grid, bed []bedLayer) sight {
	from := max(0, int(s.level[0]))
	out := sight{}
	var luminance []float64
	var differences, pairs, chroma float64
	burnt, hidden, total := 0, 0, 0
	for r := from; r < g.rows; r++ {
		last := math.NaN()
		for c := range g.cols {
			at := r*g.cols + c
			if g.pixels[at] == 0 {
				last = math.NaN()
				continue
			}
			total++
			if s.field.glare[at] {
				burnt++
			}
			if s.field.hides(g, r, c) {
				hidden++
			}
			y := g.light[at].Luminance()
			luminance = append(luminance, y)
			lab := g.light[at].Lab()
			chroma += math.Hypot(lab.A, lab.B)
			lightness := palette.Lightness(y)
			if !math.IsNaN(last) {
				differences += math.Abs(lightness - last)
				pairs++
			}
			last = lightness
		}
	}
	if total == 0 {
		return out
	}
	out.burnt, out.hidden = float64(burnt)/float64(total), float64(hidden)/float64(total)
	out.bright = selectNth(luminance, len(luminance)*19/20)
	out.fine = differences / max(1, pairs)
	out.color = chroma / float64(total)
	out.contrast, out.patchy = s.patches(bed)
	out.steep = s.steepest(bed)
	return out
}

// patchSize is the side of a patch, mm: larger than most grains (assumption).
const patchSize = 2.0

// patches is the standard deviation of the colours of the bed's patches, and the share of it
// within layers.
func (s *strata) patches(bed []bedLayer) (all, within float64) {
	var sum, squares [3]float64
	var inside, n float64
	for _, l := range bed {
		mean := l.light.Lab()
		s.eachPatch(l, func(_, _ float64, lab [3]float64) {
			d := distance(lab, [3]float64{mean.L, mean.A, mean.B})
			inside += d * d
			n++
			for c := range lab {
				sum[c] += lab[c]
				squares[c] += lab[c] * lab[c]
			}
		})
	}
	if n == 0 {
		return 0, math.NaN()
	}
	variance := 0.0
	for c := range sum {
		variance += squares[c]/n - sum[c]*sum[c]/(n*n)
	}
	return math.Sqrt(max(0, variance)), math.Sqrt(inside / n / max(variance, 1e-9))
}

// eachPatch visits the patches of a layer with their places, from -1 to 1 over the strip.
func (s *strata) eachPatch(l bedLayer, visit func(x, z float64, lab [3]float64)) {
	f := s.field
	rows, blocks := max(1, int(patchSize/f.pitch)), max(1, int(math.Round(patchSize/f.width)))
	for r := 0; r+rows <= f.rows; r += rows {
		for b := 0; b+blocks <= f.blocks; b += blocks {
			if lab, ok := s.patch(l, r, b, rows, blocks); ok {
				visit(float64(2*b+blocks)/float64(f.blocks)-1, float64(2*r+rows)/float64(f.rows)-1, lab)
			}
		}
	}
}

// patch is the mean colour of a patch; false: too little of it lies in the layer.
func (s *strata) patch(l bedLayer, row, block, rows, blocks int) (mean [3]float64, ok bool) {
	n := 0.0
	for b := block; b < block+blocks; b++ {
		from, to := s.edge(l.top, b), s.edge(l.bottom, b)
		for r := max(row, int(math.Ceil(from))); r < min(row+rows, int(to)); r++ {
			if lab, seen := s.field.at(r, b); seen {
				n++
				for c := range lab {
					mean[c] += lab[c]
				}
			}
		}
	}
	for c := range mean {
		mean[c] /= max(1, n)
	}
	return mean, n > 0.6*float64(rows*blocks)
}

// leastStep is the least difference of two layers whose boundary shows how sharp the photo is,
// CIELAB units (assumption).
const leastStep = 8.0

// steepest is the greatest steepness of the boundaries between layers; NaN: no two layers
// differ enough.
func (s *strata) steepest(bed []bedLayer) float64 {
	best := math.NaN()
	for i := range len(bed) - 1 {
		k := bed[i].bottom
		if distance(s.looks[k].mean, s.looks[k+1].mean) < leastStep {
			continue
		}
		if steep := s.steepness(k); !(steep <= best) {
			best = steep
		}
	}
	return best
}

// steepness is the greatest share of an edge's step that the levelled profile takes within
// blurredAcross, near the edge.
func (s *strata) steepness(k int) float64 {
	above, below := s.looks[k].mean, s.looks[k+1].mean
	var length float64
	for c := range above {
		length += (below[c] - above[c]) * (below[c] - above[c])
	}
	reach := int(math.Round(nearEdge / s.field.pitch))
	half := max(1, int(math.Round(blurredAcross/2/s.field.pitch)))
	best, at := 0.0, int(s.level[k])
	for r := max(half, at-reach); r < min(s.field.rows-half, at+reach); r++ {
		share := 0.0
		for c := range above {
			share += (s.levelled.value[r+half][c] - s.levelled.value[r-half][c]) * (below[c] - above[c])
		}
		best = max(best, share/max(length, 1e-9))
	}
	return best
}

// Where an edge's steepness is measured, mm on each side, and the bounds of its width, mm
// (assumptions).
const (
	nearEdge      = 2.0
	sharpestWidth = 0.4
	softestWidth  = 6.0
)

// width is the depth over which an edge goes from one layer to the other, mm.
func (s *strata) width(k int) float64 {
	return min(max(blurredAcross/s.steepness(k), sharpestWidth), softestWidth)
}

// plain reports whether the bed is surely the tank's own substrate alone, of which a colour was entered.
func (bed named) plain(entered bool) bool {
	return entered && len(bed.layers) == 1 && bed.names[0] == palette.Native && bed.match.Probability(0, palette.Native) >= sureName
}

// refuse says why the strip can't be read; nil: it can.
func (v sight) refuse(bed named, entered bool) error {
	plain := bed.plain(entered)
	switch {
	case v.burnt > mostBurnt:
		return &Refusal{
			Reason: fmt.Sprintf("%.0f %% of the strip is white: it lies under glare or is over-exposed", 100*v.burnt),
			Help:   "move the lamp or yourself until the reflection is gone, or expose for the bed, or choose a strip beside the glare",
		}
	case v.bright < leastBright:
		return &Refusal{
			Reason: fmt.Sprintf("the strip is too dark: its brightest parts reach %.1f %% of white, want %.0f %%", 100*v.bright, 100*leastBright),
			Help:   "use more light, diffused and from the side, or expose for the bed",
		}
	case v.fine < leastFine && !(v.steep >= leastSteepness):
		return &Refusal{
			Reason: "the strip shows neither grain nor a sharp boundary: it is out of focus, or no bed",
			Help:   "hold the phone still and square to the pane, focus on the bed, and draw the strip over it",
		}
	case v.contrast < leastContrast && !plain:
		return &Refusal{
			Reason: "no layers can be told apart in the strip: it is of one colour that is not the tank's substrate",
			Help:   "draw the strip over the bed, from its surface down, or give the substrate's colour with --native",
		}
	}
	return nil
}

// doubts say what makes a reading unreliable.
func (v sight) doubts(bed named) []string {
	var list []string
	mean := 0.0
	for i, name := range bed.names {
		mean += bed.match.Probability(i, name) / float64(len(bed.names))
	}
	if v.color < leastColor {
		list = append(list, "the picture is black and white, and without colour no band is sure: photograph in colour")
	}
	if v.steep < leastSteepness {
		list = append(list, "no boundary is sharp: the photo may be out of focus, and thin layers may be lost")
	}
	switch {
	case mean < poorName:
		list = append(list, "what was read fits no known bands well: check the strip, the grey card and the substrate's colour")
	case v.patchy > mostPatchy && v.contrast < fairContrast && !(v.steep >= fairSteepness) && len(bed.layers) > 1:
		list = append(list, "patches differ as much as layers do: algae on the glass, or no bed; clean the pane and photograph again")
	}
	return list
}

// leastGap is the height above which a hidden stretch gives a warning, mm (assumption).
const leastGap = 1.0

// gaps says where so much of the strip's width is hidden that the profile has a gap.
func (s *strata) gaps() []string {
	var list []string
	weight := s.levelled.weight
	for r := max(0, int(s.level[0])); r < len(weight); r++ {
		from := r
		for r < len(weight) && weight[r][0] == 0 {
			r++
		}
		top, bottom := (float64(from)-s.level[0])*s.field.pitch, (float64(r)-s.level[0])*s.field.pitch
		if bottom-top >= leastGap {
			list = append(list, fmt.Sprintf("from %.0f to %.0f mm down more than %.0f %% of the width is hidden: what lies there is not known", top, bottom, 100*(1-leastRowSeen)))
		}
	}
	return list
}
