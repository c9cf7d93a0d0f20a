// Package rehearsal works out what a stir or a siphoning would do to a tank's water, and the
// oxygen of its day from the surface down into the bed.
package rehearsal

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rules"
	"panecore/reports/stats"
)

// rehearsed are the numbers of every draw, by Rehearsal.Numbers.
type rehearsed struct {
	*rules.Case
	chem    *infer.Chemistry
	method  reports.Method
	share   float64 // of the floor
	depthMM float64
	draws   int
	never   rules.Veto // of the method

	numbers [8][]float64
	inputs  [infer.InputCount][]float64
	shares  []float64  // the largest, of the method and depth asked for
	largest [3]largest // by depth
	within  int
	before  int
}

// Rehearse works out a stir or a siphoning of a share of the floor, down to a depth in mm, for
// a tank that has been judged. Its error is an [InputError].
func Rehearse(of *rules.Case, s reports.Settings, m reports.Method, share, depthMM float64) (reports.Rehearsal, error) {
	never := of.Vetoes(m)
	chemistry, lacking := physical(of.Outlook, s)
	if lacking != nil {
		if len(never.Why) > 0 {
			lacking.Want += ". And don't meanwhile: " + strings.Join(never.Why, " ")
		}
		return reports.Rehearsal{}, lacking
	}
	if floor := of.FloorMM(); !(depthMM > 0 && depthMM <= floor) {
		return reports.Rehearsal{}, &reports.InputError{Where: "depth", Found: of.Units.Length(depthMM), Want: "more than 0 and no more than the bed that was read, " + of.Units.Length(floor)}
	}
	r := rehearsed{Case: of, chem: chemistry, method: m, share: share, depthMM: depthMM, draws: s.Draws, never: never}
	for range chemistry.Draws(of.Tank.ID, s) {
		r.add()
	}
	return r.tell(), nil
}

// physical is a chemistry of the tank for one use, or what it lacks.
func physical(o *infer.Outlook, s reports.Settings) (*infer.Chemistry, *reports.InputError) {
	where := fmt.Sprintf("tank %q", o.Tank.ID)
	if len(o.Newest) == 0 {
		return nil, &reports.InputError{Where: where, Found: "no core", Want: "one that has been read"}
	}
	c, missing := o.Physics(s)
	if c == nil {
		return nil, &reports.InputError{Where: where, Found: "records without " + missing[0], Want: "them: the physics stands on vessel and temperature"}
	}
	return c, nil
}

// shareDepths are the depths of the table of largest shares, mm: half, once and twice
// the one asked for.
func shareDepths(depthMM float64) [3]float64 { return [3]float64{depthMM / 2, depthMM, 2 * depthMM} }

// add works out the draw at hand.
func (r *rehearsed) add() {
	c := r.chem
	state := c.Settle()
	whole := c.Free(r.method, r.depthMM)
	after := c.OfShare(whole, r.share)
	water := c.Water(state)
	numbers := [...]float64{
		after.TotalAmmonia, after.Ammonia, after.Sulfide, after.SulfideDay, after.FastDebt, after.FullDebt,
		water.OxygenAfter(after.Release, 1*bed.Hour), water.OxygenAfter(after.Release, 1),
	}
	for i, x := range numbers {
		r.numbers[i] = append(r.numbers[i], x)
	}
	dips := water.Dips(1)
	largest := c.ShareWithin(whole, state, &dips)
	if largest >= 0 {
		r.before++
	}
	if largest >= r.share {
		r.within++
	}
	r.shares = append(r.shares, max(0, largest))
	for i, z := range c.Draw.Inputs {
		r.inputs[i] = append(r.inputs[i], z)
	}
	aerated := c.SettleMoved(bed.Aerated)
	aeratedDips := c.Water(aerated).Dips(1)
	for i, depth := range shareDepths(r.depthMM) {
		stirred := c.Free(reports.MethodStir, depth)
		r.largest[i].add(c.LargestShare(stirred, state, &dips),
			c.LargestShare(stirred, aerated, &aeratedDips), c.Draw.SiphonReaching)
	}
}

// largest are the largest shares at one depth, draw by draw.
type largest struct{ stir, stirAerated, siphon, siphonAerated []float64 }

