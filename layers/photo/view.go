package photo

import (
	"fmt"
	"math"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// View is a strip that was read and may be cut otherwise. It is not changed by use.
type View struct {
	Reading *Reading // as it was read

	grid    *grid
	light   *correction
	strata  *strata
	picks   Picks
	matcher *palette.Matcher
	hidden  float64  // share of the bed
	doubts  []string // what makes any reading of it unreliable
}

// waterAbove is how much is read above the click on the surface, where the picture has it, mm.
const waterAbove = 5.0

// Look reads the layers in a picture's strip, as Read does, and keeps the view.
func Look(p *picture.Picture, picks Picks, matcher *palette.Matcher) (*View, error) {
	if err := picks.within(p); err != nil {
		return nil, err
	}
	frame, err := newFrame(picks.Ruler)
	if err != nil {
		return nil, err
	}
	light, err := newCorrection(p, picks.Neutral)
	if err != nil {
		return nil, err
	}
	click := picks.Strip.Y
	if picks.SurfaceY != nil {
		click = *picks.SurfaceY
	}
	top := min(picks.Strip.Y, max(0, click-waterAbove*frame.pxPerMM))
	g := sample(p, frame, picks.Strip.X+picks.Strip.W/2, top, picks.Strip.W, picks.Strip.Y+picks.Strip.H-top)
	field := newField(g, light)
	s := findStrata(field, (click-top)/frame.pxPerMM/field.pitch)
	named := s.name(s.bed(), matcher, light.unknown(), light.doubt())
	sight := s.sight(g, named.layers)
	if err := sight.refuse(named); err != nil {
		return nil, err
	}
	v := &View{grid: g, light: light, strata: s, picks: picks, matcher: matcher, hidden: sight.hidden, doubts: sight.doubts(named)}
	v.Reading = v.reading(s, named)
	return v, nil
}

// Cut is a layer as a keeper has it: the depth of its lower edge, mm below the bed surface
// as it was read, and its band where the keeper tells it. The last one's edge is the strip's
// end, whatever is said.
type Cut struct {
	BottomMM float64
	Band     palette.Band
}

// Recut reads the strip with its edges where a keeper has them, each with the relief of the
// edges as they were traced about it; surface is where the bed begins, mm below the surface
// as it was read. Its error says what is wrong with a cut.
func (v *View) Recut(surface float64, cuts []Cut) (*Reading, error) {
	s := *v.strata
	edges := []float64{max(0, v.row(surface))}
	for _, c := range cuts[:max(0, len(cuts)-1)] {
		edges = append(edges, v.row(c.BottomMM))
	}
	for i, from := range edges {
		to := float64(s.field.rows)
		if i+1 < len(edges) {
			to = edges[i+1]
		}
		if thick := (to - from) * s.field.pitch; !(thick >= leastThere) {
			return nil, fmt.Errorf("found layer %d %.1f mm thick, want %.1f mm or more, in the strip", i+1, thick, leastThere)
		}
	}
	if len(cuts) == 0 {
		return nil, fmt.Errorf("found no layer, want one or more")
	}
	s.warp = s.warpTo(edges)
	s.looks = s.field.looks(s.warp)
	bed := named{layers: s.bed()}
	for i := range bed.layers {
		bed.layers[i].told = cuts[i].Band
	}
	bed.match = v.matcher.Match(s.column(bed.layers, v.light.unknown(), v.light.doubt()))
	bed.names = bed.match.Names()
	return v.reading(&s, bed), nil
}

// untouched is how far an edge may lie from where it was traced and be that edge, mm: a
// screen shows no less.
const untouched = 0.01

// row is a depth below the surface as it was read, in rows of the levelled column.
func (v *View) row(mm float64) float64 {
	row := v.strata.level[0] + mm/v.strata.field.pitch
	for _, level := range v.strata.level {
		if math.Abs(level-row)*v.strata.field.pitch < untouched {
			return level
		}
	}
	return row
}
