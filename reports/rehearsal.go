package reports

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
)

// RehearsalFormat names the JSON form of a Rehearsal.
const RehearsalFormat = "panecore-rehearsal/1"

// Rehearsal is what a stir or a siphoning would do to a tank as it was last read.
type Rehearsal struct {
	Format   string         `json:"format"`
	ID       string         `json:"id"`
	Name     string         `json:"name"`
	AsOf     layers.Date    `json:"as_of"`
	Method   Method         `json:"method"`
	Share    float64        `json:"share"`           // of the floor
	DepthMM  float64        `json:"depth_mm"`        // below the bed surface
	Within   float64        `json:"within"`          // share of the draws that stay within every limit
	Before   float64        `json:"within_before"`   // share of the draws in which the water is within them untouched
	Never    string         `json:"never,omitempty"` // why it is not to be done, whatever the numbers; empty: nothing
	Numbers  []Rehearsed    `json:"numbers"`
	Largest  []LargestShare `json:"largest_shares"`
	Doubt    []Influence    `json:"doubt"`   // the two inputs that carry most of it
	Steps    []string       `json:"steps"`   // how to do it; empty unless it is fine
	Instead  []string       `json:"instead"` // what helps where it is not
	Cautions []string       `json:"cautions"`
	Notices  []string       `json:"notices"`
}

// Rehearsed is one number of the water after the disturbance. Limit is nil where none
// is kept to here; Within is the share of the draws that keep to it.
type Rehearsed struct {
	Name   string    `json:"name"`
	Key    string    `json:"key"`
	Unit   string    `json:"unit"`
	After  *Estimate `json:"after"` // nil: not known
	Limit  *float64  `json:"limit"`
	Below  bool      `json:"limit_is_least"` // the number must not fall below its limit
	Source string    `json:"limit_source,omitempty"`
	Within *float64  `json:"within"`
}

// LargestShare is the largest share of the floor that stays within every limit in 95 %
// of the draws, with the water as it is and with an air stone running.
type LargestShare struct {
	Method  Method  `json:"method"`
	DepthMM float64 `json:"depth_mm"`
	Share   float64 `json:"share"`
	Aerated float64 `json:"share_aerated"`
}

// Influence is how an input goes with the largest share: Spearman's rank correlation.
type Influence struct {
	Input       string  `json:"input"`
	Correlation float64 `json:"rank_correlation"`
}

// InputError says what a rehearsal or an oxygen profile lacks: what was found and what
// is wanted.
type InputError struct{ Where, Found, Want string }

func (e *InputError) Error() string { return e.Where + ": found " + e.Found + ", want " + e.Want }

// rehearsed are the numbers of every draw, by Rehearsal.Numbers.
type rehearsed struct {
	chem    *chemistry
	o       *outlook
	numbers [8][]float64
	inputs  [inputCount][]float64
	shares  []float64  // the largest, of the method and depth asked for
	largest [3]largest // by depth
	within  int
	before  int
}

// enough is the share of the draws that must stay within every limit (the project's
// definition).
const enough = 0.95

// Fine reports whether the disturbance can be done, as far as is known.
func (r Rehearsal) Fine() bool { return r.Never == "" && r.Within >= enough }

// Troubled reports whether the water is likely over a limit before a hand goes in.
func (r Rehearsal) Troubled() bool { return r.Before < enough }

// Unknown are the numbers with a limit that nothing was measured for.
func (r Rehearsal) Unknown() (names []string) {
	for _, n := range r.Numbers {
		if n.Limit != nil && n.After == nil {
			names = append(names, n.Name)
		}
	}
	return names
}

// Rehearse works out a stir or a siphoning of a share of the floor, down to a depth in
// mm, for the tank as last read. Its error is an [InputError].
func Rehearse(tank layers.Tank, s Settings, m Method, share, depthMM float64) (Rehearsal, error) {
	var sim simulation
	o, _ := sim.judge(tank, s)
	return o.rehearse(s, m, share, depthMM)
}

// rehearse is Rehearse for a tank that has been judged.
func (o *outlook) rehearse(s Settings, m Method, share, depthMM float64) (Rehearsal, error) {
	forbidden := o.never[m].why
	o, drawers, err := o.physical(s)
	if err != nil {
		var lacking *InputError
		if errors.As(err, &lacking) && len(forbidden) > 0 {
			lacking.Want += ". And don't meanwhile: " + strings.Join(forbidden, " ")
		}
		return Rehearsal{}, err
	}
	if floor := o.floorMM(); !(depthMM > 0 && depthMM <= floor) {
		return Rehearsal{}, &InputError{"depth", o.say.Length(depthMM), "more than 0 and no more than the bed that was read, " + o.say.Length(floor)}
	}
	r := rehearsed{chem: o.chemistry, o: o}
	rng := newDice(s.Seed, o.tank.ID)
	depths := shareDepths(depthMM)
	for n := range s.Draws {
		rng.begin(n)
		still := o.standsStill(rng)
		for _, d := range drawers {
			d.stand(n)
		}
		r.draw(rng, still, m, share, depthMM, depths)
	}
	return r.tell(m, share, depthMM, depths, s), nil
}

