package palette

import "math"

// The steps a column goes through, top to bottom. Films and mats are no steps. Native
// material that lies below rust or a reduced band is another step than above them: what has
// lost its oxygen has no second front below.
const (
	atTop = iota // nothing but overlays above
	stepMulmLight
	stepMulmDark
	stepRust
	stepBlack
	stepGrey
	stepNative
	stepUnknown
	stepNativeBelow
	steps
)

var stepBand = [steps]Band{NoBand, MulmLight, MulmDark, Rust, Black, Grey, Native, Unknown, Native}

// commonOrder is how often one band follows another in a hundred columns, the
// column's order being that of the oxidants used up on the way down (oxygen,
// then iron, then sulphate). Rows: what lies above; columns: mulm-light,
// mulm-dark, rust, black, grey, native, unknown. All numbers are assumptions;
// two layers of one band are rare, since a keeper would have typed one.
var commonOrder = [steps][stepNativeBelow - 1]float64{
	atTop:           {38, 32, 3, 3, 2, 20, 2},
	stepMulmLight:   {3, 30, 34, 8, 3, 20, 2},
	stepMulmDark:    {20, 3, 38, 13, 3, 21, 2},
	stepRust:        {0.5, 0.5, 2, 61, 20, 14, 2},
	stepBlack:       {0.5, 0.5, 1, 2, 32, 62, 2},
	stepGrey:        {0.5, 0.5, 1, 16, 3, 77, 2},
	stepNative:      {0.5, 0.5, 43, 28, 10, 16, 2},
	stepUnknown:     {14, 14, 16, 16, 16, 22, 2},
	stepNativeBelow: {0.5, 0.5, 3, 32, 18, 44, 2},
}

// softening is the share of the order that is given away evenly, for beds that
// do not keep to it: roots, burrows, caps of sand (assumption). Mulm lies on top
// by its definition, so none of it goes to mulm below anything else; nor does it
// to a second rust front below the first or below what is reduced.
const softening = 0.3

// order is commonOrder softened, as probabilities from one step to the next.
var order = soften(commonOrder)

func soften(rows [steps][stepNativeBelow - 1]float64) (out [steps][steps]float64) {
	for above, row := range rows {
		open := []int{stepMulmLight, stepMulmDark, stepRust, stepBlack, stepGrey, stepNative}
		switch {
		case belowFront(above):
			open = open[3:]
		case above == stepNative:
			open = open[2:]
		}
		for i, percent := range row {
			out[above][i+1] = percent / 100
		}
		var given float64
		for _, to := range open {
			given += softening * out[above][to]
			out[above][to] *= 1 - softening
		}
		for _, to := range open {
			out[above][to] += given / float64(len(open))
		}
		if belowFront(above) {
			out[above][stepNative], out[above][stepNativeBelow] = 0, out[above][stepNative]
		}
	}
	return out
}

// belowFront reports a step at which the column's oxygen is gone.
func belowFront(step int) bool {
	return step == stepRust || step == stepBlack || step == stepGrey || step == stepNativeBelow
}

// atFloor weighs the last step of a column: a core that goes down to the
// tank's floor seldom ends in anything but the substrate (assumption, kept mild
// because a view may end higher).
var atFloor = [steps]float64{1, 0.2, 0.2, 0.3, 0.5, 0.5, 1, 0.5, 1}

// How often a layer is an overlay (assumptions).
const (
	filmShare      = 0.012 // each kind of film, on glass that may be lit
	unlitFilmShare = 0.001 // algae without light are all but ruled out
	matShare       = 0.004 // a white mat within the bed, on wood or a root
	topMatShare    = 0.015 // a white mat on the surface
)

// overlayShares is the share of films of each kind and of mats at a place in the column.
func overlayShares(top, unlit bool) (film, mat float64) {
	film, mat = filmShare, matShare
	if unlit {
		film = unlitFilmShare
	}
	if top {
		mat = topMatShare
	}
	return film, mat
}

// usualThickness is each band's median thickness in millimetres and its spread,
// the standard deviation of the natural logarithm (assumptions; the rust front
// is seldom over 15 mm).
var usualThickness = [Unknown + 1]struct{ median, spread float64 }{
	MulmLight: {14, 0.9}, MulmDark: {14, 0.9}, Rust: {5, 0.7}, Black: {20, 0.9}, Grey: {22, 0.9},
	FilmGreen: {6, 0.9}, FilmDark: {6, 0.9}, MatWhite: {3, 0.8}, Native: {35, 1.0}, Unknown: {15, 1.1},
}

// usualLog is the natural logarithm of the usual medians.
var usualLog = func() (logs [Unknown + 1]float64) {
	for b := MulmLight; b <= Unknown; b++ {
		logs[b] = math.Log(usualThickness[b].median)
	}
	return logs
}()

// Thicknesses beyond these say no more of a band than these do, mm (assumption).
const thinnest, thickest = 1.0, 200.0

// thicknessDensities is the log-normal density of a thickness in every band.
func thicknessDensities(mm float64) (density [Unknown + 1]float64) {
	log := math.Log(min(max(mm, thinnest), thickest))
	for b := MulmLight; b <= Unknown; b++ {
		spread := usualThickness[b].spread
		z := (log - usualLog[b]) / spread
		density[b] = math.Exp(-z*z/2) / spread
	}
	return density
}
