package palette

import (
	"math"
	"slices"
	"testing"
)

// Every band is described in full and told from the others, has colours unless it is unknown, and is
// either a step with its place in the order or an overlay.
func TestBands_described(t *testing.T) {
	told := map[any]Band{}
	for _, b := range Bands() {
		d := bands[b]
		if d.looks == "" || d.material == NoMaterial || d.grain.PitchMM <= 0 || d.usual.medianMM <= 0 || d.usual.spread <= 0 {
			t.Errorf("band %d, %q, lacks a part of its description: %+v", b, d.name, d)
		}
		for _, mark := range []any{d.name, d.looks, d.letters.Pair, d.grain} {
			if other, taken := told[mark]; taken {
				t.Errorf("%v and %v are both %v", other, b, mark)
			}
			told[mark] = b
		}
		if isStep := d.under != (shares{}) && d.floor > 0; isStep == b.IsOverlay() {
			t.Errorf("%v is step and overlay, or neither", b)
		}
		if len(d.letters.Pair) != 2 {
			t.Errorf("%v has the letters %q, want two", b, d.letters.Pair)
		}
		if parsed, err := ParseBand(b.String()); err != nil || parsed != b {
			t.Errorf("%q is read as %v, %v", b, parsed, err)
		}
		if shown := slices.ContainsFunc(prototypes[:], func(p Prototype) bool { return p.Band == b }); shown == (b == Unknown) {
			t.Errorf("%v: it has a colour: %t", b, shown)
		}
	}
	if !slices.IsSortedFunc(prototypes[:], func(p, q Prototype) int { return int(p.Band) - int(q.Band) }) {
		t.Error("the prototypes are not in the order of the bands")
	}
}

func TestParseBand_unknownName(t *testing.T) {
	for _, name := range []string{"", "Rust", "gold"} {
		if b, err := ParseBand(name); err == nil || b != NoBand {
			t.Errorf("%q is read as %v", name, b)
		}
	}
}

// From every step the probabilities of the next add up to one; mulm lies under nothing but mulm, the top
// and what is unknown, more often than its own share says.
func TestOrder_probabilities(t *testing.T) {
	plain, order := shared(), asTyped
	for _, from := range froms {
		var sum float64
		for _, p := range order[from] {
			sum += p
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("from step %d the next have %v together", from, sum)
		}
		above := stepBand[from]
		for _, b := range []Band{MulmLight, MulmDark} {
			if open := above == NoBand || above.IsMulm() || above == Unknown; !open && order[from][b] != plain[from][b] {
				t.Errorf("%v under %v has %v, want its own share of %v", b, above, order[from][b], plain[from][b])
			}
		}
		if below := above == Rust || above.IsReduced() || from == nativeBelow; below == (order[from][Native] > 0) || below != (order[from][nativeBelow] > 0) {
			t.Errorf("native under step %d: %v, below a front %v", from, order[from][Native], order[from][nativeBelow])
		}
	}
}

// A step that a band's shares leave out counts as Unknown does.
func TestShares_leftOut(t *testing.T) {
	s := shares{Rust: 3, Unknown: 7}
	if s.at(int(Rust)) != 3 || s.at(int(Black)) != 7 {
		t.Errorf("under rust %v, under black %v", s.at(int(Rust)), s.at(int(Black)))
	}
}
