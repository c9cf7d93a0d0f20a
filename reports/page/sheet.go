package page

import (
	"embed"
	"fmt"
	"html/template"
	"io"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/words"
)

// The recording sheet's text and looks.
//
//go:embed sheet.html sheet.css
var sheetFiles embed.FS

// WriteSheet writes a blank recording sheet to print: one HTML file that stands alone, two
// pages on A4 and on Letter. The first is filled in at the tank with a pencil and typed in
// later; the second is rulers and grey steps to cut out for photos. What is drawn in it
// has its true size on paper printed at 100 %. Rulers are divided in the units. The same
// units give the same bytes. Its errors are those of w.
func WriteSheet(w io.Writer, u layers.Units) error {
	text, err := template.ParseFS(sheetFiles, "sheet.html", "sheet.css")
	if err != nil {
		return fmt.Errorf("recording sheet: %w", err)
	}
	return text.ExecuteTemplate(w, "sheet.html", newSheet(u))
}

// sheet is what the recording sheet shows.
type sheet struct {
	Unit, Units string // as typed behind a number, and in a sentence
	Map         *drawing
	Bands       []entry
	Columns     []sketchColumn
	Signs       []entry
	Events      []string
	Strips      []*drawing
	StripLength string // with its unit, as it is typed
	Greys       *drawing
	GreyPatch   int // the patch to mark in a photo
	Checks      []*drawing
	Upright     *drawing
	Layer       string // a thickness as it is typed
	Depth       string // a depth likewise
}

// entry is a word that the program knows, and what a keeper sees.
type entry struct{ Word, Seen string }

// sketchColumn is a column to sketch a core in.
type sketchColumn struct {
	Number  int
	Drawing *drawing
}

// sketchColumns is how many cores stand side by side, one of each station.
const sketchColumns = 4

// stripCopies is how many rulers are to be cut out: one for the eye, one for photos.
const stripCopies = 2

func newSheet(u layers.Units) *sheet {
	g := graduationOf(u)
	s := &sheet{
		Unit: u.String(), Units: words.Plural(u),
		Map: drawMap(), Greys: drawGreys(), GreyPatch: greyPatch,
		StripLength: g.number(g.strip) + u.String(),
		Checks:      []*drawing{drawCheckAcross(hundred, "100 mm")},
		Upright:     drawCheckUpright(hundred, "100 mm"),
		Layer:       u.Number(18) + u.String(), Depth: u.Number(20) + u.String(),
	}
	for _, band := range palette.Bands() {
		s.Bands = append(s.Bands, entry{band.String(), band.Looks()})
	}
	for _, sign := range layers.Signs() {
		s.Signs = append(s.Signs, entry{words.Spaced(sign), signSeen(sign)})
	}
	for _, kind := range layers.EventKinds() {
		if slices.Contains(layers.Signs(), layers.Sign(kind)) {
			continue // it has its box among the signs
		}
		s.Events = append(s.Events, words.Spaced(kind))
	}
	for n := range sketchColumns {
		s.Columns = append(s.Columns, sketchColumn{n + 1, drawColumn(g, u, n+1)})
	}
	for n := range stripCopies {
		s.Strips = append(s.Strips, drawStrip(g, u, n+1))
	}
	if u == layers.Inches {
		s.Checks = append(s.Checks, drawCheckAcross(4*g.unit(), "4 in"))
	}
	return s
}

// signSeen says what a sign is where its name alone may not.
func signSeen(s layers.Sign) string {
	switch s {
	case layers.GasBubbles:
		return "rising, or held in the grains"
	case layers.EggSmell:
		return "rotten eggs: stop, open a window"
	case layers.PlantMelt:
		return "leaves turn soft and glassy"
	case layers.DeadAnimal:
		return "found or missing"
	case layers.Gasping:
		return "fish at the surface, snails climb out"
	case layers.WhiteThreads:
		return "on the bed or on what rots"
	case layers.RootsDeep:
		return "below the front or in the black"
	case layers.Burrowers:
		return "animals or tunnels in the bed"
	}
	return ""
}
