package photo

import (
	"slices"
	"testing"
)

// runOf is some rows of one colour.
type runOf struct {
	rows  int
	color [3]float64
}

// stairway is a column of such runs, cut at each.
func stairway(runs ...runOf) (signal, segmentation) {
	var s signal
	var cuts []int
	for i, run := range runs {
		if i > 0 {
			cuts = append(cuts, len(s.value))
		}
		for range run.rows {
			s.value = append(s.value, run.color)
			s.weight = append(s.weight, [3]float64{1, 1, 1})
		}
	}
	sums := s.sums()
	return s, segmentation{&sums, len(s.value), cuts}
}

func TestMergeStairs(t *testing.T) {
	share := func(p float64) (c [3]float64) {
		for i := range c {
			c[i] = sand[i] + p*(mud[i]-sand[i])
		}
		return c
	}
	for name, test := range map[string]struct {
		runs []runOf
		want []int
	}{
		"no stair":                    {[]runOf{{40, sand}, {60, mud}}, []int{40}},
		"a mixture nearer the upper":  {[]runOf{{40, sand}, {10, share(0.3)}, {60, mud}}, []int{50}},
		"a mixture nearer the lower":  {[]runOf{{40, sand}, {10, share(0.7)}, {60, mud}}, []int{40}},
		"two steps":                   {[]runOf{{40, sand}, {6, share(0.2)}, {6, share(0.8)}, {60, mud}}, []int{46}},
		"a rust line between":         {[]runOf{{40, sand}, {10, rust}, {60, mud}}, []int{40, 50}},
		"too thick for a stair":       {[]runOf{{40, sand}, {21, share(0.5)}, {60, mud}}, []int{40, 61}},
		"darker than both":            {[]runOf{{40, share(0.5)}, {10, mud}, {60, sand}}, []int{40, 50}},
		"a stair, then a rust line":   {[]runOf{{40, sand}, {10, share(0.4)}, {40, mud}, {8, rust}, {40, mud}}, []int{50, 90, 98}},
		"the outermost are no stairs": {[]runOf{{5, share(0.5)}, {60, mud}, {5, share(0.5)}}, []int{5, 65}},
	} {
		_, s := stairway(test.runs...)
		if s.mergeStairs(20); !slices.Equal(s.cuts, test.want) {
			t.Errorf("%s: cut at %v, want %v", name, s.cuts, test.want)
		}
	}
}

// The boundary that stands for a stair is the best of two means over the three segments.
func TestBestCut_everyOther(t *testing.T) {
	s, seg := stairway(runOf{12, [3]float64{70, 2, 10}}, runOf{9, [3]float64{55, 4, 14}}, runOf{15, [3]float64{31, 1, 4}})
	for r := range s.value {
		s.value[r][0] += float64(r * 37 % 11) // a grain
	}
	sums := s.sums()
	seg.sums = &sums
	got := seg.bestCut(0, 12, 21, 36)
	for cut := 12; cut <= 21; cut++ {
		if misfit(s, 0, cut)+misfit(s, cut, 36) < misfit(s, 0, got)+misfit(s, got, 36)-1e-9 {
			t.Errorf("cut at %d, but %d is better", got, cut)
		}
	}
}
