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

//go:embed sheet.html sheet.css
var sheetFiles embed.FS

// WriteSheet writes a blank recording sheet to print: one HTML file of two pages, on A4 or
// Letter. The first is filled in with a pencil at the tank and typed in later; the second has
// rulers, divided in the units, and grey steps to cut out for photos. Drawings have their true
// size when printed at 100 %. The same units give the same bytes. Its errors are those of w.
func WriteSheet(w io.Writer, u layers.Units) error {
	text, err := template.ParseFS(sheetFiles, "sheet.html", "sheet.css")
	if err != nil {
		return fmt.Errorf("recording sheet: %w", err)
	}
	return text.ExecuteTemplate(w, "sheet.html", newSheet(u))
}

type sheet struct {
	Unit, Units string // as typed after a number, and in a sentence
	Map         *drawing
	Bands       []entry
	Columns     []sketchColumn
	Signs       []entry
	Events      []string
	Strips      []*drawing
	StripLength string // as it is typed, with its unit
	Greys       *drawing
	GreyPatch   int // the patch to mark in a photo
	Checks      []*drawing
	Upright     *drawing
	Layer       string // a thickness as it is typed
	Depth       string // a depth as it is typed
}

// entry is a word that panecore knows, and what a keeper sees.
type entry struct{ Word, Seen string }

// sketchColumn is a place to sketch a core in.
type sketchColumn struct {
	Number  int
	Drawing *drawing
}

// sketchColumns is how many fit side by side, one for each station.
const sketchColumns = 4

// stripCopies is how many rulers there are to cut out: one for the eye, one for photos.
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
			continue // it has a box among the signs
		}
		s.Events = append(s.Events, words.Spaced(kind))
	}
	for n := range sketchColumns {
		s.Columns = append(s.Columns, sketchColumn{n + 1, drawSketch(g, u, n+1)})
	}
	for n := range stripCopies {
		s.Strips = append(s.Strips, drawStrip(g, u, n+1))
	}
	if u == layers.Inches {
		s.Checks = append(s.Checks, drawCheckAcross(4*g.unit(), "4 in"))
	}
	return s
}

// signSeen explains a sign where its name may not be enough.
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
