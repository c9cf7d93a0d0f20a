package reports

import (
	"fmt"
	"strings"

	"panecore/layers"
)

// scene is one draw of a tank: one possible truth, as the rules see it. Lengths in
// mm, rates in mm a month.
type scene struct {
	*facts
	mulm        float64
	reducedTop  float64 // +Inf: no reduced band
	black       float64
	growth      float64 // zero where not known
	shift       float64 // of the front, negative rising; meaningful where shiftKnown
	shiftKnown  bool
	reached     bool // the front was seen
	rising      bool // the record itself, not just this draw, says that the front rises
	seemsRising bool // it seems so by too few readings to say it
	still       bool
	ammonia     float64 // un-ionised, mg N/L; zero where not known
	bottom      float64 // oxygen at the bottom in the dark, mg/L; meaningful where bottomKnown
	stirShare   float64 // the largest share of the floor that may be stirred within the limits; likewise
	siphonShare float64 // the largest that may be siphoned, with an air stone where that helps; likewise
	bottomKnown bool
	floor       float64 // how deep the bed was seen
	doubtful    bool    // no reading that the estimates stand on is sound
	readDays    int     // since the newest core
	over        string  // the places where the mulm is over its limit though the tank's is not; empty: none
	slack       float64 // of the limits that are rules of thumb, a factor about one
}

// limit is a limit as this draw takes it: the keeper's own to the letter, a rule
// of thumb with its slack.
func (s *scene) limit(l layers.Limit) float64 {
	if in := s.limits[l]; in.own {
		return in.value
	}
	return s.limits[l].value * s.slack
}

// alive is a bed that feeds on its mulm: worked by roots or animals, under moved
// water, with a front that holds, and nothing rotting.
func (s *scene) alive() bool {
	steady := !s.reached || s.shiftKnown && s.shift > -s.limit(layers.LimitFrontRise)
	return s.working() && !s.still && steady && !s.decay() && !s.seen(layers.EggSmell)
}

// meltInStillWater reports that plants melt while nothing stirs the water, and loose mulm lies
// there to go on with it. With animals in trouble, threads of fungus or a smell of eggs, the
// water comes before the mulm.
func (s *scene) meltInStillWater() bool {
	return s.seen(layers.PlantMelt) && !s.seen(layers.DeadAnimal, layers.Gasping, layers.WhiteThreads, layers.EggSmell) &&
		s.still && s.mulm >= s.limit(layers.LimitDecayMulm)
}

// covered reports that mulm lies on the bed. A millimetre is less than is read (assumption).
func (s *scene) covered() bool { return s.mulm >= 1 }

// oxygenMargin is how much more than its limit a dawn's oxygen should be for a hand that stirs,
// mg/L (common practice, no source).
const oxygenMargin = 2

// ammoniaPerhapsOver reports ammonia of which the un-ionised part may be over its limit: at the
// highest pH of the week, or, where pH or temperature is not known, of ammonia that is much by
// itself, half of its own limit.
func (f *facts) ammoniaPerhapsOver() bool {
	a := f.tests.ammonia
	if a == nil || a.atLeast() > f.limits[layers.LimitAmmonia].value || a.atMost() <= f.limits[layers.LimitAmmonia].value {
		return false
	}
	return a.known() || a.total >= f.limits[layers.LimitTotalAmmonia].value/2
}

// thinOnBareSand reports sand that nothing roots in, with little black in it yet.
func (s *scene) thinOnBareSand() bool {
	return s.bareSand && s.black < s.limit(layers.LimitThinBlack)
}

// nearSurface reports that the reduced zone reaches almost to the bed surface.
func (s *scene) nearSurface() bool { return s.reducedTop <= s.limit(layers.LimitShallowFront) }

// A rule is a name, where it comes from, what it speaks for, a test on the numbers
// of one draw, and a sentence on this tank. The first rule of the table that
// decides and holds settles a draw; the others are heard as reasons.
type rule struct {
	name      string
	mark      string
	action    Action
	decides   bool
	distress  bool  // it is about signs of trouble, not about the bed by itself
	forbids   hands // whatever else speaks for it
	passed    bool  // a limit is passed, or something else is amiss
	rehearsed bool  // a rehearsal works it out for itself, by its own depth and share
	test      func(*scene) bool
	text      func(*outlook) string
	first     []string
	next      int // days to the next reading, zero: no say
}

// hands are the actions that put a hand into the bed.
type hands uint8

const (
	stirring hands = 1 << iota
	siphoning
)

