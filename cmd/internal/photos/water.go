package photos

import (
	"fmt"
	"math"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/photo"
	"panecore/reports"
	"panecore/reports/words"
)

// topWater is what looks like water at the top of a reading; nil: nothing does.
func topWater(found *photo.Reading) *reports.TopWater {
	if found.Water == 0 {
		return nil
	}
	w := &reports.TopWater{}
	for _, l := range found.Core.Layers[:found.Water] {
		w.DepthMM += l.ThicknessMM
	}
	edge := found.Edges[found.Water]
	for _, at := range edge {
		w.Surface += at.Y / float64(len(edge))
	}
	w.DepthMM, w.Surface = tenth(w.DepthMM), tenth(w.Surface)
	return w
}

func tenth(v float64) float64 { return math.Round(10*v) / 10 }

// waterDoubt says that a reading may begin in the water, and what to do if it does.
func waterDoubt(u layers.Units, w reports.TopWater) string {
	return fmt.Sprintf("%s; if they are water above the bed, read the photo again with --surface %g", words.TopWater(u, w), w.Surface)
}

// asksWater asks at a terminal whether what looks like water is. It reports whether the photo is to be read again, from
// the surface that is then marked. What the keeper says is bed is in doubt no more.
func (r *Reading) asksWater(s *shell.Shell, picks *photo.Picks) (again bool, err error) {
	w := r.Findings.Photo.Water
	if w == nil || !s.Env.StdinIsTerminal {
		return false, nil
	}
	yes, err := s.Ask(words.TopWater(s.Units, *w) + ": is this water above the bed?")
	switch {
	case err != nil:
		return false, err
	case yes:
		picks.SurfaceY = &w.Surface
		return true, nil
	}
	r.Findings.Photo.Water = nil
	s.Note(fmt.Sprintf("read as bed; --surface %g begins the bed below", w.Surface))
	return false, nil
}
