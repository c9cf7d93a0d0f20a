// Package rehearsal works out what stirring or siphoning would do to a tank's water, and the oxygen
// of its day from the surface down into the bed.
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

// rehearsed collects the draws of a rehearsal.
type rehearsed struct {
	*rules.Case
	chem    *infer.Chemistry
	method  reports.Method
	share   float64 // of the floor
	depthMM float64
	draws   int
	never   rules.Veto // of the method

	numbers [8][]float64 // as Rehearsal.Numbers
	inputs  [infer.InputCount][]float64
	shares  []float64  // the largest, of the method and depth asked for
	largest [3]largest // by depth
	within  int        // draws that stay within every limit
	before  int        // draws in which the water is within them untouched
}

// Rehearse works out stirring or siphoning a share of the floor, 0 to 1, down to a depth in mm, for
// a tank that has been judged. Its error is a [reports.InputError].
func Rehearse(of *rules.Case, s reports.Settings, m reports.Method, share, depthMM float64) (reports.Rehearsal, error) {
	never := of.Vetoes(m)
	chemistry, lacking := physical(of.Outlook, s)
	if lacking != nil {
		if len(never.Why) > 0 {
			lacking.Want += ". Until then, don't: " + strings.Join(never.Why, " ")
		}
		return reports.Rehearsal{}, lacking
	}
	if floor := of.FloorMM(); !(depthMM > 0 && depthMM <= floor) {
		return reports.Rehearsal{}, &reports.InputError{Where: "depth", Found: of.Units.Length(depthMM), Want: "more than 0 and at most the depth of the bed as read, " + of.Units.Length(floor)}
	}
	r := rehearsed{Case: of, chem: chemistry, method: m, share: share, depthMM: depthMM, draws: s.Draws, never: never}
	for range chemistry.Draws(of.Tank.ID, s) {
		r.add()
	}
	return r.result(), nil
}

// physical is a chemistry of the tank for one use, or what the tank lacks for it.
func physical(o *infer.Outlook, s reports.Settings) (*infer.Chemistry, *reports.InputError) {
	where := fmt.Sprintf("tank %q", o.Tank.ID)
	if len(o.Newest) == 0 {
		return nil, &reports.InputError{Where: where, Found: "no core", Want: "at least one"}
	}
	c, missing := o.Physics(s)
	if c == nil {
		return nil, &reports.InputError{Where: where, Found: "no record of " + missing[0], Want: "vessel and temperature, which the physics needs"}
	}
	return c, nil
}

// shareDepths are the depths of the table of largest shares, mm: half, once and twice
// the one asked for.
func shareDepths(depthMM float64) [3]float64 { return [3]float64{depthMM / 2, depthMM, 2 * depthMM} }

// add works out one draw.
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

// add appends a draw's largest shares for stirring; a siphon leaves only a part of the same release
// in the water.
func (l *largest) add(stir, aerated, reaching float64) {
	l.stir, l.stirAerated = append(l.stir, stir), append(l.stirAerated, aerated)
	l.siphon, l.siphonAerated = append(l.siphon, min(1, stir/reaching)), append(l.siphonAerated, min(1, aerated/reaching))
}

// result turns the draws into the rehearsal.
func (r *rehearsed) result() reports.Rehearsal {
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
	asked := &r.largest[1] // of the depth asked for
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
		out.Instead = append([]string{"Rehearse siphoning the loose top."}, r.never.Instead...)
	default:
		out.Instead = append(out.Instead, r.never.Instead...)
	}
	if r.chem.HighPH == 0 {
		out.Notices = append(out.Notices, fmt.Sprintf("No pH was measured in the last %d days: un-ionised ammonia and hydrogen sulphide are not known and limit nothing here.", infer.StaleWaterDays))
	}
	if r.chem.Ammonia == nil {
		out.Notices = append(out.Notices, "No ammonia was measured: the water is assumed to have held none before.")
	}
	if r.share > usual {
		out.Notices = append(out.Notices, fmt.Sprintf(
			"%.0f %% of the floor is more than the %.0f %% that the advice allows at a time: do it in turns, two to four weeks apart.", 100*r.share, 100*usual))
	}
	out.Notices = append(out.Notices,
		"This is meant as an upper bound: everything is freed at once and mixed, and plants and bacteria take up nothing. Pore water and iron sulphide are assumed ranges, not measured in this tank.")
	return out
}

// surely is the share that 95 % of the draws allow.
func surely(shares []float64) float64 { return reports.Round(stats.Quantile(shares, 0.05), 3) }

// number is one of the numbers; its After is nil if it is not known.
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

// doubt names the two inputs most closely correlated with the largest share.
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

// leastCorrelation is the least rank correlation worth mentioning (assumption).
const leastCorrelation = 0.1

// lesser is what helps if a disturbance does not stay within the limits; possible is the share of
// the floor that does with an air stone running (common practice, no source).
func lesser(possible float64) []string {
	list := []string{rules.Aerate, rules.TestWater, rules.ChangeWater}
	if possible >= infer.LeastShare {
		return append(list, fmt.Sprintf("Then rehearse it again, with a smaller share or a shallower depth: with an air stone running, %.0f %% of the floor stays within the limits.", math.Floor(100*possible)))
	}
	return append(list, "Rehearse it again, less deep, when the water is right again: as it is, no share worth the effort stays within the limits, not even with an air stone.")
}

// steps are the careful way to do a share of the floor, no more than the usual share at a time
// (common practice, no source).
func steps(m reports.Method, share, usual float64) []string {
	list := []string{
		"Start soon after the lights come on, and feed nothing that day. " + rules.TestWater,
		"Start an air stone an hour before, and leave it running for two days.",
	}
	atMost := fmt.Sprintf("no more than %.3g %% of the floor", 100*min(share, usual))
	if share > usual {
		atMost += fmt.Sprintf(" at a time, %.3g %% in all, two to four weeks apart", 100*share)
	}
	if m == reports.MethodSiphon {
		list = append(list,
			"Hold the hose 1 to 2 cm above the bed, take only the loose top, and stop where black shows.",
			fmt.Sprintf("Take %s, and refill with matched, chlorine-free water.", atMost))
	} else {
		list = append(list,
			"Draw a thin stick or a comb through the top only, slowly, one strip at a time. Stop where black shows or it smells of eggs.",
			fmt.Sprintf("Do %s.", atMost))
	}
	return append(list, "Watch the animals for an hour. Test ammonia and oxygen again at dawn the next day.", "Leave the rest for two to four weeks.")
}
