package words

import (
	"fmt"

	"panecore/layers"
	"panecore/reports"
)

// RehearsalVerdict is the rehearsal in a sentence or two.
func RehearsalVerdict(r reports.Rehearsal, u layers.Units) string {
	deed := fmt.Sprintf("to %s %.0f %% of the floor down to %s %s", r.Method, 100*r.Share, OnRuler(u, r.DepthMM), u)
	switch {
	case r.Never != "":
		return fmt.Sprintf("Don't. %s By the numbers alone, %s stays within every limit in %s.", r.Never, deed, Draws(r.Within))
	case r.Fine():
		return fmt.Sprintf("It can be done: %s stays within every limit in %s.", deed, Draws(r.Within))
	case r.Within > 0:
		deed = fmt.Sprintf("Don't: %s stays within every limit in only %s; 95 are wanted.", deed, Draws(r.Within))
	default:
		deed = fmt.Sprintf("Don't: %s stays within every limit in none of the draws.", deed)
	}
	for _, l := range r.Largest {
		if l.Method != r.Method || l.DepthMM != r.DepthMM {
			continue
		}
		asItIs, aerated := Number(100*l.Share, 0), Number(100*l.Aerated, 0)
		switch {
		case aerated != asItIs:
			deed += fmt.Sprintf(" With an air stone running, up to %s %% of the floor would.", aerated)
		case l.Share > 0:
			deed += fmt.Sprintf(" At most %s %% of the floor would.", asItIs)
		}
	}
	return deed
}

// OxygenVerdict says what the bottom of the water holds in the dark, beside the least that
// it should.
func OxygenVerdict(x reports.OxygenProfile) string {
	m := Oxygen()
	held := "What the bottom of the water holds in the dark is not known"
	if bottom := x.Bottom(); bottom != nil {
		held = "In the dark the bottom of the water holds " + m.Estimate(*bottom)
	}
	return held + "; the least of a day should be " + m.Plain(x.Limit) + " " + m.Unit + "."
}
