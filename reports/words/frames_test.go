package words_test

import (
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/words"
)

// What the front does against the floor and against the bed surface is told apart, and what may stand
// still only seems to move.
func TestFrames_toldApart(t *testing.T) {
	about := func(value, half float64) *reports.Estimate {
		return &reports.Estimate{Value: value, Low: value - half, High: value + half}
	}
	still := about(0.05, 0.2)
	for _, test := range []struct {
		name           string
		surface, floor *reports.Estimate
		want           string
	}{
		{"nothing known", nil, nil, ""},
		{"floor not seen, rising", about(-0.8, 0.3), nil, "Against the bed surface the front rises by 0.8 mm a month. The floor is not seen, so how it moves against that is not known."},
		{"floor not seen, still", still, nil, "Against the bed surface the front hardly moves. The floor is not seen, so how it moves against that is not known."},
		{"surface not known", nil, about(-0.8, 0.3), "Against the floor the front rises by 0.8 mm a month. How it moves against the bed surface is not known."},
		{"mulm on a still front", about(2.1, 0.4), still, "Against the floor the front hardly moves; its depth below the surface grows by 2.1 mm a month because mulm grows on top."},
		{"the surface sinks on a still front", about(-2.1, 0.4), still, "Against the floor the front hardly moves; its depth below the surface shrinks by 2.1 mm a month because the bed surface sinks."},
		{"all still", still, still, "The front hardly moves, either against the floor or against the bed surface."},
		{"rises hidden by mulm", about(1, 0.3), about(-2.5, 0.5), "The front rises by 2.5 mm a month against the floor, though its depth below the surface grows by 1.0 mm a month: the mulm grows faster."},
		{"rises with the mulm", still, about(-2.5, 0.5), "The front rises by 2.5 mm a month against the floor, but its depth below the surface hardly changes: the mulm grows as fast."},
		{"rises against both", about(-1, 0.3), about(-2.5, 0.5), "The front rises by 2.5 mm a month against the floor, and its depth below the surface shrinks by 1.0 mm a month."},
		{"sinks against both", about(3, 0.3), about(1.5, 0.5), "The front sinks by 1.5 mm a month against the floor, and its depth below the surface grows by 3.0 mm a month."},
		{"sinks with the surface", still, about(1.5, 0.5), "The front sinks by 1.5 mm a month against the floor, but its depth below the surface hardly changes: the bed surface sinks as fast."},
		{"sinks, and the surface faster", about(-1, 0.3), about(1.5, 0.5), "The front sinks by 1.5 mm a month against the floor, though its depth below the surface shrinks by 1.0 mm a month: the bed surface sinks faster."},
		{"perhaps", about(0.4, 0.6), about(-0.3, 0.5), "The front seems to rise by 0.3 mm a month against the floor, though its depth below the surface seems to grow by 0.4 mm a month: the mulm grows faster."},
		{"small but sure", about(-0.05, 0.02), nil, "Against the bed surface the front rises by 0.05 mm a month. The floor is not seen, so how it moves against that is not known."},
		{"the least that is named", about(0.1, 0.3), nil, "Against the bed surface the front seems to sink by 0.1 mm a month. The floor is not seen, so how it moves against that is not known."},
	} {
		if got := words.Frames(test.surface, test.floor, layers.MM); got != test.want {
			t.Errorf("%s: found %q, want %q", test.name, got, test.want)
		}
	}
	if got, want := words.Frames(about(2.54, 1), still, layers.Inches), "Against the floor the front hardly moves; its depth below the surface grows by 0.10 inches a month because mulm grows on top."; got != want {
		t.Errorf("in inches: found %q, want %q", got, want)
	}
}

func TestFloorShift_named(t *testing.T) {
	for want, shift := range map[string]*reports.Estimate{
		"front shift against the floor":                            nil,
		"front shift against the floor, rising":                    {Value: -2, Low: -3, High: -1},
		"front shift against the floor, sinking":                   {Value: 2, Low: 1, High: 3},
		"front shift against the floor, rising, or standing still": {Value: -2, Low: -3, High: 1},
		"front shift against the floor, hardly moving":             {Value: -0.05, Low: -1, High: 1},
	} {
		if got := words.FloorShift(shift); got != want {
			t.Errorf("found %q, want %q", got, want)
		}
	}
}