// add notes a draw's largest shares for stirring; a siphon leaves a part of the same in
// the water.
func (l *largest) add(stir, aerated, reaching float64) {
	l.stir, l.stirAerated = append(l.stir, stir), append(l.stirAerated, aerated)
	l.siphon, l.siphonAerated = append(l.siphon, min(1, stir/reaching)), append(l.siphonAerated, min(1, aerated/reaching))
}

// tell turns the draws into the rehearsal.
func (r *rehearsed) tell() reports.Rehearsal {
	out := reports.Rehearsal{
		Format: reports.RehearsalFormat, ID: r.Tank.ID, Name: cmp.Or(r.Tank.Name, r.Tank.ID), AsOf: r.AsOf,
		Method: r.method, Share: r.share, DepthMM: r.depthMM, Within: reports.Round(float64(r.within)/float64(r.draws), reports.ShareDigits), Before: reports.Round(float64(r.before)/float64(r.draws), reports.ShareDigits),
		Cautions: r.Cautions(r.method.Action()), Notices: []string{},
	}
	out.Doubt = r.doubt()
	ammonia, oxygen := r.Limit(layers.LimitAmmonia), r.Limit(layers.LimitOxygen)
	out.Numbers = []reports.Rehearsed{
		r.number(0, "total ammonia", "total_ammonia_mg_l", "mg N/L", nil, false, ""),
		r.number(1, "un-ionised ammonia, at the day's highest pH", "unionised_ammonia_mg_l", "mg N/L", &ammonia, false, layers.LimitAmmonia.Rule().Source),
		r.number(2, "hydrogen sulphide, at once", "hydrogen_sulphide_mg_l", "mg H2S/L", nil, false, ""),
		r.number(3, "hydrogen sulphide, mean of a day", "hydrogen_sulphide_day_mg_l", "mg H2S/L", new(bed.SulfideLimitH2S), false, "USEPA 1986, Quality Criteria for Water: chronic, fresh water"),
		r.number(4, "oxygen debt, within hours", "fast_oxygen_debt_mg_l", "mg/L", nil, false, ""),
		r.number(5, "oxygen debt, in all", "full_oxygen_debt_mg_l", "mg/L", nil, false, ""),
		r.number(6, "oxygen left after an hour", "oxygen_1h_mg_l", "mg/L", &oxygen, true, layers.LimitOxygen.Rule().Source),
		r.number(7, "oxygen left after a day", "oxygen_24h_mg_l", "mg/L", &oxygen, true, layers.LimitOxygen.Rule().Source),
	}
	for i, depth := range shareDepths(r.depthMM) {
		if depth <= r.FloorMM() {
			l := &r.largest[i]
			out.Largest = append(out.Largest,
				reports.LargestShare{Method: reports.MethodSiphon, DepthMM: depth, Share: surely(l.siphon), Aerated: surely(l.siphonAerated)},
				reports.LargestShare{Method: reports.MethodStir, DepthMM: depth, Share: surely(l.stir), Aerated: surely(l.stirAerated)})
		}
	}
	asked := &r.largest[1] // the depth asked for stands in the middle
	possible := surely(asked.siphonAerated)
	if r.method == reports.MethodStir {
		possible = surely(asked.stirAerated)
	}
	usual := r.Limit(layers.LimitSiphonShare)
	out.Never = strings.Join(r.never.Why, " ")
	out.Steps, out.Instead = []string{}, []string{}
	switch {
	case out.Fine():
		out.Steps = steps(r.method, r.share, usual)
	case out.Never == "":
		out.Instead = lesser(math.Min(possible, usual))
	case r.method == reports.MethodStir && len(r.Vetoes(reports.MethodSiphon).Why) == 0:
		out.Instead = append([]string{"Rehearse a siphoning of the loose top."}, r.never.Instead...)
	default:
		out.Instead = append(out.Instead, r.never.Instead...)
	}
	if r.chem.HighPH == 0 {
		out.Notices = append(out.Notices, fmt.Sprintf("No pH of the last %d days: un-ionised ammonia and hydrogen sulphide are not known and limit nothing here.", infer.StaleWaterDays))
	}
	if r.chem.Ammonia == nil {
		out.Notices = append(out.Notices, "No ammonia was measured: what was there before is counted as none.")
	}
	if r.share > usual {
		out.Notices = append(out.Notices, fmt.Sprintf(
			"%.0f %% of the floor is more than the %.0f %% at a time that the advice keeps to: do it in turns, two to four weeks apart.", 100*r.share, 100*usual))
	}
	out.Notices = append(out.Notices,
		"This is meant as an upper bound: all freed at once and mixed, nothing taken up by plants or bacteria; pore water and iron sulphide are assumed ranges, not measured in this tank.")
	return out
}