// handsOf are the hands of an action; none of leaving.
func handsOf(a Action) hands {
	switch a {
	case Stir:
		return stirring
	case Siphon:
		return siphoning
	}
	return 0
}

const (
	practice   = "common practice, no source"
	assumption = "assumption"
)

// Measures that help before anything touches the bed.
const (
	takeOutDead = "Take out dead animals and melting leaves."
	aerate      = "Aerate: an air stone or a rippled surface, day and night."
	testWater   = "Test oxygen at dawn, ammonia, nitrite, pH and temperature."
	feedLess    = "Halve the feeding for two weeks, then read again."
	changeWater = "Change part of the water for matched, chlorine-free water."
	readAgain   = "Read the bed again before anything else."
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
		name: "young-bed", mark: "assumption: new beds blacken and lighten again as roots take hold", action: Leave, decides: true, forbids: stirring | siphoning,
		test: func(s *scene) bool { return s.ageDays >= 0 && float64(s.ageDays) < s.limit(layers.LimitYoungBed) },
		text: func(o *outlook) string {
			if o.ageDays == 0 {
				return "The bed was laid today and has yet to settle."
			}
			return fmt.Sprintf("The bed is %d days old and has yet to settle.", o.ageDays)
		},
	},
	{
		name: "decay-in-still-water", mark: assumption, action: Siphon, decides: true, distress: true, passed: true, next: 7,
		test: (*scene).meltInStillWater,
		text: func(o *outlook) string {
			return "Plants melt in still water (" + o.recent[layers.PlantMelt].String() + "); what lies loose on top feeds the rot."
		},
		first: []string{takeOutDead, aerate, testWater},
	},
	{
		name: "decay", mark: assumption, action: Leave, decides: true, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(s *scene) bool { return s.decay() && !s.meltInStillWater() },
		text: func(o *outlook) string {
			return "Signs of decay in the last weeks: " + o.signs(decaySigns[:]...) + ". See to the water before the bed."
		},
		first: []string{takeOutDead, aerate, testWater},
	},
	{
		name: "egg-smell", mark: practice, action: Leave, decides: true, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(s *scene) bool { return s.seen(layers.EggSmell) },
		text: func(o *outlook) string {
			return "A smell of eggs (" + o.recent[layers.EggSmell].String() + ") is hydrogen sulphide: no hand in the bed, and never stir it."
		},
		first: []string{aerate, testWater},
	},
	{
		name: "siphoned-lately", mark: practice, action: Leave, decides: true, forbids: stirring | siphoning, next: 14,
		test: func(s *scene) bool { return s.siphoned != 0 && s.asOf-s.siphoned < restDays },
		text: func(o *outlook) string {
			return fmt.Sprintf("Last siphoned on %s: two to four weeks of rest between turns.", o.siphoned)
		},
	},
	{
		name: "stirred-lately", mark: practice, action: Leave, forbids: stirring | siphoning,
		test: func(s *scene) bool { return s.stirred != 0 && s.asOf-s.stirred < restDays },
		text: func(o *outlook) string {
			return fmt.Sprintf("Last stirred on %s: two to four weeks of rest between turns.", o.stirred)
		},
	},
	{
		name: "worked-since-read", mark: assumption, action: Leave, forbids: stirring | siphoning, passed: true, next: 14,
		test: func(s *scene) bool { return s.worked != nil },
		text: func(o *outlook) string {
			return fmt.Sprintf("The bed was worked since the newest core (%s on %s): read it again before another hand goes in.", strings.ReplaceAll(string(o.worked.Kind), "-", " "), o.worked.Date)
		},
		first: []string{readAgain},
	},
	{
		name: "reading-too-old", mark: assumption, action: Leave, forbids: stirring | siphoning, passed: true,
		test: func(s *scene) bool { return s.readDays > oldReadingDays },
		text: func(o *outlook) string {
			return fmt.Sprintf("The newest core was read on %s, %d days ago: read the bed again before a hand goes in.", o.lastRead(), o.readDays())
		},
		first: []string{readAgain},
	},
	{
		name: "reading-in-doubt", mark: assumption, action: Leave, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(s *scene) bool { return s.doubtful },
		text: func(o *outlook) string {
			return "What was read is in doubt (" + listed(o.doubts()) + "), and there is no sound reading to go by: no hand in the bed on its word."
		},
		first: []string{readAgain},
	},
	{
		name: "deep-mulm", mark: practice, action: Siphon, decides: true, passed: true, next: 14,
		test: func(s *scene) bool { return s.mulm > s.limit(layers.LimitMulm) && !s.alive() },
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitMulm)
			return beside(o.mulm.Value > o.limits[layers.LimitMulm].value,
				fmt.Sprintf("Mulm stands at %s, limit %s.", o.besideLength(o.mulm.Value, layers.LimitMulm), limit), "Mulm perhaps stands over its limit of "+limit+".")
		},
	},
	{
		name: "deep-mulm-in-a-living-bed", mark: assumption, action: Siphon, decides: true, passed: true, next: 14,
		test: func(s *scene) bool { return s.mulm > s.limit(layers.LimitLivingMulm) && s.alive() },
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitLivingMulm)
			return beside(o.mulm.Value > o.limits[layers.LimitLivingMulm].value,
				fmt.Sprintf("Mulm stands at %s, over %s even for a bed that feeds on it.", o.besideLength(o.mulm.Value, layers.LimitLivingMulm), limit),
				"Mulm perhaps stands over "+limit+", too much even for a bed that feeds on it.")
		},
	},
	{
		name: "mulm-grows-fast", mark: assumption, action: Siphon, decides: true, passed: true, next: 14,
		test: func(s *scene) bool {
			return s.growth > s.limit(layers.LimitAccumulation) && s.mulm > s.limit(layers.LimitMulm)/2
		},
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitAccumulation)
			grows := beside(o.growth.Value > o.limits[layers.LimitAccumulation].value,
				fmt.Sprintf("Mulm grows by %s a month, over %s,", o.besideLength(o.growth.Value, layers.LimitAccumulation), limit), "Mulm perhaps grows by more than "+limit+",")
			return grows + beside(o.mulm.Value > o.limits[layers.LimitMulm].value/2, " and has passed half its limit.", " and has perhaps passed half its limit.")
		},
		first: []string{feedLess},
	},
	{
		name: "mulm-grows", mark: assumption, action: Leave, passed: true, next: 14,
		test: func(s *scene) bool {
			return s.growth > s.limit(layers.LimitAccumulation) && s.mulm <= s.limit(layers.LimitMulm)/2
		},
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitAccumulation)
			return beside(o.growth.Value > o.limits[layers.LimitAccumulation].value,
				fmt.Sprintf("Mulm grows by %s a month, over %s, though there is little of it yet.", o.besideLength(o.growth.Value, layers.LimitAccumulation), limit),
				"Mulm perhaps grows by more than "+limit+", though there is little of it yet.")
		},
		first: []string{feedLess},
	},
	{
		name: "reduced-under-mulm", mark: assumption, action: Siphon, decides: true, passed: true, next: 14,
		test: func(s *scene) bool { return s.nearSurface() && s.covered() },
		text: func(o *outlook) string {
			return fmt.Sprintf("Under the mulm the reduced zone begins within %s of the surface.", o.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "bare-sand-blackens", mark: practice, action: Stir, decides: true, passed: true, next: 14,
		test: func(s *scene) bool { return s.nearSurface() && !s.covered() && s.thinOnBareSand() },
		text: func(o *outlook) string {
			return fmt.Sprintf("Bare sand blackens within %s of the surface, and the black is thin yet.", o.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "reduced-to-the-surface", mark: assumption, action: Leave, decides: true, passed: true, next: 14,
		test: func(s *scene) bool { return s.nearSurface() && !s.covered() && !s.thinOnBareSand() },
		text: func(o *outlook) string {
			return fmt.Sprintf("The reduced zone begins within %s of the bare surface, and stirring would do harm: give the water oxygen and the bed less to rot, and let it recover.", o.limitText(layers.LimitShallowFront))
		},
		first: []string{aerate, feedLess, testWater},
	},
	{
		name: "front-rises", mark: assumption, action: Leave, passed: true, next: 14,
		test: func(s *scene) bool { return s.rising },
		text: func(o *outlook) string {
			return fmt.Sprintf("The front rises by %s a month: read again in two weeks before deciding more.", o.say.Length(-o.shift.Value))
		},
	},
	{
		name: "front-seems-to-rise", mark: assumption, action: Leave, passed: true, next: 14,
		test: func(s *scene) bool { return s.seemsRising },
		text: func(o *outlook) string {
			return fmt.Sprintf("By the few readings there are the front rises by %s a month: read again in two weeks.", o.say.Length(-o.shift.Value))
		},
	},
	{
		name: "trouble-not-followed-up", mark: practice, action: Leave, distress: true, forbids: stirring | siphoning, passed: true,
		test: func(s *scene) bool { return s.unfollowed != "" },
		text: func(o *outlook) string {
			return "When the bed was last read there was trouble (" + o.unfollowed + "), and nobody has read it since: look at the animals and the water today."
		},
		first: []string{testWater, readAgain},
	},
	{
		name: "water-test-too-old", mark: practice, action: Leave, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(s *scene) bool { return len(s.tests.grave) > 0 },
		text: func(o *outlook) string {
			return "The water was past its limit when it was last tested. " + strings.Join(o.tests.grave, " ") + " Test it before a hand goes in."
		},
		first: []string{testWater},
	},
	{
		name: "ammonia-perhaps-over", mark: "assumption: a pH of 8.5 and 30 °C where they were not measured", action: Leave, distress: true, forbids: stirring | siphoning, passed: true, next: 7,
		test: func(s *scene) bool { return s.ammoniaPerhapsOver() },
		text: func(o *outlook) string {
			if a := o.tests.ammonia; a.known() {
				return fmt.Sprintf("At the pH of %g that the week has had, the %g mg N/L of total ammonia of %s would be %.4f mg N/L un-ionised, over %s: test both in the afternoon before a hand goes in.",
					a.swing, a.total, a.date, a.atMost(), o.limitText(layers.LimitAmmonia))
			}
			return fmt.Sprintf("Total ammonia stood at %g mg N/L on %s, and without %s its un-ionised part may well be over %s: test that before a hand goes in.",
				o.tests.ammonia.total, o.tests.ammonia.date, o.tests.ammonia.lacks(), o.limitText(layers.LimitAmmonia))
		},
		first: []string{testWater},
	},
	{
		name: "oxygen-barely-enough", mark: "common practice, no source: some 5 mg/L before a hand stirs", action: Leave, distress: true, forbids: stirring,
		test: func(s *scene) bool {
			dawn, limit := s.tests.dawn, s.limits[layers.LimitOxygen].value
			return dawn != nil && dawn.oxygen >= limit && dawn.oxygen < limit+oxygenMargin
		},
		text: func(o *outlook) string {
			return fmt.Sprintf("Before the lights came on oxygen stood at %s, little over the limit of %s: aerate before a hand goes in, and never stir.",
				besideOxygen(o.tests.dawn.oxygen, o.limits[layers.LimitOxygen].value), o.limitText(layers.LimitOxygen))
		},
		first: []string{aerate},
	},
	{
		name: "one-place-over", mark: practice, action: Siphon, passed: true, next: 14,
		test: func(s *scene) bool { return s.over != "" },
		text: func(o *outlook) string {
			return "Not over the whole floor, but at one place the mulm is over its limit of " + o.limitText(layers.LimitMulm) + ": " + o.placesOver() + "."
		},
	},
	{
		name: "roots-below-the-front", mark: practice, action: Leave,
		test: func(s *scene) bool { return s.seen(layers.RootsDeep) },
		text: func(*outlook) string { return "Roots reach below the front and carry oxygen there." },
	},
	{
		name: "burrowers-at-work", mark: practice, action: Leave,
		test: func(s *scene) bool { return s.burrowers == yes || s.seen(layers.Burrowers) },
		text: func(*outlook) string { return "Burrowing animals turn the top of the bed by themselves." },
	},
	{
		name: "gas-without-smell", mark: practice, action: Leave,
		test: func(s *scene) bool { return s.seen(layers.GasBubbles) && !s.seen(layers.EggSmell) },
		text: func(*outlook) string { return "Gas rises without a smell of eggs: common in a rich bed." },
	},
	{
		name: "living-bed", mark: assumption, action: Leave, passed: true,
		test: func(s *scene) bool {
			return s.alive() && s.mulm > s.limit(layers.LimitMulm) && s.mulm <= s.limit(layers.LimitLivingMulm)
		},
		text: func(o *outlook) string {
			return fmt.Sprintf("The bed is alive and its front holds, so thick mulm feeds it up to %s.", o.limitText(layers.LimitLivingMulm))
		},
	},
	{
		name: "rooted-bed", mark: practice, action: Leave, forbids: stirring,
		test: func(s *scene) bool { return s.rooted != no || s.replanted != 0 || s.seen(layers.RootsDeep) },
		text: func(o *outlook) string {
			switch {
			case o.rooted == yes:
			case o.replanted != 0:
				return "Plants were set on " + o.replanted.String() + ": never stir a bed that is rooted."
			case o.seen(layers.RootsDeep):
				return "Roots were seen in the bed: never stir it."
			case o.rooted == untold:
				return "Whether plants root in the bed is not told: never stir one that is rooted."
			}
			return "The bed is rooted: never stir it."
		},
	},
	{
		name: "bed-too-shallow", mark: assumption, action: Leave, forbids: stirring,
		test: func(s *scene) bool { return s.floor < s.limit(layers.LimitStirDepth) },
		text: func(o *outlook) string {
			return fmt.Sprintf("The bed was seen down to %s only: too shallow to be stirred to %s.", o.say.Length(o.floorMM()), o.limitText(layers.LimitStirDepth))
		},
	},
	{
		name: "thick-black-zone", mark: assumption, action: Leave, forbids: stirring, passed: true,
		test: func(s *scene) bool { return s.black > s.limit(layers.LimitThickBlack) },
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitThickBlack)
			return fmt.Sprintf("The black zone is %s: stirring it would take the water's oxygen.",
				beside(o.black.Value > o.limits[layers.LimitThickBlack].value, "thicker than "+limit, "perhaps thicker than "+limit))
		},
	},
	{
		name: "ammonia-over-limit", mark: "EIFAC 1970, 0.025 mg NH3/L (number from memory)", action: Leave, distress: true, forbids: stirring, passed: true, next: 7,
		test: func(s *scene) bool { return s.ammonia > s.limit(layers.LimitAmmonia) },
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitAmmonia)
			return beside(o.ammonia.Value > o.limits[layers.LimitAmmonia].value,
				fmt.Sprintf("Un-ionised ammonia stands at %.4f mg N/L, limit %s: never stir.", o.ammonia.Value, limit),
				"Un-ionised ammonia perhaps stands over its limit of "+limit+": never stir.")
		},
		first: []string{changeWater, testWater},
	},
	{
		name: "oxygen-unknown", mark: practice, action: Leave, distress: true,
		test: func(s *scene) bool {
			return !s.still && s.tests.dawn == nil && s.nearSurface() && !s.covered() && s.thinOnBareSand()
		},
		text: func(*outlook) string {
			return "No oxygen of the last weeks was measured before the lights came on: test it before black is stirred up."
		},
		first: []string{testWater},
	},
	{
		name: "oxygen-unknown-in-still-water", mark: practice, action: Leave, distress: true, forbids: stirring,
		test: func(s *scene) bool { return s.still && s.black > 0 && s.tests.dawn == nil },
		text: func(*outlook) string {
			return "The water stands still, and no oxygen of the last weeks was measured before the lights came on: never stir black up into it."
		},
		first: []string{testWater},
	},
	{
		name: "oxygen-short", mark: "USEPA 1986, 3 mg/L as the least of a day (from memory)", action: Leave, distress: true, forbids: stirring, passed: true, next: 7,
		test: func(s *scene) bool { return s.bottomKnown && s.bottom < s.limit(layers.LimitOxygen) },
		text: func(o *outlook) string {
			limit := o.limitText(layers.LimitOxygen)
			return beside(o.bottom.Value < o.limits[layers.LimitOxygen].value,
				fmt.Sprintf("In the dark oxygen at the bottom comes to %s by the model, short of %s: never stir.", besideOxygen(o.bottom.Value, o.limits[layers.LimitOxygen].value), limit),
				"In the dark oxygen at the bottom is perhaps short of "+limit+" by the model: never stir.")
		},
		first: []string{aerate},
	},
	{
		name: "stirring-frees-too-much", rehearsed: true, distress: true, mark: "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions", action: Leave, forbids: stirring,
		test: func(s *scene) bool { return s.bottomKnown && s.stirShare < leastShare },
		text: func(o *outlook) string {
			return fmt.Sprintf("Stirred to %s, even %.0f %% of the floor may free more than the water bears.",
				o.say.Length(o.limits[layers.LimitStirDepth].value), 100*leastShare)
		},
	},
	{
		name: "siphoning-frees-too-much", rehearsed: true, distress: true, mark: "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions", action: Leave, forbids: siphoning,
		test: func(s *scene) bool { return s.bottomKnown && s.siphonShare < leastShare },
		text: func(*outlook) string {
			return fmt.Sprintf("Not even with an air stone does siphoning %.0f %% of the floor stay within what the water bears: see to the water, then rehearse it.", 100*leastShare)
		},
	},
	{ // the last rule needs no test: it settles what no other did
		name: "nothing-presses", mark: practice, action: Leave, decides: true,
		text: func(o *outlook) string {
			if o.amiss {
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
