package testscene

import "panecore/palette"

// codes are the bands in the list of scenes.
var codes = map[string]palette.Band{
	"ml": palette.MulmLight, "md": palette.MulmDark, "n": palette.Native, "r": palette.Rust, "b": palette.Black, "g": palette.Grey,
	"fg": palette.FilmGreen, "fd": palette.FilmDark, "mw": palette.MatWhite,
}

// looks are the ranges of a band's colour, thickness (mm) and cover (assumptions).
var looks = map[palette.Band][]struct {
	from, to   string
	thin, fat  float64
	bare, full float64 // cover
}{
	palette.MulmLight: {{"#8a6540", "#b48153", 5, 16, 1, 1}},
	palette.MulmDark:  {{"#54402c", "#6b5039", 4.5, 14, 1, 1}},
	palette.Native:    {{"#000000", "#000000", 8, 22, 1, 1}},
	palette.Rust:      {{"#8a5230", "#b0703c", 3.2, 8, 0.62, 0.92}},
	palette.Black:     {{"#1f1d1a", "#35322e", 6, 16, 0.78, 0.96}},
	palette.Grey:      {{"#60605a", "#7e7a70", 6, 14, 0.68, 0.93}},
	palette.FilmGreen: {{"#47622f", "#6f8f3c", 3, 5, 0.8, 0.95}},
	palette.FilmDark:  {{"#463330", "#4e3a33", 3, 5, 0.85, 0.97}, {"#1f4a46", "#2c5750", 3, 5, 0.85, 0.97}},
	palette.MatWhite:  {{"#cdc6b9", "#e6e2d8", 3, 5, 1, 1}},
}

// natives are the substrates; grain sizes are in mm.
var natives = map[string]struct {
	kind, from, to string
	habits         []habit
	fine, coarse   float64
	spread, motley float64
}{
	"white sand":   {"sand", "#dbd2c4", "#e7dfd2", []habit{sandy}, 0.6, 1.1, 0.25, 0.25},
	"pale sand":    {"sand", "#cbb898", "#d8c9ab", []habit{sandy}, 0.6, 1.3, 0.3, 0.4},
	"buff sand":    {"sand", "#ad8c64", "#c4a47c", []habit{sandy}, 0.6, 1.4, 0.35, 0.55},
	"grey gravel":  {"gravel", "#6a7077", "#8c8c88", []habit{rounded, angular}, 2, 4, 0.3, 0.6},
	"ochre gravel": {"gravel", "#987146", "#b08a5a", []habit{rounded, angular}, 1.8, 4, 0.3, 0.6},
	"dark gravel":  {"gravel", "#403f3d", "#504e4b", []habit{angular, rounded}, 1.6, 3.2, 0.25, 0.3},
	"red clay":     {"clay", "#8e5238", "#a3654b", []habit{clayey}, 0.8, 1.8, 0.4, 0.3},
	"dark soil":    {"soil", "#47392b", "#5b4837", []habit{crumbly}, 1.2, 2.8, 0.5, 0.35},
	"granules":     {"granules", "#54402f", "#76523b", []habit{balls}, 2, 3.4, 0.14, 0.2},
}
