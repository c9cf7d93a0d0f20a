package rules

import (
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// A rule is a test on the numbers of one draw with the action it speaks for, and a sentence about
// the tank. The first rule of the table that decides and holds settles a draw; the others are heard
// as reasons.
type rule struct {
	name      string
	mark      string // where it comes from
	action    reports.Action
	decides   bool
	distress  bool         // it is about signs of trouble, not about the bed by itself
	forbids   disturbances // whatever else speaks for it
	trouble   bool         // a limit is passed, or something else is wrong
	rehearsed bool         // a rehearsal works this out by its own depth and share
	test      func(*infer.Truth) bool
	text      func(*Case) string
	first     []string
	next      int // days to the next reading, zero: it sets none
}

// disturbances are a set of the actions that disturb the bed.
type disturbances uint8

const (
	stirring disturbances = 1 << iota
	siphoning
)

// disturbancesOf is the set that an action is, empty for leaving.
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
	rehearsal  = "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions"
)

// orMaybe is what a rule says about a number: sure if the number, the middle of the draws, has
// passed its limit; maybe, which does not name the number, if only some draws have.
func orMaybe(passed bool, sure, maybe string) string {
	if passed {
		return sure
	}
	return maybe
}

const betweenTurns = ": leave two to four weeks between turns."

