package palette

// Layers of native material in one photo are the same grains under the same lamp: once some
// are recognised, they tell the native colour better than the keeper's word or a generic one.

// surelySeen is how much of a native colour must be recognised to be learnt from, mm
// (assumption).
const surelySeen = 5.0

// learn is the matcher with the native colours moved to where a photo's column shows them. A
// colour learnt has no spread of its own left, only the doubt of the light.
func (m *Matcher) learn(column Column, match *Match) *Matcher {
	out := *m
	out.groups = make([]group, len(m.groups))
	copy(out.groups, m.groups)
	light := match.Light()
	for i := range out.groups {
		g := &out.groups[i]
		if g.band != Native || !m.ownNative {
			continue
		}
		var sum Linear
		var weight float64
		for j := range column.Layers {
			seen := &column.Layers[j]
			lab := light.Relight(seen.Lab)
			color := tint(lab)
			w := match.Probability(j, Native) * seen.ThicknessMM * m.shareOf(i, &color, seen.Doubt)
			weight += w
			for c, v := range lab.Linear() {
				sum[c] += w * v
			}
		}
		if weight < surelySeen {
			continue
		}
		for c := range sum {
			sum[c] /= weight
		}
		g.colors = []spot{{tint(sum.Lab()), 0}}
	}
	return &out
}

// shareOf is what part of a native layer's likelihood comes from one group.
func (m *Matcher) shareOf(group int, color *tinted, doubt float64) float64 {
	var sum float64
	for i := range m.groups {
		if m.groups[i].band == Native {
			sum += m.groups[i].density(color, doubt)
		}
	}
	if sum == 0 {
		return 0
	}
	return m.groups[group].density(color, doubt) / sum
}
