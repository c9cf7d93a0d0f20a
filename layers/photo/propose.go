package photo

import "panecore/layers/photo/picture"

// Proposal is a picture's marks: those a keeper gave, and those found in the picture by itself. A proposed mark is to be
// looked at: Read takes it for a keeper's own.
type Proposal struct {
	Picks                       Picks // what was neither given nor found is zero
	Ruler, Card, Surface, Strip Sighting
}

// Sighting is how a mark was come by.
type Sighting struct {
	Given      bool    // by the keeper
	Confidence float64 // that the mark is right, 0 to 1: 0 where none was found, 1 where it was given
	Note       string  // what was found and what that leaves open, in a sentence without its stop; empty for a given mark
}

// Doubtful reports whether a mark should be checked before numbers are believed.
func (s Sighting) Doubtful() bool { return s.Confidence < sureSighting }

// sureSighting is the confidence below which a found mark is told as doubtful (assumption).
const sureSighting = 0.7

// Propose looks in a picture for the marks that were not given: a strip of no width, a ruler of no length, no surface, no
// card.
func Propose(p *picture.Picture, given Picks) *Proposal {
	b := &Proposal{Picks: given}
	for _, mark := range []struct {
		given bool
		to    *Sighting
	}{
		{given.Ruler.LengthMM > 0, &b.Ruler}, {len(given.Neutral) > 0, &b.Card}, {given.SurfaceY != nil, &b.Surface}, {given.Strip.W > 0, &b.Strip},
	} {
		if mark.given {
			*mark.to = Sighting{Given: true, Confidence: 1}
		}
	}
	return b
}
