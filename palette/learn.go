package palette

import "math"

// Layers of native material in one photo are the same grains under the same lamp: once some are
// recognised, they show the native colour better than the keeper's entry does.

// surelySeen is how much native material must be recognised to learn its colour, mm (assumption).
const surelySeen = 5.0

// alikeSpread is how far layers of one native material in one photo differ, root mean square
// CIEDE2000 (assumption: the lamp's fall-off and foreign grains).
const alikeSpread = 2.5

// A lesson is one of the tank's own native colours as a photo shows it.
type lesson struct {
	group int
	color Linear // as the photo shows it
	doubt float64
}

// lessons are what a column, matched once, teaches about the tank's own native colours.
func (m *Matcher) lessons(column Column, match *Match) []lesson {
	if !m.ownNative {
		return nil
	}
	light := match.Light()
	var list []lesson
	for i := range m.groups {
		if m.groups[i].band != Native {
			continue
		}
		l := lesson{group: i}
		var weight float64
		for j := range column.Layers {
			seen := &column.Layers[j]
			color := tint(light.Relight(seen.Lab))
			w := match.Probability(j, Native) * seen.ThicknessMM * m.shareOf(i, &color, seen.Doubt)
			weight += w
			l.doubt += w * seen.Doubt
			for c, v := range seen.Lab.Linear() {
				l.color[c] += w * v
			}
		}
		if weight < surelySeen {
			continue
		}
		for c := range l.color {
			l.color[c] /= weight
		}
		l.doubt /= weight
		list = append(list, l)
	}
	return list
}

// shareOf is the part of a native layer's likelihood that comes from one group.
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

// learnt is the matcher under one state of the light, with each lesson's native colour as that state
// has it, and the logarithm of how well those agree with the colours that the keeper gave.
func (m *Matcher) learnt(lessons []lesson, light lightState) (*Matcher, float64) {
	if len(lessons) == 0 {
		return m, 0
	}
	out := *m
	out.groups = make([]group, len(m.groups))
	copy(out.groups, m.groups)
	agreement := 0.0
	for _, l := range lessons {
		g := &out.groups[l.group]
		color := tint(light.relight(l.color.Lab()))
		agreement += math.Log(g.density(&color, l.doubt) + unknownDensity)
		g.colors = []spot{{color, alikeSpread * alikeSpread, true}}
	}
	return &out, agreement
}
