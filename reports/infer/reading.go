package infer

import (
	"math"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// readingError is the standard deviation of a boundary read off a ruler at the glass, mm: the
// keeper's ±1 mm taken as two of them (assumption). A boundary of a thin layer is seen better: at
// most a quarter of the layer.
const readingError = 0.5

// Reading is a core with its bands named.
type Reading struct {
	Core         layers.Core
	column       palette.Column
	matcher      *palette.Matcher // of this core, see Lessons
	Edges        []float64        // depth of each boundary, the bed surface first, mm
	errors       []float64        // standard deviation of each boundary, mm
	Names        []palette.Band
	Named        Profile // by those names
	Settled      Profile // by the names that most readings give such layers, see settle
	settledNames []palette.Band
	sorts        []*sort        // of its layers; nil: of none
	other        Profile        // by other names, see doubtNames
	Match        *palette.Match // nil if only the names are needed
	segment      int            // removals before it
	Slip         reports.Slip   // what speaks against it; empty: nothing
	SlipLayer    int            // the one layer that has the slip, from 0; -1: all of them
	Former       *Reading       // the sound one before it at its station; nil: none
}

// Unreliable reports a photo whose layers may not be as read, unless the keeper has said that they
// are right.
func (r *Reading) Unreliable() bool {
	return r.Core.Photo != nil && r.Core.Photo.Unreliable && !r.Core.Sure
}

// Doubted reports a core that does not fit the record, unless the keeper has said that it is right.
func (r *Reading) Doubted() bool { return r.Slip != "" && !r.Core.Sure }

// Sound reports a reading that is neither unreliable nor doubted.
func (r *Reading) Sound() bool { return !r.Unreliable() && !r.Doubted() }

func newReading(core layers.Core, matcher *palette.Matcher) *Reading {
	n := len(core.Layers)
	r := &Reading{Core: core, column: columnOf(core), matcher: matcher, SlipLayer: -1, Edges: make([]float64, n+1), errors: make([]float64, n+1)}
	r.Names = matcher.Names(r.column)
	for i, layer := range core.Layers {
		r.Edges[i+1] = r.Edges[i] + layer.ThicknessMM
		r.errors[i+1] = min(readingError, layer.ThicknessMM/4)
		if layer.Edge != nil {
			r.errors[i+1] = layer.Edge.ErrorMM
		}
		if i > 0 {
			r.errors[i] = min(r.errors[i], layer.ThicknessMM/4)
		}
	}
	if core.Photo != nil {
		r.errors[0] = core.Photo.Surface.ErrorMM
	}
	r.Named = newProfile(r.Edges, r.Names, 0.5)
	return r
}

// columnOf is a core as the palette sees it.
func columnOf(core layers.Core) palette.Column {
	column := palette.Column{Layers: make([]palette.Seen, len(core.Layers)), Unlit: core.Lit != nil && !*core.Lit}
	doubt := palette.DoubtTyped
	if core.Photo != nil {
		column.Light, doubt = core.Photo.Light, core.Photo.ColorDoubt
	}
	depth := 0.0
	for i, layer := range core.Layers {
		column.Layers[i] = palette.Seen{
			Lab:         layer.Color.Lab(),
			ThicknessMM: layer.ThicknessMM,
			DepthMM:     depth + layer.ThicknessMM/2,
			Doubt:       doubt,
			Label:       layer.Band,
		}
		if layer.Edge != nil {
			column.Layers[i].Texture = palette.Texture{Contrast: layer.Edge.Contrast, Fineness: layer.Edge.Fineness}
		}
		depth += layer.ThicknessMM
	}
	return column
}

// Drawer draws possible truths behind a reading, with dice of its own.
type Drawer struct {
	*Reading
	dice  *dice
	Names []palette.Band
	edges []float64

	Drawn Profile // the current draw
	lean  *Drawer // of the reading's LeansOn; nil: none
	Stood *Drawer // what the current draw rests on: the drawer itself, or lean
}

// newDrawer is a drawer of one reading that leans on none; tank is the id.
func newDrawer(r *Reading, tank string, seed uint64) *Drawer {
	d := &Drawer{
		Reading: r, dice: newDice(seed, tank, r.Core.Station, r.Core.Date.String()),
		Names: make([]palette.Band, len(r.Core.Layers)), edges: make([]float64, len(r.Edges)),
	}
	d.Stood = d
	return d
}

// Drawers are drawers of the newest readings.
func (o *Outlook) Drawers(seed uint64) []*Drawer {
	drawers := make([]*Drawer, len(o.Newest))
	for i, r := range o.Newest {
		drawers[i] = newDrawer(r, o.Tank.ID, seed)
		if lean := r.LeansOn(); lean != nil {
			drawers[i].lean = newDrawer(lean, o.Tank.ID, seed)
		}
	}
	return drawers
}

// oldestLean is how much older a sound reading may be that stands in for one that is not, days
// (assumption).
const oldestLean = 90

// LeansOn is the earlier sound reading that stands in for one that is not; nil: it needs none, or
// none is near.
func (r *Reading) LeansOn() *Reading {
	if r.Sound() || r.Former == nil || r.Core.Date-r.Former.Core.Date > oldestLean {
		return nil
	}
	return r.Former
}

// stand is draw, and the profile that the tank rests on in this draw: in half of them, eight at a
// time, that of LeansOn (assumption: it is as likely a slip as not). Eight in a row, since a
// chemistry serves several draws and should have the bed of its own draw.
func (d *Drawer) stand(n int) (own, stood Profile) {
	own = d.draw(n)
	d.Stood, stood = d, own
	if d.lean != nil {
		if former := d.lean.draw(n); n/8%2 == 1 {
			d.Stood, stood = d.lean, former
		}
	}
	return own, stood
}

// draw is the n-th possible truth: names by their probability, boundaries by their error.
// A mirrored draw keeps the names.
func (d *Drawer) draw(n int) Profile {
	rng := d.dice
	rng.begin(n)
	if !rng.mirror {
		d.Match.Sample(rng.Rand, d.Names)
	}
	scale, surface := 1.0, 0.0
	if photo := d.Core.Photo; photo != nil {
		scale, surface = 1+photo.ScaleError*rng.normal(), photo.Surface.ErrorMM*rng.normal()
	}
	for i := 1; i < len(d.edges); i++ {
		d.edges[i] = max(d.edges[i-1], scale*d.Reading.Edges[i]+d.errors[i]*rng.normal()-surface)
	}
	d.Drawn = newProfile(d.edges, d.Names, rng.Float64())
	return d.Drawn
}

// Profile is what a core comes to once every layer has a name; depths and thicknesses in mm.
type Profile struct {
	depth      float64 // how far down the core was seen
	Mulm       float64 // brown detritus at the top
	mulmToEnd  bool    // nothing else was seen below it
	Oxic       float64 // colour oxic depth; depth where not reached
	basis      reports.Basis
	reducedTop float64 // of the first black or grey band; +Inf: none
	blackTop   float64 // +Inf: none
	black      float64 // all black together
}

// newProfile reads a core from its boundaries and names. A film on the glass is not a layer: what it
// hides counts as the band below it or, between two bands, as the upper one down to the share hidden
// of the film's thickness.
func newProfile(edges []float64, names []palette.Band, hidden float64) Profile {
	p := Profile{depth: edges[len(edges)-1], reducedTop: math.Inf(1), blackTop: math.Inf(1)}
	w := walk{Profile: &p, mulmTop: true}
	top, band := 0.0, palette.NoBand
	for i, next := range names {
		if next.IsFilm() || next == band {
			continue
		}
		if band == palette.NoBand { // only films so far: they hide the first band
			band = next
			continue
		}
		edge := edges[i]
		for j := i; j > 0 && names[j-1].IsFilm(); j-- {
			edge = edges[j-1] + hidden*(edges[i]-edges[j-1])
		}
		w.step(band, top, edge)
		top, band = edge, next
	}
	if band != palette.NoBand {
		w.step(band, top, p.depth)
	}
	w.close()
	return p
}

// walk goes down a core band by band.
type walk struct {
	*Profile
	mulmTop   bool    // only mulm and mats so far
	front     bool    // within the first run of rust
	frontEdge float64 // lower edge of that run; zero: no rust yet
}

func (w *walk) step(band palette.Band, top, bottom float64) {
	if band.IsOverlay() { // lies on or in a band without ending it
		return
	}
	switch {
	case band.IsMulm() && w.mulmTop:
		w.Mulm += bottom - top
	default:
		w.mulmTop = false
	}
	aboveReduced := math.IsInf(w.reducedTop, 1)
	switch {
	case band == palette.Rust && aboveReduced && (w.front || w.frontEdge == 0):
		w.front, w.frontEdge = true, bottom
	default:
		w.front = false
	}
	if band.IsReduced() && aboveReduced {
		w.reducedTop = top
	}
	if band == palette.Black {
		w.blackTop = min(w.blackTop, top)
		w.black += bottom - top
	}
}

// close settles what is known only at the end of the core.
func (w *walk) close() {
	w.mulmToEnd = w.mulmTop && w.Mulm > 0
	switch {
	case w.frontEdge > 0:
		w.Oxic, w.basis = w.frontEdge, reports.RustFront
	case !math.IsInf(w.reducedTop, 1):
		w.Oxic, w.basis = w.reducedTop, reports.ReducedTop
	default:
		w.Oxic, w.basis = w.depth, reports.NotReached
	}
}