// surely is the share that 95 % of the draws allow.
func surely(shares []float64) float64 { return reports.Round(stats.Quantile(shares, 0.05), 3) }

// number is one of the numbers, nil where it was not known.
func (r *rehearsed) number(i int, name, key, unit string, limit *float64, below bool, source string) reports.Rehearsed {
	n := reports.Rehearsed{Name: name, Key: key, Unit: unit, Limit: limit, Below: below, Source: source}
	draws := r.numbers[i]
	if math.IsNaN(draws[0]) {
		return n
	}
	if limit != nil {
		kept := 0
		for _, x := range draws {
			if x <= *limit != below || x == *limit {
				kept++
			}
		}
		n.Within = new(reports.Round(float64(kept)/float64(len(draws)), reports.ShareDigits))
	}
	e := stats.Spread(draws)
	e.Basis = reports.Model
	n.After = e.Rounded(reports.AmmoniaDigits)
	return n
}

// doubt names the two inputs that go most closely with the largest share.
func (r *rehearsed) doubt() []reports.Influence {
	list := make([]reports.Influence, infer.InputCount)
	want := stats.Ranks(r.shares)
	for i := range list {
		list[i] = reports.Influence{Input: infer.InputNames[i], Correlation: reports.Round(stats.Correlation(stats.Ranks(r.inputs[i]), want), 2)}
	}
	slices.SortStableFunc(list, func(a, b reports.Influence) int {
		return cmp.Compare(math.Abs(b.Correlation), math.Abs(a.Correlation))
	})
	return slices.DeleteFunc(list[:2], func(i reports.Influence) bool { return math.Abs(i.Correlation) < leastCorrelation })
}

// leastCorrelation is the least rank correlation that is worth a name (assumption).
const leastCorrelation = 0.1

// lesser is what helps where a disturbance does not stay within the limits; possible is the
// share of the floor that does with an air stone running (common practice, no source).
func lesser(possible float64) []string {
	list := []string{rules.Aerate, rules.TestWater, rules.ChangeWater}
	if possible >= infer.LeastShare {
		return append(list, fmt.Sprintf("Then rehearse it again, with a smaller share or a shallower depth: with an air stone running %.0f %% of the floor stays within the limits.", math.Floor(100*possible)))
	}
	return append(list, "Rehearse it again, less deep, when the water has come right: as it stands, not even with an air stone does a share worth the hand stay within the limits.")
}

// steps is the careful way of doing a share of the floor, no more than the usual share at a
// time (common practice, no source).
func steps(m reports.Method, share, usual float64) []string {
	list := []string{
		"Early in the lit hours, fed nothing that day. " + rules.TestWater,
		"Set an air stone going an hour before, and leave it in for two days.",
	}
	atMost := fmt.Sprintf("no more than %.3g %% of the floor", 100*min(share, usual))
	if share > usual {
		atMost += fmt.Sprintf(" at a time, %.3g %% in all, two to four weeks apart", 100*share)
	}
	if m == reports.MethodSiphon {
		list = append(list,
			"Hover the hose 1 to 2 cm above the bed; take the loose top only, and stop where black shows.",
			fmt.Sprintf("Take %s, and make up the water with matched, chlorine-free water.", atMost))
	} else {
		list = append(list,
			"Draw a thin stick or a comb through the top only, slowly, a strip at a time; stop where black shows or it smells of eggs.",
			fmt.Sprintf("Do %s.", atMost))
	}
	return append(list, "Watch the animals for an hour; test ammonia and oxygen again the next dawn.", "Leave the rest for two to four weeks.")
}
