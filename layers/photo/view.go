package photo

import (
	"fmt"
	"math"
	"slices"

	"panecore/layers"
	"panecore/layers/photo/picture"
	"panecore/palette"
)

// View is a strip that was read and can be cut anew. Use doesn't change it.
type View struct {
	Reading *Reading // as first read

	grid    *grid
	light   *correction
	strata  *strata
	picks   Picks
	matcher *palette.Matcher
	hidden  float64  // share of the bed
	doubts  []string // what makes any reading of it unreliable
}

// Look reads the layers in a picture's strip, as Read does, and keeps the view for Recut.
func Look(p *picture.Picture, picks Picks, matcher *palette.Matcher) (*View, error) {
	if err := picks.within(p); err != nil {
		return nil, err
	}
	g, err := picks.grid()
	if err != nil {
		return nil, err
	}
	light, err := newCorrection(p, picks.Neutral)
	if err != nil {
		return nil, err
	}
	if picks.SurfaceY == nil {
		surface, how := findSurface(p, light, picks)
		picks.SurfaceY = &surface
		light.warnings = append(light.warnings, "the bed surface was not marked: "+how.Note+"; check it on the photo")
		if g, err = picks.grid(); err != nil {
			return nil, err
		}
	}
	g.painted = picks.Hidden
	g.read(p)
	row := g.rowAt(picks.click())
	if w, found := g.window(int(row)); found {
		g.shut(w)
		light.warnings = append(light.warnings, "the pane mirrors a window over a part of the strip: its light was taken off, but not its noise; hang something dark behind you")
	}
	field := newField(g, light)
	s := findStrata(field, row)
	for n := range mirrorLines {
		line, found := s.mirrored(g)
		if !found {
			break
		}
		g.unmirror(line, field.wide)
		if n == 0 {
			light.warnings = append(light.warnings, "the pane mirrors something bright down to a level line: its light was taken off above the line")
		}
		field = newField(g, light)
		s = findStrata(field, row)
		s.dropLine(line)
	}
	named := s.name(s.unshaded(s.bed()), matcher, light.unknown(), light.doubt())
	sight := s.sight(g, named.layers)
	if err := sight.refuse(named, matcher.Entered()); err != nil {
		return nil, err
	}
	like := s.makeup(named)
	if err := like.refuse(light.cards); err != nil {
		return nil, err
	}
	doubts := append(sight.doubts(named), like.doubts(sight, named.plain(matcher.Entered()))...)
	v := &View{grid: g, light: light, strata: s, picks: picks, matcher: matcher, hidden: sight.hidden, doubts: doubts}
	v.Reading = v.reading(s, named)
	v.Reading.Water = s.waters()
	return v, nil
}

// Cut is a layer as a keeper sets it. The last one always ends at the strip's end.
type Cut struct {
	BottomMM float64      // depth of its lower edge below the surface first read
	Band     palette.Band // NoBand: to be named
	Bend     layers.Bend  // of its lower edge
}

// Recut reads the strip with its edges where a keeper sets them, in the relief of the traced
// edges around them. The bed begins where the water is cut off. Its error says what is wrong with
// a cut.
func (v *View) Recut(water Cut, cuts []Cut) (*Reading, error) {
	s := *v.strata
	if len(cuts) == 0 {
		return nil, fmt.Errorf("found no layer, want one or more")
	}
	rows := []float64{max(0, v.row(water.BottomMM))}
	bends := []layers.Bend{water.Bend}
	for _, c := range cuts[:len(cuts)-1] {
		rows, bends = append(rows, v.row(c.BottomMM)), append(bends, c.Bend)
	}
	if err := s.thickEnough(rows); err != nil {
		return nil, err
	}
	s.warp = s.warpTo(slices.Clone(rows))
	if err := s.bend(bends); err != nil {
		return nil, err
	}
	if err := s.thickEnough(s.level); err != nil {
		return nil, err
	}
	s.looks = s.field.looks(s.warp)
	bed := named{layers: s.bed()}
	for i := range bed.layers {
		bed.layers[i].given = cuts[i].Band
	}
	bed.match = v.matcher.Match(s.column(bed.layers, v.light.unknown(), v.light.doubt()))
	bed.names = bed.match.Names()
	r := v.reading(&s, bed)
	for k, b := range s.bends {
		depth := (rows[k] - v.strata.level[0]) * s.field.pitch
		r.Set = append(r.Set, layers.SetEdge{DepthMM: depth, Bend: b, ShiftMM: (s.level[k] - rows[k]) * s.field.pitch})
	}
	return r, nil
}

// thickEnough refuses edges that leave no room for a layer in the strip.
func (s *strata) thickEnough(rows []float64) error {
	for i, from := range rows {
		to := float64(s.field.rows)
		if i+1 < len(rows) {
			to = rows[i+1]
		}
		if thick := (to - from) * s.field.pitch; !(thick >= leastThere) {
			return fmt.Errorf("found layer %d %.1f mm thick, want %.1f mm or more, in the strip", i+1, thick, leastThere)
		}
	}
	return nil
}

// untouched is the distance within which an edge is the traced one, mm: less than a screen
// shows.
const untouched = 0.01

// row is the row of the levelled profile at a depth below the surface first read, mm.
func (v *View) row(mm float64) float64 {
	row := v.strata.level[0] + mm/v.strata.field.pitch
	for _, level := range v.strata.level {
		if math.Abs(level-row)*v.strata.field.pitch < untouched {
			return level
		}
	}
	return row
}