var rules = [...]rule{
	{
		name: "young-bed", mark: layers.LimitYoungBed.Rule().Source, action: reports.Leave, decides: true, forbids: stirring | siphoning,
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
		name: "decay-in-still-water", mark: assumption, action: reports.Siphon, decides: true, distress: true, trouble: true, next: 7,
		test: meltInStillWater,
		text: func(c *Case) string {
			return "Plants are melting in still water (" + c.Recent[layers.PlantMelt].String() + "); the loose mulm on top feeds the rot."
		},
		first: []string{takeOut, Aerate, TestWater},
	},
	{
		name: "decay", mark: assumption, action: reports.Leave, decides: true, distress: true, forbids: stirring | siphoning, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Decay() && !meltInStillWater(t) },
		text: func(c *Case) string {
			return "Signs of decay in the last weeks: " + c.signs(infer.DecaySigns()...) + ". See to the water before the bed."
		},
		first: []string{takeOut, Aerate, TestWater},
	},
	{
		name: "egg-smell", mark: practice, action: reports.Leave, decides: true, distress: true, forbids: stirring | siphoning, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Seen(layers.EggSmell) },
		text: func(c *Case) string {
			return "A smell of rotten eggs (" + c.Recent[layers.EggSmell].String() + ") means hydrogen sulphide: keep your hands out of the bed, and never stir it."
		},
		first: []string{Aerate, TestWater},
	},
	{
		name: "runaway", mark: assumption, action: reports.Leave, decides: true, forbids: stirring | siphoning, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Runaway },
		text: func(*Case) string {
			return "Black is swelling up through the bed: keep your hands out of it, since disturbing it would set free what it holds. Give the water oxygen and the bed less to rot."
		},
		first: []string{Aerate, feedLess, TestWater},
	},
	{
		name: "siphoned-lately", mark: practice, action: reports.Leave, decides: true, forbids: stirring | siphoning, next: 14,
		test: func(t *infer.Truth) bool { return t.Siphoned != 0 && t.AsOf-t.Siphoned < restDays },
		text: func(c *Case) string {
			return "Last siphoned on " + c.Siphoned.String() + betweenTurns
		},
	},
	{
		name: "stirred-lately", mark: practice, action: reports.Leave, forbids: stirring | siphoning,
		test: func(t *infer.Truth) bool { return t.Stirred != 0 && t.AsOf-t.Stirred < restDays },
		text: func(c *Case) string {
			return "Last stirred on " + c.Stirred.String() + betweenTurns
		},
	},
	{
		name: "worked-since-read", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Worked != nil },
		text: func(c *Case) string {
			return fmt.Sprintf("The bed has been worked since the newest core (%s on %s): read it again before you touch it.", strings.ReplaceAll(string(c.Worked.Kind), "-", " "), c.Worked.Date)
		},
		first: []string{readAgain},
	},
	{
		name: "reading-too-old", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, trouble: true,
		test: func(t *infer.Truth) bool { return t.ReadDays > oldReadingDays },
		text: func(c *Case) string {
			return fmt.Sprintf("The newest core was read on %s, %d days ago: read the bed again before you touch it.", c.LastRead(), c.ReadDays())
		},
		first: []string{readAgain},
	},
	{
		name: "reading-in-doubt", mark: assumption, action: reports.Leave, forbids: stirring | siphoning, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Doubtful },
		text: func(c *Case) string {
			return "The reading is in doubt (" + infer.Listed(c.doubts()) + "), and there is no sound one to go by: leave the bed alone until it is read again."
		},
		first: []string{readAgain},
	},
	{
		name: "deep-mulm", mark: practice, action: reports.Siphon, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Mulm > t.DrawnLimit(layers.LimitMulm) && !alive(t) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitMulm)
			return orMaybe(c.Mulm.Value > c.Limit(layers.LimitMulm),
				fmt.Sprintf("Mulm is %s thick, limit %s.", c.lengthAgainst(c.Mulm.Value, layers.LimitMulm), limit), "Mulm may be over its limit of "+limit+".")
		},
	},
	{
		name: "deep-mulm-in-a-living-bed", mark: assumption, action: reports.Siphon, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Mulm > t.DrawnLimit(layers.LimitLivingMulm) && alive(t) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitLivingMulm)
			return orMaybe(c.Mulm.Value > c.Limit(layers.LimitLivingMulm),
				fmt.Sprintf("Mulm is %s thick, over %s even for a bed that feeds on it.", c.lengthAgainst(c.Mulm.Value, layers.LimitLivingMulm), limit),
				"Mulm may be over "+limit+", too much even for a bed that feeds on it.")
		},
	},
	{
		name: "mulm-grows-fast", mark: assumption, action: reports.Siphon, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool {
			return t.Growth > t.DrawnLimit(layers.LimitAccumulation) && t.Mulm > t.DrawnLimit(layers.LimitMulm)/2
		},
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAccumulation)
			grows := orMaybe(c.Growth.Value > c.Limit(layers.LimitAccumulation),
				fmt.Sprintf("Mulm grows by %s a month, over %s,", c.lengthAgainst(c.Growth.Value, layers.LimitAccumulation), limit), "Mulm may grow by more than "+limit+",")
			return grows + orMaybe(c.Mulm.Value > c.Limit(layers.LimitMulm)/2, " and has passed half its limit.", " and may have passed half its limit.")
		},
		first: []string{feedLess},
	},
	{
		name: "mulm-grows", mark: assumption, action: reports.Leave, trouble: true, next: 14,
		test: func(t *infer.Truth) bool {
			return t.Growth > t.DrawnLimit(layers.LimitAccumulation) && t.Mulm <= t.DrawnLimit(layers.LimitMulm)/2
		},
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAccumulation)
			return orMaybe(c.Growth.Value > c.Limit(layers.LimitAccumulation),
				fmt.Sprintf("Mulm grows by %s a month, over %s, but there is little of it yet.", c.lengthAgainst(c.Growth.Value, layers.LimitAccumulation), limit),
				"Mulm may grow by more than "+limit+", but there is little of it yet.")
		},
		first: []string{feedLess},
	},
	{
		name: "reduced-under-mulm", mark: assumption, action: reports.Siphon, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && covered(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("Under the mulm, the reduced zone begins within %s of the surface.", c.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "bare-sand-blackens", mark: practice, action: reports.Stir, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && !covered(t) && thinOnBareSand(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("Bare sand is turning black within %s of the surface, and the black is still thin.", c.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "reduced-to-the-surface", mark: assumption, action: reports.Leave, decides: true, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return nearSurface(t) && !covered(t) && !thinOnBareSand(t) },
		text: func(c *Case) string {
			return fmt.Sprintf("The reduced zone begins within %s of the bare surface, and stirring would do harm: give the water more oxygen and the bed less to rot, and let it recover.", c.limitText(layers.LimitShallowFront))
		},
		first: []string{Aerate, feedLess, TestWater},
	},
	{
		name: "front-rises", mark: assumption, action: reports.Leave, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Rising },
		text: func(c *Case) string {
			return fmt.Sprintf("The front is rising by %s a month: read again before you decide anything else.", c.Units.Length(-c.Shift.Value))
		},
	},
	{
		name: "front-seems-to-rise", mark: assumption, action: reports.Leave, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.SeemsRising },
		text: func(c *Case) string {
			return fmt.Sprintf("From the few readings there are, the front is rising by %s a month: read again in two weeks.", c.Units.Length(-c.Shift.Value))
		},
	},
	{
		name: "trouble-not-followed-up", mark: practice, action: reports.Leave, distress: true, forbids: stirring | siphoning, trouble: true,
		test: func(t *infer.Truth) bool { return t.Unfollowed != "" },
		text: func(c *Case) string {
			return "When the bed was last read there was trouble (" + c.Unfollowed + "), and nobody has read it since: look at the animals and the water today."
		},
		first: []string{TestWater, readAgain},
	},
	{
		name: "water-test-too-old", mark: practice, action: reports.Leave, distress: true, forbids: stirring | siphoning, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return len(t.Tests.Grave) > 0 },
		text: func(c *Case) string {
			return "The water was past its limit when it was last tested. " + strings.Join(c.Tests.Grave, " ") + " Test it before you touch the bed."
		},
		first: []string{TestWater},
	},
	{
		name: "ammonia-perhaps-over", mark: "assumption: a pH of 8.5 and 30 °C where they were not measured", action: reports.Leave, distress: true, forbids: stirring | siphoning, trouble: true, next: 7,
		test: ammoniaPerhapsOver,
		text: func(c *Case) string {
			if a := c.Tests.Ammonia; a.Known() {
				return fmt.Sprintf("At the week's highest pH of %g, the %g mg N/L of total ammonia measured on %s would be %.4f mg N/L un-ionised, over %s: test both in the afternoon before you touch the bed.",
					a.Swing, a.Total, a.Date, a.AtMost(), c.limitText(layers.LimitAmmonia))
			}
			return fmt.Sprintf("Total ammonia was %g mg N/L on %s, and without %s its un-ionised part may well be over %s: test that before you touch the bed.",
				c.Tests.Ammonia.Total, c.Tests.Ammonia.Date, c.Tests.Ammonia.Lacks(), c.limitText(layers.LimitAmmonia))
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-barely-enough", mark: "common practice, no source: about 5 mg/L before you stir", action: reports.Leave, distress: true, forbids: stirring,
		test: func(t *infer.Truth) bool {
			dawn, limit := t.Tests.Dawn, t.Limit(layers.LimitOxygen)
			return dawn != nil && dawn.Oxygen >= limit && dawn.Oxygen < limit+oxygenMargin
		},
		text: func(c *Case) string {
			return fmt.Sprintf("Before the lights came on, oxygen was %s, little over the limit of %s: aerate before you touch the bed, and never stir it.",
				oxygenAgainst(c.Tests.Dawn.Oxygen, c.Limit(layers.LimitOxygen)), c.limitText(layers.LimitOxygen))
		},
		first: []string{Aerate},
	},
	{
		name: "one-place-over", mark: practice, action: reports.Siphon, trouble: true, next: 14,
		test: func(t *infer.Truth) bool { return t.Over },
		text: func(c *Case) string {
			var places []string
			for _, r := range c.PlacesOver() {
				places = append(places, r.Core.Station+" "+c.lengthAgainst(r.Named.Mulm, layers.LimitMulm))
			}
			return "On average the mulm is within its limit of " + c.limitText(layers.LimitMulm) + ", but not everywhere: " + infer.Listed(places) + "."
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
		text: func(*Case) string { return "Burrowing animals turn over the top of the bed by themselves." },
	},
	{
		name: "gas-without-smell", mark: practice, action: reports.Leave,
		test: func(t *infer.Truth) bool { return t.Seen(layers.GasBubbles) && !t.Seen(layers.EggSmell) },
		text: func(*Case) string { return "Gas rises without a smell of eggs, which is common in a rich bed." },
	},
	{
		name: "living-bed", mark: assumption, action: reports.Leave, trouble: true,
		test: func(t *infer.Truth) bool {
			return alive(t) && t.Mulm > t.DrawnLimit(layers.LimitMulm) && t.Mulm <= t.DrawnLimit(layers.LimitLivingMulm)
		},
		text: func(c *Case) string {
			return fmt.Sprintf("The bed is alive and its front holds, so up to %s of mulm feeds it.", c.limitText(layers.LimitLivingMulm))
		},
	},
	{
		name: "rooted-bed", mark: practice, action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Rooted != infer.No || t.Replanted != 0 || t.Seen(layers.RootsDeep) },
		text: func(c *Case) string {
			switch {
			case c.Rooted == infer.Yes:
			case c.Replanted != 0:
				return "Plants were planted on " + c.Replanted.String() + ": never stir a rooted bed."
			case c.Seen(layers.RootsDeep):
				return "Roots were seen in the bed: never stir it."
			case c.Rooted == infer.NotGiven:
				return "Whether plants root in the bed is not given: never stir a rooted bed."
			}
			return "The bed is rooted: never stir it."
		},
	},
	{
		name: "bed-too-shallow", mark: assumption, action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Floor < t.DrawnLimit(layers.LimitStirDepth) },
		text: func(c *Case) string {
			return fmt.Sprintf("The bed was seen only down to %s: too shallow to stir to %s.", c.Units.Length(c.FloorMM()), c.limitText(layers.LimitStirDepth))
		},
	},
	{
		name: "thick-black-zone", mark: assumption, action: reports.Leave, forbids: stirring, trouble: true,
		test: func(t *infer.Truth) bool { return t.Black > t.DrawnLimit(layers.LimitThickBlack) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitThickBlack)
			return orMaybe(c.Black.Value > c.Limit(layers.LimitThickBlack), "The black zone is", "The black zone may be") +
				" thicker than " + limit + ": stirring it would use up the water's oxygen."
		},
	},
	{
		name: "ammonia-over-limit", mark: layers.LimitAmmonia.Rule().Source, action: reports.Leave, distress: true, forbids: stirring, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.Ammonia > t.DrawnLimit(layers.LimitAmmonia) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitAmmonia)
			return orMaybe(c.Ammonia.Value > c.Limit(layers.LimitAmmonia),
				fmt.Sprintf("Un-ionised ammonia is %.4f mg N/L, limit %s: never stir.", c.Ammonia.Value, limit),
				"Un-ionised ammonia may be over its limit of "+limit+": never stir.")
		},
		first: []string{ChangeWater, TestWater},
	},
	{
		name: "oxygen-unknown", mark: practice, action: reports.Leave, distress: true,
		test: func(t *infer.Truth) bool {
			return !t.Still && t.Tests.Dawn == nil && nearSurface(t) && !covered(t) && thinOnBareSand(t)
		},
		text: func(*Case) string {
			return "No oxygen was measured before the lights came on in the last weeks: test it before any black is stirred up."
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-unknown-in-still-water", mark: practice, action: reports.Leave, distress: true, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.Still && t.Black > 0 && t.Tests.Dawn == nil },
		text: func(*Case) string {
			return "The water is still, and no oxygen was measured before the lights came on in the last weeks: never stir black up into it."
		},
		first: []string{TestWater},
	},
	{
		name: "oxygen-short", mark: layers.LimitOxygen.Rule().Source, action: reports.Leave, distress: true, forbids: stirring, trouble: true, next: 7,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.Bottom < t.DrawnLimit(layers.LimitOxygen) },
		text: func(c *Case) string {
			limit := c.limitText(layers.LimitOxygen)
			return orMaybe(c.Bottom.Value < c.Limit(layers.LimitOxygen),
				fmt.Sprintf("By the model, oxygen at the bottom falls to %s in the dark, below %s: never stir.", oxygenAgainst(c.Bottom.Value, c.Limit(layers.LimitOxygen)), limit),
				"By the model, oxygen at the bottom may fall below "+limit+" in the dark: never stir.")
		},
		first: []string{Aerate},
	},
	{
		name: "stirring-frees-too-much", rehearsed: true, distress: true, mark: rehearsal, action: reports.Leave, forbids: stirring,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.StirShare < infer.LeastShare },
		text: func(c *Case) string {
			return fmt.Sprintf("Stirring even %.0f %% of the floor to %s may release more than the water can take.",
				100*infer.LeastShare, c.Units.Length(c.Limit(layers.LimitStirDepth)))
		},
	},
	{
		name: "siphoning-frees-too-much", rehearsed: true, distress: true, mark: rehearsal, action: reports.Leave, forbids: siphoning,
		test: func(t *infer.Truth) bool { return t.BottomKnown && t.SiphonShare < infer.LeastShare },
		text: func(*Case) string {
			return fmt.Sprintf("Even with an air stone, siphoning %.0f %% of the floor may release more than the water can take: see to the water, then rehearse it.", 100*infer.LeastShare)
		},
	},
	{ // needs no test: it settles what no other rule did
		name: "nothing-presses", mark: practice, action: reports.Leave, decides: true,
		text: func(c *Case) string {
			if c.trouble {
				return "The bed itself can be left alone; the other points say what is wrong or may be."
			}
			return "No limit is reached: what lies there feeds the plants."
		},
	},
}

// fallback is the index of the rule that holds where no other decides.
const fallback = len(rules) - 1

// restDays is the least rest between two siphonings, days (common practice, no
// source: two to four weeks).
const restDays = 14

// oldReadingDays is how old the newest core may be for the bed to be worked by it, days
// (assumption: a season of growth and warmth).
const oldReadingDays = 120
