package judge

import (
	"reflect"
	"slices"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/internal/testbeds"
)

// TestNewOverview_order: tanks in trouble first, then those whose bed wants a hand by
// how many draws say so, then those due for a reading, those never read, and the rest.
func TestNewOverview_order(t *testing.T) {
	named := func(id string, tank layers.Tank) layers.Tank { tank.ID = id; return tank }
	calm := testbeds.Steady(testbeds.Of(12, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native))
	late := testbeds.Told(calm, func(t *layers.Tank) { t.Cores = t.Cores[:3] })
	deep := testbeds.Steady(testbeds.Of(80, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native))
	edge := testbeds.Steady(testbeds.Of(52, palette.MulmLight), testbeds.Of(4, palette.Rust), testbeds.Of(40, palette.Native))
	sick := testbeds.Told(calm, sign(layers.DeadAnimal))
	tanks := []layers.Tank{
		named("calm", calm), named("late", late), named("edge", edge), named("deep", deep), named("sick", sick), {ID: "new"},
	}
	today := testbeds.Day("2026-10-05")
	found := Interpret(slices.Values(tanks), testbeds.Few())
	o := NewOverview(found, today)
	var order []string
	for _, l := range o.Tanks {
		order = append(order, l.ID)
	}
	if want := []string{"sick", "deep", "edge", "late", "new", "calm"}; !slices.Equal(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
	last := o.Tanks[len(o.Tanks)-1]
	if last.Due || *last.DaysSince != int(today-calm.Cores[4].Date) || last.NextReading != calm.Cores[4].Date+30 {
		t.Errorf("the calm tank is %+v, read %v days ago", last, *last.DaysSince)
	}
	due := o.OnlyDue()
	if len(due.Tanks) != 2 || slices.ContainsFunc(due.Tanks, func(l reports.OverviewLine) bool { return !l.Due }) {
		t.Errorf("%d tanks are due: %+v", len(due.Tanks), due.Tanks)
	}
	if len(o.Tanks) != len(tanks) {
		t.Error("listing what is due drops tanks from the overview")
	}
	first, unread := o.Tanks[0], o.Tanks[4]
	if want := found.Tanks[4]; !reflect.DeepEqual(first.Cores, want.Cores) || first.How != want.Advice.How {
		t.Errorf("the line of the sick tank holds %+v and %q", first.Cores, first.How)
	}
	if len(unread.Cores) > 0 || unread.How != "" {
		t.Errorf("the line of the tank that was never read is %+v", unread)
	}
}
