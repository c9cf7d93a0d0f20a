package photo

import (
	"cmp"
	"math"
	"slices"
)

// camera is where a picture's camera stood before the pane, mm: across and down the plane's axes, and away from it.
type camera struct{ x, y, away float64 }

// How a camera is told from a plane (assumptions). A tag's sides are known to tagError, which leaves the focal length
// open where the pane is seen straight on: then the lens counts for a phone's, from wide to twice.
const (
	usualLens  = 1.0 // focal length, of the picture's longer side
	lensSpread = 0.4 // standard deviation of its ln
	lensLeast  = 0.5
	lensMost   = 2.5
	lensStep   = 1.05 // a factor
	lensDoubt  = 4.0  // by which the cost of a camera exceeds the least and is not unlikely: two standard deviations
)

// cameras are the likeliest camera of an upright picture of a width and a height, whose optical axis meets its middle, and
// the highest one that is not unlikely.
func (h Plane) cameras(width, height float64) (likely, highest camera) {
	long := max(width, height)
	var list []seen
	for lens := lensLeast; lens <= lensMost; lens *= lensStep {
		s := h.seenBy(width, height, lens*long)
		z := math.Log(lens/usualLens) / lensSpread
		s.cost = s.strain*s.strain/(tagError*tagError) + z*z
		list = append(list, s)
	}
	best := slices.MinFunc(list, func(a, b seen) int { return cmp.Compare(a.cost, b.cost) })
	highest = best.camera
	for _, s := range list {
		if s.cost < best.cost+lensDoubt && s.y < highest.y {
			highest = s.camera
		}
	}
	return best.camera, highest
}

// seen is a camera of a focal length, and by how much the plane's axes would then differ from two upright ones of equal
// length, as a share.
type seen struct {
	camera
	strain, cost float64
}

func (h Plane) seenBy(width, height, focal float64) seen {
	ray := func(x, y, w float64) [3]float64 {
		return [3]float64{(x - w*width/2) / focal, (y - w*height/2) / focal, w}
	}
	across, down, to := ray(h[0], h[3], h[6]), ray(h[1], h[4], h[7]), ray(h[2], h[5], 1)
	dot := func(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
	a, b := math.Sqrt(dot(across, across)), math.Sqrt(dot(down, down))
	out := [3]float64{across[1]*down[2] - across[2]*down[1], across[2]*down[0] - across[0]*down[2], across[0]*down[1] - across[1]*down[0]}
	mm := a * b // lengths are in shares of the way to the plane's origin until they are divided by a millimetre's
	return seen{
		camera: camera{x: -dot(across, to) / (a * a), y: -dot(down, to) / (b * b), away: dot(out, to) / (mm * math.Sqrt(mm))},
		strain: math.Hypot(2*(a-b)/(a+b), dot(across, down)/mm),
	}
}
