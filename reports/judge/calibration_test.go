package judge

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/internal/testworlds"
	"panecore/reports/stats"
)

// The bounds that findings about simulated tanks are held to, in parts of a hundred where not said
// otherwise. They are what a keeper may ask for, not what was measured.
const (
	heldLeast, heldMost = 85, 97 // of the 90 % intervals hold the truth
	heldLeastUntold     = 80     // where siphonings were not entered
	widest              = 1.5    // times the narrowest honest interval that could be constructed, at the median
	sureRight           = 97     // of the decisions that are all but certain are those under the truth
	allButCertain       = 0.99   // of the draws
	strays, straysAbove = 3, 1.4 // what a share of 85 and of 97 % of 600 tanks strays by, two standard errors
	straysShort         = 10     // and of the few tanks with -short, where as many as all may hold
	toldSlow            = 90     // of the rises of 90 to 150 days are told aheadDays before their end
	toldFast            = 75     // of those of 45 days, read fortnightly, before their last day
	aheadDays           = 30     // days
	falselyTold         = 10     // of the healthy tanks at most, on any day that counts
	siphonedForSlips    = 10     // of the healthy tanks at most, with less than shallowMM of mulm
	shallowMM           = 40     // mm
)

// beyond are those that are more than widest times as wide as for who knows the law: growth that has levelled off is known to nearly nothing by who
// knows that it has, and not by who must reckon with any drift; how far rates of 30 % spread a date out, two
// or three stations do not tell; and of the tanks in mixtures half have layers whose names are in doubt.
var beyond = map[[2]string]float64{
	{"growth levels off", "growth"}: 8, {"growth levels off", "front shift"}: 4, {"rates differ by 30 %", "limit date"}: 2,
	{"mixtures", ""}: 2,
}

// scaled is one number with -short and another without.
func scaled(few, many int) int {
	if testing.Short() {
		return few
	}
	return many
}

// A sort is tanks of one world. Kept ones have none: they are held back, see testworlds.Kept.
type sort struct {
	name  string
	tanks []testworlds.Tank
}

const keptName, untoldName = "kept back", "siphonings not recorded"

// drawSorts draws so many tanks of every world, and of those held back, each by its own seed.
func drawSorts(count int, seed uint64) (list []sort) {
	for i, w := range testworlds.Worlds() {
		rng, s := rand.New(rand.NewPCG(seed, uint64(i))), sort{name: w.Name}
		for id := range count {
			s.tanks = append(s.tanks, w.Draw(rng, id))
		}
		list = append(list, s)
	}
	rng, kept := rand.New(rand.NewPCG(0x6b657074, seed)), sort{name: keptName}
	for id := range count {
		kept.tanks = append(kept.tanks, testworlds.Kept(rng, id))
	}
	return append(list, kept)
}

func records(tanks []testworlds.Tank) (list []layers.Tank) {
	for _, tank := range tanks {
		list = append(list, tank.Record)
	}
	return list
}

// A tally is how intervals did beside the truth.
type tally struct {
	tried, held, told     int
	off                   float64 // sum of value less truth
	all, widths, ofOracle []float64
}

func (a *tally) coverage() float64 { return 100 * float64(a.held) / float64(a.tried) }

// width is the median.
func (a *tally) width() float64 { return stats.Quantile(a.all, 0.5) }

// ratio is that of the median width to the median of the oracle's.
func (a *tally) ratio() float64 {
	return stats.Quantile(a.widths, 0.5) / stats.Quantile(a.ofOracle, 0.5)
}

func (a *tally) compare(width, oracle float64) {
	a.all = append(a.all, width)
	if oracle > 0 {
		a.widths, a.ofOracle = append(a.widths, width), append(a.ofOracle, oracle)
	}
}

// hear holds an interval against the truth; none at all does not hold it.
func (a *tally) hear(e *reports.Estimate, truth, oracle float64) {
	a.tried++
	if e == nil {
		return
	}
	a.told++
	a.off += e.Value - truth
	if e.Low <= truth && (truth <= e.High || e.AtLeast) {
		a.held++
	}
	a.compare(e.High-e.Low, oracle)
}

// hearDate holds a forecast against the day on which the limit is reached; a tank that never reaches it
// (zero) says nothing, since an open end always holds that. Its widths and what it is off by are in months.
func (a *tally) hearDate(f *reports.Forecast, truth layers.Date, oracle float64) {
	if truth == 0 {
		return
	}
	a.tried++
	if f == nil {
		return
	}
	if f.Earliest != nil && *f.Earliest <= truth && (f.Latest == nil || truth <= *f.Latest) {
		a.held++
	}
	if f.Earliest != nil && f.Expected != nil && f.Latest != nil {
		a.told++
		a.off += truth.Months(*f.Expected)
		a.compare(f.Earliest.Months(*f.Latest), oracle)
	}
}

// asked are the numbers of the table, in its order.
var asked = [...]string{"oxic depth", "mulm", "growth", "front shift", "limit date", "growth, with the season", "shift, with the season"}

