package photos

import (
	"panecore/cmd/internal/shell"
	"panecore/layers/photo"
	"panecore/reports"
)

// readable refuses marks without a ruler or a strip.
func (p *Shot) readable(b *photo.Proposal) error {
	switch {
	case b.Ruler.Confidence == 0:
		return p.missing("no ruler was found, and without one there is no scale; stand a ruler upright on the glass, sharp and whole, or mark two points of it: --ruler X1,Y1,X2,Y2,LENGTH")
	case b.Strip.Confidence == 0:
		return p.missing("no bed was found beside the ruler; mark the part of the pane to read: --strip X,Y,W,H")
	}
	return nil
}

func (p *Shot) missing(reason string) error {
	return &shell.UnreadableError{Reason: p.name + ": " + reason}
}

// foundIn lists the marks of a proposal that no keeper set.
func foundIn(b *photo.Proposal) (list []reports.FoundMark) {
	for _, m := range []struct {
		name string
		photo.Sighting
	}{{"ruler", b.Ruler}, {"card", b.Card}, {"strip", b.Strip}, {"surface", b.Surface}} {
		if !m.Given && m.Confidence > 0 {
			list = append(list, reports.FoundMark{Mark: m.name, Confidence: m.Confidence, Doubtful: m.Doubtful(), Note: m.Note})
		}
	}
	return list
}

// marksOf are picks as findings show them.
func marksOf(k photo.Picks) *reports.PhotoMarks {
	r := k.Ruler
	m := &reports.PhotoMarks{Strip: sides(k.Strip), Surface: k.SurfaceY, Ruler: [5]float64{r.X1, r.Y1, r.X2, r.Y2, r.LengthMM}, Neutral: [][4]float64{}}
	for _, card := range k.Neutral {
		m.Neutral = append(m.Neutral, sides(card.Box))
	}
	return m
}
