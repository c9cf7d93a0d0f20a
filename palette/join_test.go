package palette

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Joined layers are worth what the whole column, weighed anew, says: when they are asked about, once
// they are joined, and asked about again after others were.
func TestMatch_join(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	unknown := Light{EVDoubt: 0.6, Veil: 0.01, VeilDoubt: 0.015}
	for round := range 40 {
		m := NewMatcher(nil, nil)
		if round%2 == 0 {
			m = NewMatcher([]Baseline{{Color: Color{R: 0xd5, G: 0xc8, B: 0xa5}}}, nil)
		}
		column := Column{Light: unknown, Unlit: round%3 == 0}
		for range 3 + rng.IntN(8) {
			column.Layers = append(column.Layers, Seen{
				Lab: Lab{L: 15 + 65*rng.Float64(), A: 12 * rng.Float64(), B: 30 * rng.Float64()}, ThicknessMM: 1 + 20*rng.Float64(), Doubt: DoubtCard,
			})
		}
		match := m.Match(column)
		known := map[Seen]*Joint{}
		for len(column.Layers) > 3 {
			n := 2 + rng.IntN(2)
			i := rng.IntN(len(column.Layers) - n + 1)
			whole := column.Layers[i]
			for _, l := range column.Layers[i+1 : i+n] {
				whole.ThicknessMM += l.ThicknessMM
			}
			j := known[whole]
			if j == nil {
				j = NewJoint(whole, i == 0)
				known[whole] = j
			}
			fewer := column
			fewer.Layers = slices.Concat(column.Layers[:i], []Seen{whole}, column.Layers[i+n:])
			views := make([]view, len(match.chains))
			for k := range views {
				v := match.chains[k].view
				switch {
				case v.layer >= i+n:
					v.layer -= n - 1
				case v.layer >= i:
					v.layer = i
				}
				views[k] = v
			}
			want := m.match(fewer, views)
			if got := match.JoinedEvidence(i, n, j); math.Abs(got-want.Evidence()) > 1e-9 {
				t.Fatalf("round %d: joined, they would be worth %.12f, want %.12f", round, got, want.Evidence())
			}
			if rng.IntN(3) == 0 {
				continue // asked about only
			}
			got := match.Join(i, n, j)
			if math.Abs(got.Evidence()-want.Evidence()) > 1e-9 || !slices.Equal(got.Names(), want.Names()) {
				t.Fatalf("round %d: joined, they are worth %.12f, want %.12f", round, got.Evidence(), want.Evidence())
			}
			match, column = got, fewer
		}
	}
}
