package rules

import (
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// A rule is a name, where it comes from, what it speaks for, a test on the numbers
// of one draw, and a sentence on this tank. The first rule of the table that
// decides and holds settles a draw; the others are heard as reasons.
type rule struct {
	name      string
	mark      string
	action    reports.Action
	decides   bool
	distress  bool         // it is about signs of trouble, not about the bed by itself
	forbids   disturbances // whatever else speaks for it
	passed    bool         // a limit is passed, or something else is amiss
	rehearsed bool         // a rehearsal works it out for itself, by its own depth and share
	test      func(*infer.Truth) bool
	text      func(*Case) string
	first     []string
	next      int // days to the next reading, zero: no say
}

// disturbances are a set of the actions that put a hand into the bed.
type disturbances uint8

const (
	stirring disturbances = 1 << iota
	siphoning
)

// disturbancesOf are those of an action; none of leaving.
func disturbancesOf(a reports.Action) disturbances {
	switch a {
	case reports.Stir:
		return stirring
	case reports.Siphon:
		return siphoning
	}
	return 0
}

const (
	practice   = "common practice, no source"
	assumption = "assumption"
)

// beside is what a rule says of a number: over where the number, the middle of the draws, has
// passed its limit; perhaps, which does not name the number, where only some draws have.
func beside(passed bool, over, perhaps string) string {
	if passed {
		return over
	}
	return perhaps
}

var rules = [...]rule{
	{
		name: "young-bed", mark: "assumption: new beds blacken and lighten again as roots take hold", action: reports.Leave, decides: true, forbids: stirring | siphoning,
		test: func(t *infer.Truth) bool {
			return t.AgeDays >= 0 && float64(t.AgeDays) < t.DrawnLimit(layers.LimitYoungBed)
		},
		text: func(c *Case) string {
			if c.AgeDays == 0 {
				return "The bed was laid today and has yet to settle."
			}
			return fmt.Sprintf("The bed is %d days old and has yet to settle.", c.AgeDays)
		},
	},
	{
		name: "decay-in-still-water", mark: assumption, action: reports.Siphon, decides: true, distress: true, passed: true, next: 7,
		test: meltInStillWater,
		text: func(c *Case) string {
			return "Plants melt in still water (" + c.Recent[layers.PlantMelt].String() + "); what lies loose on top feeds the rot."
		},
		first: []string{takeOutDead, Aerate, TestWater},
	},
	{
		name: "decay", mark: assumption, action: reports.Leave, decides: true, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Decay() && !meltInStillWater(t) },
		text: func(c *Case) string {
			return "Signs of decay in the last weeks: " + c.signs(infer.DecaySigns()...) + ". See to the water before the bed."
		},
		first: []string{takeOutDead, Aerate, TestWater},
	},
	{
		name: "egg-smell", mark: practice, action: reports.Leave, decides: true, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Seen(layers.EggSmell) },
		text: func(c *Case) string {
			return "A smell of eggs (" + c.Recent[layers.EggSmell].String() + ") is hydrogen sulphide: no hand in the bed, and never stir it."
		},
		first: []string{Aerate, TestWater},
	},
	{
		name: "siphoned-lately", mark: practice, action: reports.Leave, decides: true, forbids: stirring | siphoning, next: 14,
		test: func(t *infer.Truth) bool { return t.Siphoned != 0 && t.AsOf-t.Siphoned < restDays },
		text: func(c *Case) string {
			return fmt.Sprintf("Last siphoned on %s: two to four weeks of rest between turns.", c.Siphoned)
		},
	},
	{
		name: "stirred-lately", mark: practice, action: reports.Leave, forbids: stirring | siphoning,
		test: func(t *infer.Truth) bool { return t.Stirred != 0 && t.AsOf-t.Stirred < restDays },
		text: func(c *Case) string {
			return fmt.Sprintf("Last stirred on %s: two to four weeks of rest between turns.", c.Stirred)
		},
	},
	{
		name: "worked-since-read", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Worked != nil },
		text: func(c *Case) string {
			return fmt.Sprintf("The bed was worked since the newest core (%s on %s): read it again before another hand goes in.", strings.ReplaceAll(string(c.Worked.Kind), "-", " "), c.Worked.Date)
		},
		first: []string{readAgain},
	},
	{
		name: "reading-too-old", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, passed: true,
		test: func(t *infer.Truth) bool { return t.ReadDays > oldReadingDays },
		text: func(c *Case) string {
			return fmt.Sprintf("The newest core was read on %s, %d days ago: read the bed again before a hand goes in.", c.LastRead(), c.ReadDays())
		},
		first: []string{readAgain},
	},
	{
		name: "reading-in-doubt", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Doubtful },
		text: func(c *Case) string {
			return "What was read is in doubt (" + infer.Listed(c.doubts()) + "), and there is no sound reading to go by: no hand in the bed on its word."
		},
		first: []string{readAgain},
	},
	{
		name: "deep-mulm", mark: practice, action: reports.Siphon, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Mulm > t.DrawnLimit(layers.LimitMulm) && !alive(t) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitMulm)
			return beside(c.Mulm.Value > c.Limit(layers.LimitMulm),
				fmt.Sprintf("Mulm stands at %s, limit %s.", c.besideLength(c.Mulm.Value, layers.LimitMulm), limit), "Mulm perhaps stands over its limit of "+limit+".")
		},
	},
	{
		name: "deep-mulm-in-a-living-bed", mark: assumption, action: reports.Siphon, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Mulm > t.DrawnLimit(layers.LimitLivingMulm) && alive(t) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitLivingMulm)
			return beside(c.Mulm.Value > c.Limit(layers.LimitLivingMulm),
				fmt.Sprintf("Mulm stands at %s, over %s even for a bed that feeds on it.", c.besideLength(c.Mulm.Value, layers.LimitLivingMulm), limit),
				"Mulm perhaps stands over "+limit+", too much even for a bed that feeds on it.")
		},
	},
	{
		name: "mulm-grows-fast", mark: assumption, action: reports.Siphon, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool {
			return t.Growth > t.DrawnLimit(layers.LimitAccumulation) && t.Mulm > t.DrawnLimit(layers.LimitMulm)/2
		},
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAccumulation)
			grows := beside(c.Growth.Value > c.Limit(layers.LimitAccumulation),
				fmt.Sprintf("Mulm grows by %s a month, over %s,", c.besideLength(c.Growth.Value, layers.LimitAccumulation), limit), "Mulm perhaps grows by more than "+limit+",")
			return grows + beside(c.Mulm.Value > c.Limit(layers.LimitMulm)/2, " and has passed half its limit.", " and has perhaps passed half its limit.")
		},
		first: []string{feedLess},
	},
	{
		name: "mulm-grows", mark: assumption, action: reports.Leave, passed: true, next: 14,
		test: func(t *infer.Truth) bool {
			return t.Growth > t.DrawnLimit(layers.LimitAccumulation) && t.Mulm <= t.DrawnLimit(layers.LimitMulm)/2
		},
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAccumulation)
			return beside(c.Growth.Value > c.Limit(layers.LimitAccumulation),
				fmt.Sprintf("Mulm grows by %s a month, over %s, though there is little of it yet.", c.besideLength(c.Growth.Value, layers.LimitAccumulation), limit),
				"Mulm perhaps grows by more than "+limit+", though there is little of it yet.")
		},
		first: []string{feedLess},
	},
	{
		name: "reduced-under-mulm", mark: assumption, action: reports.Siphon, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && covered(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("Under the mulm the reduced zone begins within %s of the surface.", c.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "bare-sand-blackens", mark: practice, action: reports.Stir, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && !covered(t) && thinOnBareSand(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("Bare sand blackens within %s of the surface, and the black is thin yet.", c.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "reduced-to-the-surface", mark: assumption, action: reports.Leave, decides: true, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && !covered(t) && !thinOnBareSand(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("The reduced zone begins within %s of the bare surface, and stirring would do harm: give the water oxygen and the bed less to rot, and let it recover.", c.limitText(layers.LimitShallowFront))
		},
		first: []string{Aerate, feedLess, TestWater},
	},
	{
		name: "front-rises", mark: assumption, action: reports.Leave, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Rising },
		text: func(c *Case) string {
			return fmt.Sprintf("The front rises by %s a month: read again in two weeks before deciding more.", c.Units.Length(-c.Shift.Value))
		},
	},
	{
		name: "front-seems-to-rise", mark: assumption, action: reports.Leave, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.SeemsRising },
		text: func(c *Case) string {
			return fmt.Sprintf("By the few readings there are the front rises by %s a month: read again in two weeks.", c.Units.Length(-c.Shift.Value))
		},
	},
	{
		name: "trouble-not-followed-up", mark: practice, action: reports.Leave, distress: true, forbids: stirring | siphoning, passed: true,
		test: func(t *infer.Truth) bool { return t.Unfollowed != "" },
		text: func(c *Case) string {
			return "When the bed was last read there was trouble (" + c.Unfollowed + "), and nobody has read it since: look at the animals and the water today."
		},
		first: []string{TestWater, readAgain},
	},
	{
		name: "water-test-too-old", mark: practice, action: reports.Leave, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return len(t.Tests.Grave) > 0 },
		text: func(c *Case) string {
			return "The water was past its limit when it was last tested. " + strings.Join(c.Tests.Grave, " ") + " Test it before a hand goes in."
		},
		first: []string{TestWater},
	},
	{
		name: "ammonia-perhaps-over", mark: "assumption: a pH of 8.5 and 30 °C where they were not measured", action: reports.Leave, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: ammoniaPerhapsOver,
		text: func(c *Case) string {
			if a := c.Tests.Ammonia; a.Known() {
				return fmt.Sprintf("At the pH of %g that the week has had, the %g mg N/L of total ammonia of %s would be %.4f mg N/L un-ionised, over %s: test both in the afternoon before a hand goes in.",
					a.Swing, a.Total, a.Date, a.AtMost(), c.limitText(layers.LimitAmmonia))
			}
			return fmt.Sprintf("Total ammonia stood at %g mg N/L on %s, and without %s its un-ionised part may well be over %s: test that before a hand goes in.",
				c.Tests.Ammonia.Total, c.Tests.Ammonia.Date, c.Tests.Ammonia.Lacks(), c.limitText(layers.LimitAmmonia))
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-barely-enough", mark: "common practice, no source: some 5 mg/L before a hand stirs", action: reports.Leave, distress: true, forbids: stirring,
		test: func(t *infer.Truth) bool {
			dawn, limit := t.Tests.Dawn, t.Limit(layers.LimitOxygen)
			return dawn != nil && dawn.Oxygen >= limit && dawn.Oxygen < limit+oxygenMargin
		},
		text: func(c *Case) string {
			return fmt.Sprintf("Before the lights came on oxygen stood at %s, little over the limit of %s: aerate before a hand goes in, and never stir.",
				besideOxygen(c.Tests.Dawn.Oxygen, c.Limit(layers.LimitOxygen)), c.limitText(layers.LimitOxygen))
		},
		first: []string{Aerate},
	},
	{
		name: "one-place-over", mark: practice, action: reports.Siphon, passed: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Over },
		text: func(c *Case) string {
			var places []string
			for _, r := range c.PlacesOver() {
				places = append(places, r.Core.Station+" "+c.besideLength(r.Named.Mulm, layers.LimitMulm))
			}
			return "Not over the whole floor, but at one place the mulm is over its limit of " + c.limitText(layers.LimitMulm) + ": " + infer.Listed(places) + "."
		},
	},
	{
		name: "roots-below-the-front", mark: practice, action: reports.Leave,
		test: func(t *infer.Truth) bool { return t.Seen(layers.RootsDeep) },
		text: func(*Case) string { return "Roots reach below the front and carry oxygen there." },
	},
	{
		name: "burrowers-at-work", mark: practice, action: reports.Leave,
		test: func(t *infer.Truth) bool { return t.Burrowers == infer.Yes || t.Seen(layers.Burrowers) },
		text: func(*Case) string { return "Burrowing animals turn the top of the bed by themselves." },
	},
	{
		name: "gas-without-smell", mark: practice, action: reports.Leave,
		test: func(t *infer.Truth) bool { return t.Seen(layers.GasBubbles) && !t.Seen(layers.EggSmell) },
		text: func(*Case) string { return "Gas rises without a smell of eggs: common in a rich bed." },
	},
	{
		name: "living-bed", mark: assumption, action: reports.Leave, passed: true,
		test: func(t *infer.Truth) bool {
			return alive(t) && t.Mulm > t.DrawnLimit(layers.LimitMulm) && t.Mulm <= t.DrawnLimit(layers.LimitLivingMulm)
		},
		text: func(c *Case) string {
			return fmt.Sprintf("The bed is alive and its front holds, so thick mulm feeds it up to %s.", c.limitText(layers.LimitLivingMulm))
		},
	},
	{
		name: "rooted-bed", mark: practice, action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Rooted != infer.No || t.Replanted != 0 || t.Seen(layers.RootsDeep) },
		text: func(c *Case) string {
			switch {
			case c.Rooted == infer.Yes:
			case c.Replanted != 0:
				return "Plants were set on " + c.Replanted.String() + ": never stir a bed that is rooted."
			case c.Seen(layers.RootsDeep):
				return "Roots were seen in the bed: never stir it."
			case c.Rooted == infer.Untold:
				return "Whether plants root in the bed is not told: never stir one that is rooted."
			}
			return "The bed is rooted: never stir it."
		},
	},
	{
		name: "bed-too-shallow", mark: assumption, action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Floor < t.DrawnLimit(layers.LimitStirDepth) },
		text: func(c *Case) string {
			return fmt.Sprintf("The bed was seen down to %s only: too shallow to be stirred to %s.", c.Units.Length(c.FloorMM()), c.limitText(layers.LimitStirDepth))
		},
	},
	{
		name: "thick-black-zone", mark: assumption, action: reports.Leave, forbids: stirring, passed: true,
		test: func(t *infer.Truth) bool { return t.Black > t.DrawnLimit(layers.LimitThickBlack) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitThickBlack)
			return fmt.Sprintf("The black zone is %s: stirring it would take the water's oxygen.",
				beside(c.Black.Value > c.Limit(layers.LimitThickBlack), "thicker than "+limit, "perhaps thicker than "+limit))
		},
	},
	{
		name: "ammonia-over-limit", mark: "EIFAC 1970, 0.025 mg NH3/L (number from memory)", action: reports.Leave, distress: true, forbids: stirring, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Ammonia > t.DrawnLimit(layers.LimitAmmonia) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAmmonia)
			return beside(c.Ammonia.Value > c.Limit(layers.LimitAmmonia),
				fmt.Sprintf("Un-ionised ammonia stands at %.4f mg N/L, limit %s: never stir.", c.Ammonia.Value, limit),
				"Un-ionised ammonia perhaps stands over its limit of "+limit+": never stir.")
		},
		first: []string{ChangeWater, TestWater},
	},
	{
		name: "oxygen-unknown", mark: practice, action: reports.Leave, distress: true,
		test: func(t *infer.Truth) bool {
			return !t.Still && t.Tests.Dawn == nil && nearSurface(t) && !covered(t) && thinOnBareSand(t)
		},
		text: func(*Case) string {
			return "No oxygen of the last weeks was measured before the lights came on: test it before black is stirred up."
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-unknown-in-still-water", mark: practice, action: reports.Leave, distress: true, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Still && t.Black > 0 && t.Tests.Dawn == nil },
		text: func(*Case) string {
			return "The water stands still, and no oxygen of the last weeks was measured before the lights came on: never stir black up into it."
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-short", mark: "USEPA 1986, 3 mg/L as the least of a day (from memory)", action: reports.Leave, distress: true, forbids: stirring, passed: true, next: 7,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.Bottom < t.DrawnLimit(layers.LimitOxygen) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitOxygen)
			return beside(c.Bottom.Value < c.Limit(layers.LimitOxygen),
				fmt.Sprintf("In the dark oxygen at the bottom comes to %s by the model, short of %s: never stir.", besideOxygen(c.Bottom.Value, c.Limit(layers.LimitOxygen)), limit),
				"In the dark oxygen at the bottom is perhaps short of "+limit+" by the model: never stir.")
		},
		first: []string{Aerate},
	},
	{
		name: "stirring-frees-too-much", rehearsed: true, distress: true, mark: "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions", action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.StirShare < infer.LeastShare },
		text: func(c *Case) string {
			return fmt.Sprintf("Stirred to %s, even %.0f %% of the floor may free more than the water bears.",
				c.Units.Length(c.Limit(layers.LimitStirDepth)), 100*infer.LeastShare)
		},
	},
	{
		name: "siphoning-frees-too-much", rehearsed: true, distress: true, mark: "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions", action: reports.Leave, forbids: siphoning,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.SiphonShare < infer.LeastShare },
		text: func(*Case) string {
			return fmt.Sprintf("Not even with an air stone does siphoning %.0f %% of the floor stay within what the water bears: see to the water, then rehearse it.", 100*infer.LeastShare)
		},
	},
	{ // the last rule needs no test: it settles what no other did
		name: "nothing-presses", mark: practice, action: reports.Leave, decides: true,
		text: func(c *Case) string {
			if c.amiss {
				return "The bed itself needs no hand; the other points say what is wrong, or may be."
			}
			return "No limit is reached: what lies there feeds the plants."
		},
	},
}

// fallback is the place of the rule that holds where none decides.
const fallback = len(rules) - 1

// restDays is the least rest between two siphonings, days (common practice, no
// source: two to four weeks).
const restDays = 14

// oldReadingDays is how old the newest core may be for a hand to go in on its word, days
// (assumption: a season of growth and of warmth).
const oldReadingDays = 120
