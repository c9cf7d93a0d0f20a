package rehearsal

import (
	"strings"
	"testing"

	"panecore/reports"
)

// No step takes more of the floor at a time than is usual; what is left goes in turns.
func TestSteps_share(t *testing.T) {
	for _, c := range []struct {
		method reports.Method
		share  float64
		want   string
	}{
		{reports.MethodStir, 0.1, "Do no more than 10 % of the floor."},
		{reports.MethodStir, 0.25, "Do no more than 25 % of the floor."},
		{reports.MethodStir, 0.5, "Do no more than 25 % of the floor at a time, 50 % in all, two to four weeks apart."},
		{reports.MethodSiphon, 0.125, "Take no more than 12.5 % of the floor, and refill with matched, chlorine-free water."},
		{reports.MethodSiphon, 1, "Take no more than 25 % of the floor at a time, 100 % in all, two to four weeks apart, and refill with matched, chlorine-free water."},
	} {
		if got := strings.Join(steps(c.method, c.share, 0.25), "\n"); !strings.Contains(got, "\n"+c.want+"\n") {
			t.Errorf("%s of %g: steps\n%s\nwant %q", c.method, c.share, got, c.want)
		}
	}
}

// Where a smaller share stays within the limits it is told, rounded down; else that none does.
func TestLesser(t *testing.T) {
	for possible, want := range map[float64]string{0.129: "with an air stone running, 12 % of the floor", 0: "not even with an air stone"} {
		if got := strings.Join(lesser(possible), "\n"); !strings.Contains(got, want) {
			t.Errorf("%g: %s, want %q", possible, got, want)
		}
	}
}