// physical is the tank with a chemistry and drawers of its own, so that several may be drawn
// from one reading at once.
func (o *outlook) physical(s Settings) (*outlook, []*drawer, error) {
	own := *o
	where := fmt.Sprintf("tank %q", own.tank.ID)
	if len(own.newest) == 0 {
		return nil, nil, &InputError{where, "no core", "one that has been read"}
	}
	drawers := newDrawers(own.newest, own.tank.ID, s.Seed)
	if own.chemistry, own.missing = newChemistry(own.tank, own.facts, s.AltitudeM, drawers); own.chemistry == nil {
		return nil, nil, &InputError{where, "records without " + own.missing[0], "them: the physics stands on vessel and temperature"}
	}
	return &own, drawers, nil
}

// DeepestMM is how deep a tank can be rehearsed, mm: as far as the shallowest of the cores
// that it stands on was seen; 0 where there is none.
func DeepestMM(tank layers.Tank, s Settings) float64 {
	o := newOutlook(tank, s)
	if len(o.newest) == 0 {
		return 0
	}
	return o.floorMM()
}

// floorMM is the depth of the shallowest of the newest cores, mm.
func (o *outlook) floorMM() float64 {
	floor := math.Inf(1)
	for _, r := range o.newest {
		floor = min(floor, r.edges[len(r.edges)-1])
	}
	return floor
}

// shareDepths are the depths of the table of largest shares, mm: half, once and twice
// the one asked for.
func shareDepths(depthMM float64) [3]float64 { return [3]float64{depthMM / 2, depthMM, 2 * depthMM} }