// hold lays what was found about tanks beside their truth.
func hold(tanks []testworlds.Tank, found []reports.Tank) (of [len(asked)]tally) {
	for i, f := range found {
		truth := tanks[i].Truth
		narrowest, _ := tanks[i].Narrowest()
		of[0].hear(f.OxicDepth, truth.Oxic, narrowest.Oxic)
		of[1].hear(f.Mulm, truth.Mulm, narrowest.Mulm)
		of[2].hear(f.Accumulation, truth.Growth, narrowest.Growth)
		of[3].hear(f.FrontShift, truth.Shift, narrowest.Shift)
		if !truth.Over() {
			of[4].hearDate(f.LimitReached, truth.Reached, narrowest.Reached)
		}
		of[5].hear(f.Accumulation, truth.GrowthNow, 0)
		of[6].hear(f.FrontShift, truth.ShiftNow, 0)
	}
	return of
}

// TestCalibration_intervals: how often 90 % intervals hold the truth, what they are off by on average, and
// how wide they are beside the narrowest honest ones that could be constructed, and beside those of who knows the
// law.
func TestCalibration_intervals(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "%-27s", "% held, off by, x rival, x oracle")
	for _, name := range asked[:5] {
		fmt.Fprintf(&table, " | %-23s", name)
	}
	sorts := drawSorts(scaled(60, 600), 900)
	open := sorts[:len(sorts)-1] // the last ones are held back: their coverage only, and no bound
	rivals := rivalWidths(open)
	for n, s := range sorts {
		found := Interpret(slices.Values(records(s.tanks)), reports.DefaultSettings()).Tanks
		of := hold(s.tanks, found)
		fmt.Fprintf(&table, "\n%-27s", s.name)
		for i, name := range asked[:5] {
			a := &of[i]
			if n == len(open) {
				fmt.Fprintf(&table, " | %5.1f                  ", a.coverage())
				continue
			}
			beside := a.width() / rivals[n][i]
			fmt.Fprintf(&table, " | %5.1f %+5.2f %5.2f %5.2f", a.coverage(), a.off/float64(max(1, a.told)), beside, a.ratio())
			checkCoverage(t, s.name, name, a.coverage())
			if !testing.Short() {
				checkWidth(t, s.name, name, beside, a.ratio())
			}
		}
		if s.name == "season" {
			fmt.Fprintf(&table, "\n%-27s | %23s | %23s | %5.1f %+6.2f            | %5.1f %+6.2f            |", "- with the season's slope", "", "",
				of[5].coverage(), of[5].off/float64(max(1, of[5].told)), of[6].coverage(), of[6].off/float64(max(1, of[6].told)))
		}
	}
	t.Logf("off by is in mm, mm/month and months\n%s", &table)
}

func checkCoverage(t *testing.T, world, name string, held float64) {
	t.Helper()
	least, most := float64(heldLeast), float64(heldMost)
	if world == untoldName {
		least = heldLeastUntold
	}
	least, most = least-strays, most+straysAbove
	if testing.Short() {
		least, most = least-straysShort, 100
	}
	if held < least || held > most {
		t.Errorf("%s, %s: %.1f %% held, want %g to %g", world, name, held, least, most)
	}
}

func checkWidth(t *testing.T, world, name string, beside, oracle float64) {
	t.Helper()
	if beside > widest {
		t.Errorf("%s, %s: %.2f times as wide as the narrowest honest interval, want %g at most", world, name, beside, widest)
	}
	if most := max(widest, beyond[[2]string{world, ""}], beyond[[2]string{world, name}]); oracle > most {
		t.Errorf("%s, %s: %.2f times as wide as for who knows the law, want %g at most", world, name, oracle, most)
	}
}

// TestCalibration_certainty: where hardly any draw says otherwise, the advice is the one that somebody gets
// who knows the floor.
func TestCalibration_certainty(t *testing.T) {
	var certain, right int
	var table strings.Builder
	for _, s := range drawSorts(scaled(10, 100), 901) {
		var sure []reports.Tank
		var perfect []layers.Tank
		for i, f := range Interpret(slices.Values(records(s.tanks)), reports.DefaultSettings()).Tanks {
			if f.Advice != nil && f.Advice.Confidence >= allButCertain {
				sure, perfect = append(sure, f), append(perfect, s.tanks[i].Perfect())
			}
		}
		var here, work int
		wrong := map[string]int{}
		for i, p := range Interpret(slices.Values(perfect), reports.DefaultSettings()).Tanks {
			if sure[i].Advice.Action != reports.Leave {
				work++
			}
			if p.Advice.Action == sure[i].Advice.Action {
				here++
			} else {
				wrong[fmt.Sprintf("%s for %s", sure[i].Advice.Action, p.Advice.Action)]++
			}
		}
		fmt.Fprintf(&table, "\n%-27s | %3d of %3d, %2d of them not to leave, %3d as under the truth; %v", s.name, len(sure), len(s.tanks), work, here, wrong)
		certain, right = certain+len(sure), right+here
	}
	share := 100 * float64(right) / float64(max(1, certain))
	t.Logf("all but certain: %d, as under the truth %.1f %%%s", certain, share, &table)
	if certain == 0 || share < sureRight {
		t.Errorf("of %d decisions that are all but certain %.1f %% are those under the truth, want %d", certain, share, sureRight)
	}
}
