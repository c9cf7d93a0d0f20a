package testworlds

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"panecore/layers"
	"panecore/reports/internal/testbeds"
)

// TestLaw_steps: a law followed in one go comes to what it comes to in small steps.
func TestLaw_steps(t *testing.T) {
	for name, l := range map[string]law{
		"a line":      {start: 5, rate: 1.5},
		"a level":     {start: 5, decay: 0.1, level: 40},
		"shrinking":   {start: 3, rate: -0.2},
		"wandering":   {start: 5, rate: 1, turns: []float64{0.3, -0.5, 0.2, 0.4, -0.1, 0.2}},
		"siphonings":  {start: 20, rate: 2, removals: []removal{{2.5, 0.4}, {7, 0.6}}},
		"all of them": {start: 10, rate: 0.5, decay: 0.05, level: 30, turns: []float64{0.3, -0.5, 0.2}, removals: []removal{{2, 0.5}}},
	} {
		s := spot{mulm: 0.7, rates: 0.2, removed: []float64{0.1, -0.1}}
		const steps = 1000 // a month
		mm, strayed, next := l.start+s.mulm, 0.0, 0
		var want []float64
		for i := range 24 * steps {
			at := float64(i) / steps
			if i%steps == 0 {
				if i/steps < len(l.turns) {
					strayed += l.turns[i/steps]
				}
				want = append(want, mm)
			}
			if next < len(l.removals) && l.removals[next].month <= at {
				mm *= 1 - l.removals[next].share - s.removed[next]
				next++
			}
			mm = max(0, mm+((l.rate+strayed+l.decay*l.level)*(1+s.rates)+l.decay*(s.mulm-mm))/steps)
		}
		var months []float64
		for month := range want {
			months = append(months, float64(month))
		}
		for month, got := range l.trend(&s, months) {
			if math.Abs(got-want[month]) > 0.02 {
				t.Errorf("%s: %.3f mm in month %d, want %.3f", name, got, month, want[month])
			}
		}
	}
}

// TestReaches_line: 20 mm that grow by 1.5 mm a month reach 50 mm in 20 months.
func TestReaches_line(t *testing.T) {
	if month, ever := (&law{}).reaches(50, 4, 20, 1.5); !ever || math.Abs(month-24) > 0.05 {
		t.Errorf("in month %.2f, ever %t, want 24", month, ever)
	}
	if month, ever := (&law{decay: 0.1}).reaches(50, 4, 20, 2); ever { // levels off at 40
		t.Errorf("in month %.2f, want never", month)
	}
}

// TestTank_truth: the truth of the last day is that of the floor: its mulm, and how fast it goes on
// where no season swings.
func TestTank_truth(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for _, w := range append(Worlds(), World{Name: "kept"}) {
		draw := w.Draw
		if w.Name == "kept" {
			draw = Kept
		}
		for i := range 5 {
			tank := draw(rng, i)
			days := tank.Days()
			last := days[len(days)-1]
			near := tank.Floor([]layers.Date{last, last + 1})
			testbeds.Near(t, w.Name+" mulm", tank.Truth.Mulm, near[0].Mulm, 1e-9)
			testbeds.Near(t, w.Name+" growth", tank.Truth.GrowthNow, (near[1].Mulm-near[0].Mulm)*layers.DaysPerMonth, 0.1)
			testbeds.Near(t, w.Name+" shift", tank.Truth.ShiftNow, (near[1].Oxic-near[0].Oxic)*layers.DaysPerMonth, 0.1)
		}
	}
}

// TestRecords_areDocuments: whatever is typed, a logbook takes it.
func TestRecords_areDocuments(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	var records []layers.Tank
	for _, w := range Worlds() {
		for i := range 5 {
			records = append(records, w.Draw(rng, i).Record)
		}
	}
	for i := range 20 {
		tank := Kept(rng, i)
		perfect := tank.Perfect()
		perfect.ID += " perfect"
		records = append(records, tank.Record, perfect, Rise{Days: 90, Power: 1.5, Every: 14, Stations: 2}.Draw(rng, i).Record)
	}
	var document bytes.Buffer
	if err := layers.Encode(&document, records); err != nil {
		t.Fatal(err)
	}
	if _, err := layers.Decode(&document, testbeds.Day("2030-01-01")); err != nil {
		t.Error(err)
	}
}

// TestRise_ends: at the end of a rise what is left above the black is a millimetre, as far as a keeper
// can tell.
func TestRise_ends(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for i := range 20 {
		l := Rise{Days: 45, Power: 1, Every: 1, Stations: 3}.Draw(rng, i)
		for _, core := range l.Record.Cores {
			if top := core.Layers[0].ThicknessMM; core.Date == l.End && top > 6 {
				t.Errorf("lead-up %d: %g mm on the last day, want about %d", i, top, riseEnd)
			}
		}
	}
}

// TestNarrowest_places: with next to no noise, what is left in doubt is how the stations stand to the
// floor, by their offsets and their rates: as much as the spread of the places over the root of the
// stations' number.
func TestNarrowest_places(t *testing.T) {
	b := newBed(rand.New(rand.NewPCG(4, 4)), World{Months: 24, Differ: 0.1})
	b.noise, b.rate = 0.01, 2
	var sights []Sight
	for station := range 4 {
		for _, day := range b.days {
			for range 200 { // little rounding left
				sights = append(sights, Sight{Station: station, Month: b.month(day)})
			}
		}
	}
	w := b.narrowest(sights, 4, Truth{}, true)
	now := b.month(b.days[len(b.days)-1])
	spread := func(sd float64) float64 { return 2 * 1.645 * sd / math.Sqrt(4) }
	offset, grown := rms(offsetLow, offsetHigh), 0.1*b.rate*now
	testbeds.Near(t, "growth", w.Growth, spread(0.1*b.rate), 0.02)
	testbeds.Near(t, "mulm", w.Mulm, spread(math.Hypot(offset, grown)), 0.1)
	testbeds.Near(t, "oxic", w.Oxic, spread(math.Sqrt(2*offset*offset+grown*grown+math.Pow(0.1*b.front*now, 2))), 0.1)
	if !math.IsInf(w.Reached, 1) {
		t.Errorf("the limit in doubt by %.1f months, want infinite: it is never reached", w.Reached)
	}
}

// TestRival_fit: on a line whose readings stray in turn, value and slope are those of the line, and their
// errors those of the textbook: s²/n and s²/Σ(t−t̄)², here with the value at the last reading.
func TestRival_fit(t *testing.T) {
	var months, mm []float64
	for i := range 8 {
		months = append(months, float64(i))
		mm = append(mm, 5+2*float64(i)+[]float64{0.5, -0.5, -0.5, 0.5}[i%4])
	}
	value, slope, valueErr, slopeErr, ok := Rival{0, 1}.fit(months, mm)
	if !ok {
		t.Fatal("eight readings are too few")
	}
	variance := 8*0.25/6 + 1.0/12
	testbeds.Near(t, "value", value, 19, 1e-9)
	testbeds.Near(t, "slope", slope, 2, 1e-9)
	testbeds.Near(t, "error of the slope", slopeErr, math.Sqrt(variance/42), 1e-9)
	testbeds.Near(t, "error of the value", valueErr, math.Sqrt(variance*(1.0/8+3.5*3.5/42)), 1e-9)
	if _, _, _, _, ok := (Rival{2, 1}).fit(months, mm); ok {
		t.Error("three readings give a line with an error")
	}
}