// draw works out one draw.
func (r *rehearsed) draw(rng *dice, still bool, m Method, share, depthMM float64, depths [3]float64) {
	c := r.chem
	c.roll(rng, still)
	state := c.settle()
	whole := c.free(m, depthMM)
	after := c.ofShare(whole, share)
	water := c.water(state)
	numbers := [...]float64{
		after.totalAmmonia, after.ammonia, after.sulfide, after.sulfideDay, after.fastDebt, after.fullDebt,
		water.OxygenAfter(after.release, 1*bed.Hour), water.OxygenAfter(after.release, 1),
	}
	for i, x := range numbers {
		r.numbers[i] = append(r.numbers[i], x)
	}
	dips := water.Dips(1)
	largest := c.shareWithin(whole, state, &dips, &r.o.limits)
	if largest >= 0 {
		r.before++
	}
	if largest >= share {
		r.within++
	}
	r.shares = append(r.shares, max(0, largest))
	for i, z := range c.draw.inputs {
		r.inputs[i] = append(r.inputs[i], z)
	}
	aerated := c.settleMoved(bed.Aerated)
	aeratedDips := c.water(aerated).Dips(1)
	for i, depth := range depths {
		stirred := c.free(MethodStir, depth)
		r.largest[i].add(c.largestShare(stirred, state, &dips, &r.o.limits),
			c.largestShare(stirred, aerated, &aeratedDips, &r.o.limits), c.draw.siphonReaching)
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
func (r *rehearsed) tell(m Method, share, depthMM float64, depths [3]float64, s Settings) Rehearsal {
	o := r.o
	out := Rehearsal{
		Format: RehearsalFormat, ID: o.tank.ID, Name: cmp.Or(o.tank.Name, o.tank.ID), AsOf: o.asOf,
		Method: m, Share: share, DepthMM: depthMM, Within: round(float64(r.within)/float64(s.Draws), shareDigits), Before: round(float64(r.before)/float64(s.Draws), shareDigits),
		Cautions: o.cautions(m.action()), Notices: []string{},
	}
	out.Doubt = r.doubt()
	oxygen := o.limits[layers.LimitOxygen].value
	out.Numbers = []Rehearsed{
		r.number(0, "total ammonia", "total_ammonia_mg_l", "mg N/L", nil, false, ""),
		r.number(1, "un-ionised ammonia, at the day's highest pH", "unionised_ammonia_mg_l", "mg N/L", &o.limits[layers.LimitAmmonia].value, false, layers.LimitAmmonia.Rule().Source),
		r.number(2, "hydrogen sulphide, at once", "hydrogen_sulphide_mg_l", "mg H2S/L", nil, false, ""),
		r.number(3, "hydrogen sulphide, mean of a day", "hydrogen_sulphide_day_mg_l", "mg H2S/L", ptrTo(bed.SulfideLimitH2S), false, "USEPA 1986, Quality Criteria for Water: chronic, fresh water"),
		r.number(4, "oxygen debt, within hours", "fast_oxygen_debt_mg_l", "mg/L", nil, false, ""),
		r.number(5, "oxygen debt, in all", "full_oxygen_debt_mg_l", "mg/L", nil, false, ""),
		r.number(6, "oxygen left after an hour", "oxygen_1h_mg_l", "mg/L", &oxygen, true, layers.LimitOxygen.Rule().Source),
		r.number(7, "oxygen left after a day", "oxygen_24h_mg_l", "mg/L", &oxygen, true, layers.LimitOxygen.Rule().Source),
	}
	for i, depth := range depths {
		if depth <= o.floorMM() {
			l := &r.largest[i]
			out.Largest = append(out.Largest,
				LargestShare{MethodSiphon, depth, surely(l.siphon), surely(l.siphonAerated)},
				LargestShare{MethodStir, depth, surely(l.stir), surely(l.stirAerated)})
		}
	}
	asked := &r.largest[1] // the depth asked for stands in the middle
	possible := surely(asked.siphonAerated)
	if m == MethodStir {
		possible = surely(asked.stirAerated)
	}
	usual := o.limits[layers.LimitSiphonShare].value
	never := o.never[m]
	out.Never = strings.Join(never.why, " ")
	out.Steps, out.Instead = []string{}, []string{}
	switch {
	case out.Fine():
		out.Steps = steps(m, share, usual)
	case out.Never == "":
		out.Instead = lesser(math.Min(possible, usual))
	case m == MethodStir && len(o.never[MethodSiphon].why) == 0:
		out.Instead = append([]string{"Rehearse a siphoning of the loose top."}, never.instead...)
	default:
		out.Instead = append(out.Instead, never.instead...)
	}
	if o.chemistry.highPH == 0 {
		out.Notices = append(out.Notices, fmt.Sprintf("No pH of the last %d days: un-ionised ammonia and hydrogen sulphide are not known and limit nothing here.", staleWaterDays))
	}
	if o.chemistry.ammonia == nil {
		out.Notices = append(out.Notices, "No ammonia was measured: what was there before is counted as none.")
	}
	if share > usual {
		out.Notices = append(out.Notices, fmt.Sprintf(
			"%.0f %% of the floor is more than the %.0f %% at a time that the advice keeps to: do it in turns, two to four weeks apart.", 100*share, 100*usual))
	}
	out.Notices = append(out.Notices,
		"This is meant as an upper bound: all freed at once and mixed, nothing taken up by plants or bacteria; pore water and iron sulphide are assumed ranges, not measured in this tank.")
	return out
}

// surely is the share that 95 % of the draws allow.
func surely(shares []float64) float64 { return round(quantile(shares, 0.05), 3) }

func ptrTo(x float64) *float64 { return &x }

// number is one of the numbers, nil where it was not known.
func (r *rehearsed) number(i int, name, key, unit string, limit *float64, below bool, source string) Rehearsed {
	n := Rehearsed{Name: name, Key: key, Unit: unit, Limit: limit, Below: below, Source: source}
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
		n.Within = ptrTo(round(float64(kept)/float64(len(draws)), shareDigits))
	}
	e := spread(draws)
	e.Basis = Model
	n.After = e.rounded(ammoniaDigits)
	return n
}

// doubt names the two inputs that go most closely with the largest share.
func (r *rehearsed) doubt() []Influence {
	list := make([]Influence, inputCount)
	want := ranks(r.shares)
	for i := range list {
		list[i] = Influence{inputNames[i], round(correlation(ranks(r.inputs[i]), want), 2)}
	}
	slices.SortStableFunc(list, func(a, b Influence) int {
		return cmp.Compare(math.Abs(b.Correlation), math.Abs(a.Correlation))
	})
	return slices.DeleteFunc(list[:2], func(i Influence) bool { return math.Abs(i.Correlation) < leastCorrelation })
}

// leastCorrelation is the least rank correlation that is worth a name (assumption).
const leastCorrelation = 0.1

// lesser is what helps where a disturbance does not stay within the limits; possible is the
// share of the floor that does with an air stone running (common practice, no source).
func lesser(possible float64) []string {
	list := []string{aerate, testWater, changeWater}
	if possible >= leastShare {
		return append(list, fmt.Sprintf("Then rehearse it again, with a smaller share or a shallower depth: with an air stone running %.0f %% of the floor stays within the limits.", math.Floor(100*possible)))
	}
	return append(list, "Rehearse it again, less deep, when the water has come right: as it stands, not even with an air stone does a share worth the hand stay within the limits.")
}

// steps is the careful way of doing a share of the floor, no more than the usual share at a
// time (common practice, no source).
func steps(m Method, share, usual float64) []string {
	list := []string{
		"Early in the lit hours, fed nothing that day. " + testWater,
		"Set an air stone going an hour before, and leave it in for two days.",
	}
	atMost := fmt.Sprintf("no more than %.3g %% of the floor", 100*min(share, usual))
	if share > usual {
		atMost += fmt.Sprintf(" at a time, %.3g %% in all, two to four weeks apart", 100*share)
	}
	if m == MethodSiphon {
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
