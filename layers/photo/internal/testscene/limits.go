package testscene

// limits are the ranges that a difficulty allows. Units are those of Scene.
type limits struct {
	apart      float64 // least colour difference of neighbouring layers, CIEDE2000
	wave, edge [2]float64
	tint       [2]float64 // share of a lamp's tint that is left
	ev         [2]float64
	fall, haze [2]float64
	covered    [2]float64 // share of the strip under glare
	glares     [2]int
	strength   [2]float64
	blur       [2]float64
	shot, read [2]float64
	chroma     float64
	curve      [2]float64
	saturation [2]float64
	sharpen    [2]float64
	quality    [2]float64
	things     int
	cast       float64
	pickError  float64
	algae      float64
	motion     float64
	sunk       float64 // mulm between the grains, at most
}

var allowed = map[Difficulty]limits{
	Easy: {
		apart: 8.5, wave: [2]float64{1.5, 3}, edge: [2]float64{0.3, 0.9}, tint: [2]float64{0, 0.35}, ev: [2]float64{-0.3, 0.3}, fall: [2]float64{0, 0.07}, haze: [2]float64{0.004, 0.012},
		covered: [2]float64{0, 0.06}, glares: [2]int{0, 1}, strength: [2]float64{0.1, 0.35}, blur: [2]float64{0.45, 0.7}, shot: [2]float64{0.00005, 0.0002}, read: [2]float64{0.0005, 0.0015}, saturation: [2]float64{1, 1}, sharpen: [2]float64{0, 0.3},
		quality: [2]float64{88, 95}, things: 1, pickError: 0.1, sunk: 0.08,
	},
	Middling: {
		apart: 6, wave: [2]float64{2, 4.5}, edge: [2]float64{0.5, 1.8}, tint: [2]float64{0.3, 0.75}, ev: [2]float64{-0.6, 0.35}, fall: [2]float64{0.04, 0.13}, haze: [2]float64{0.008, 0.03},
		covered: [2]float64{0.02, 0.15}, glares: [2]int{1, 2}, strength: [2]float64{0.15, 0.6}, blur: [2]float64{0.5, 1}, shot: [2]float64{0.0002, 0.0006}, read: [2]float64{0.001, 0.003}, chroma: 0.003, curve: [2]float64{0.1, 0.5}, saturation: [2]float64{1, 1.07}, sharpen: [2]float64{0.1, 0.5},
		quality: [2]float64{80, 92}, things: 2, cast: 0.015, pickError: 0.18, sunk: 0.2,
	},
	Hard: {
		apart: 5, wave: [2]float64{3, 6}, edge: [2]float64{0.8, 3}, tint: [2]float64{0.6, 1}, ev: [2]float64{-1.1, 0.5}, fall: [2]float64{0.08, 0.2}, haze: [2]float64{0.02, 0.08},
		covered: [2]float64{0.06, 0.25}, glares: [2]int{1, 3}, strength: [2]float64{0.2, 1}, blur: [2]float64{0.7, 1.5}, shot: [2]float64{0.0005, 0.0014}, read: [2]float64{0.002, 0.006}, chroma: 0.007, curve: [2]float64{0.3, 0.9}, saturation: [2]float64{1, 1.1}, sharpen: [2]float64{0.2, 0.8},
		quality: [2]float64{70, 86}, things: 4, cast: 0.02, pickError: 0.27, algae: 0.16, motion: 2, sunk: 0.3,
	},
}

// lamps are the full tints of lamps.
var lamps = [][3]float64{
	{1, 1, 1},          // daylight
	{1.14, 0.99, 0.76}, // warm white
	{0.88, 1.0, 1.15},  // cold white
	{1.12, 0.88, 1.13}, // grow light
	{1.12, 0.97, 0.80}, // tea-stained water
	{0.95, 1.05, 0.88}, // old tube
}
