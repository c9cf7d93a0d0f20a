package photo

import (
	"cmp"
	"fmt"

	"panecore/layers/photo/picture"
)

// within refuses picks that are not inside the picture or contradict each other.
func (k Picks) within(p *picture.Picture) error {
	r := k.Ruler
	ruler := Box{min(r.X1, r.X2), min(r.Y1, r.Y2), max(r.X1, r.X2) - min(r.X1, r.X2), max(r.Y1, r.Y2) - min(r.Y1, r.Y2)}
	if err := cmp.Or(within(p, "strip", k.Strip), within(p, "ruler", ruler), cardsWithin(p, k.Neutral), discsWithin(p, k.Hidden)); err != nil {
		return err
	}
	if foot := k.Strip.Y + k.Strip.H; k.SurfaceY != nil && (*k.SurfaceY < 0 || *k.SurfaceY >= foot) {
		return &Refusal{
			Reason: fmt.Sprintf("the bed surface is marked at row %g, want one inside the picture and above the strip's foot at row %g", *k.SurfaceY, foot),
			Help:   "mark the row where the bed begins, and a strip that reaches down into it",
		}
	}
	return nil
}

func cardsWithin(p *picture.Picture, cards []Card) error {
	for i, card := range cards {
		if err := within(p, fmt.Sprint("grey card ", i+1), card.Box); err != nil {
			return err
		}
	}
	return nil
}

// within refuses a box of negative size or not inside the picture.
func within(p *picture.Picture, name string, b Box) error {
	if b.W < 0 || b.H < 0 {
		return &Refusal{
			Reason: fmt.Sprintf("the %s is %g pixels wide and %g high, want a width and a height above 0", name, b.W, b.H),
			Help:   "mark it from its upper left corner",
		}
	}
	if b.X >= 0 && b.Y >= 0 && b.X+b.W <= float64(p.Width) && b.Y+b.H <= float64(p.Height) {
		return nil
	}
	return &Refusal{
		Reason: fmt.Sprintf("picks outside the picture: the %s from %g,%g to %g,%g reaches out of %d x %d pixels",
			name, b.X, b.Y, b.X+b.W, b.Y+b.H, p.Width, p.Height),
		Help: "mark it inside, in pixels of the upright picture",
	}
}
