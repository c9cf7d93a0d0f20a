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
	still       bool
	ammonia     float64 // un-ionised, mg N/L; zero where not known
	bottom      float64 // oxygen at the bottom in the dark, mg/L; meaningful where bottomKnown
	stirShare   float64 // the largest share of the floor that may be stirred within the limits; likewise
	bottomKnown bool
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

// decayInStillWater is the acute case: something rots, nothing stirs the water, and
// loose mulm lies there to go on with it.
func (s *scene) decayInStillWater() bool {
	return s.decay() && s.still && s.mulm >= s.limit(layers.LimitDecayMulm)
}

// covered reports that mulm lies on the bed. A millimetre is less than is read (assumption).
func (s *scene) covered() bool { return s.mulm >= 1 }

// nearSurface reports that the reduced zone reaches almost to the bed surface.
func (s *scene) nearSurface() bool { return s.reducedTop <= s.limit(layers.LimitShallowFront) }

// A rule is a name, where it comes from, what it speaks for, a test on the numbers
// of one draw, and a sentence on this tank. The first rule of the table that
// decides and holds settles a draw; the others are heard as reasons.
type rule struct {
	name    string
	mark    string
	action  Action
	decides bool
	vetoes  bool // forbids to stir
	test    func(*scene) bool
	text    func(*outlook) string
	first   []string
	next    int // days to the next reading, zero: no say
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
)

// perhaps is what a rule says of a number beside its limit where the number itself, the
// middle of the draws, is on the other side.
func perhaps(otherSide bool, text string) string {
	if otherSide {
		return "perhaps " + text
	}
	return text
}

var rules = [...]rule{
	{
		name: "decay-in-still-water", mark: assumption, action: Siphon, decides: true, next: 7,
		test: (*scene).decayInStillWater,
		text: func(o *outlook) string {
			return "Something rots in still water: " + o.signs(decaySigns[:]...) + "; what lies loose on top feeds it."
		},
		first: []string{takeOutDead, aerate, testWater},
	},
	{
		name: "decay", mark: assumption, action: Leave, decides: true, next: 7,
		test: func(s *scene) bool { return s.decay() },
		text: func(o *outlook) string {
			return "Signs of decay in the last weeks: " + o.signs(decaySigns[:]...) + ". See to the water before the bed."
		},
		first: []string{takeOutDead, aerate, testWater},
	},
	{
		name: "young-bed", mark: "assumption: new beds blacken and lighten again as roots take hold", action: Leave, decides: true,
		test: func(s *scene) bool { return s.ageDays >= 0 && float64(s.ageDays) < s.limit(layers.LimitYoungBed) },
		text: func(o *outlook) string {
			return fmt.Sprintf("The bed is %d days old and still finding its order.", o.ageDays)
		},
	},
	{
		name: "siphoned-lately", mark: practice, action: Leave, decides: true, next: 14,
		test: func(s *scene) bool { return s.siphoned != 0 && s.asOf-s.siphoned < restDays },
		text: func(o *outlook) string {
			return fmt.Sprintf("Last siphoned on %s: two to four weeks of rest between turns.", o.siphoned)
		},
	},
	{
		name: "deep-mulm", mark: practice, action: Siphon, decides: true, next: 14,
		test: func(s *scene) bool { return s.mulm > s.limit(layers.LimitMulm) && !s.alive() },
		text: func(o *outlook) string {
			return fmt.Sprintf("Mulm stands at %s, limit %s.", o.say.Length(o.mulm.Value), o.limitText(layers.LimitMulm))
		},
	},
	{
		name: "deep-mulm-in-a-living-bed", mark: assumption, action: Siphon, decides: true, next: 14,
		test: func(s *scene) bool { return s.mulm > s.limit(layers.LimitLivingMulm) && s.alive() },
		text: func(o *outlook) string {
			return fmt.Sprintf("Mulm stands at %s, %s even for a bed that feeds on it.", o.say.Length(o.mulm.Value),
				perhaps(o.mulm.Value <= o.limits[layers.LimitLivingMulm].value, "over "+o.limitText(layers.LimitLivingMulm)))
		},
	},
	{
		name: "mulm-grows-fast", mark: assumption, action: Siphon, decides: true, next: 14,
		test: func(s *scene) bool {
			return s.growth > s.limit(layers.LimitAccumulation) && s.mulm > s.limit(layers.LimitMulm)/2
		},
		text: func(o *outlook) string {
			return fmt.Sprintf("Mulm grows by %s a month, %s, and has passed half its limit.", o.say.Length(o.growth.Value),
				perhaps(o.growth.Value <= o.limits[layers.LimitAccumulation].value, "over "+o.limitText(layers.LimitAccumulation)))
		},
		first: []string{feedLess},
	},
	{
		name: "reduced-under-mulm", mark: assumption, action: Siphon, decides: true, next: 14,
		test: func(s *scene) bool { return s.nearSurface() && s.covered() },
		text: func(o *outlook) string {
			return fmt.Sprintf("Under the mulm the reduced zone begins within %s of the surface.", o.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "bare-sand-blackens", mark: practice, action: Stir, decides: true, next: 14,
		test: func(s *scene) bool {
			return s.nearSurface() && !s.covered() && s.bareSand && s.black < s.limit(layers.LimitThinBlack) && !s.seen(layers.EggSmell)
		},
		text: func(o *outlook) string {
			return fmt.Sprintf("Bare sand blackens within %s of the surface, and the black is thin yet.", o.limitText(layers.LimitShallowFront))
		},
	},
	{
		name: "front-rises", mark: assumption, action: Leave, next: 14,
		test: func(s *scene) bool { return s.rising },
		text: func(o *outlook) string {
			return fmt.Sprintf("The front rises by %s a month: read again in two weeks before deciding more.", o.say.Length(-o.shift.Value))
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
		name: "living-bed", mark: assumption, action: Leave,
		test: func(s *scene) bool {
			return s.alive() && s.mulm > s.limit(layers.LimitMulm) && s.mulm <= s.limit(layers.LimitLivingMulm)
		},
		text: func(o *outlook) string {
			return fmt.Sprintf("The bed is alive and its front holds, so thick mulm feeds it up to %s.", o.limitText(layers.LimitLivingMulm))
		},
	},
	{
		name: "rooted-bed", mark: practice, action: Leave, vetoes: true,
		test: func(s *scene) bool { return s.rooted != no },
		text: func(o *outlook) string {
			if o.rooted == untold {
				return "Whether plants root in the bed is not told: never stir one that is rooted."
			}
			return rootedNever
		},
	},
	{
		name: "thick-black-zone", mark: assumption, action: Leave, vetoes: true,
		test: func(s *scene) bool { return s.black > s.limit(layers.LimitThickBlack) },
		text: func(o *outlook) string {
			return fmt.Sprintf("The black zone is %s: stirring it would take the water's oxygen.",
				perhaps(o.black.Value <= o.limits[layers.LimitThickBlack].value, "thicker than "+o.limitText(layers.LimitThickBlack)))
		},
	},
	{
		name: "egg-smell", mark: practice, action: Leave, vetoes: true,
		test: func(s *scene) bool { return s.seen(layers.EggSmell) },
		text: func(o *outlook) string {
			return "A smell of eggs (" + o.recent[layers.EggSmell].String() + ") is hydrogen sulphide: never stir."
		},
		first: []string{aerate},
	},
	{
		name: "ammonia-over-limit", mark: "EIFAC 1970, 0.025 mg NH3/L (number from memory)", action: Leave, vetoes: true, next: 7,
		test: func(s *scene) bool { return s.ammonia > s.limit(layers.LimitAmmonia) },
		text: func(o *outlook) string {
			return fmt.Sprintf("Un-ionised ammonia stands at %.3f mg N/L, limit %s: never stir.", o.ammonia.Value, o.limitText(layers.LimitAmmonia))
		},
		first: []string{changeWater, testWater},
	},
	{
		name: "oxygen-short", mark: "USEPA 1986, 3 mg/L as the least of a day (from memory); the oxygen is modelled", action: Leave, vetoes: true, next: 7,
		test: func(s *scene) bool { return s.bottomKnown && s.bottom < s.limit(layers.LimitOxygen) },
		text: func(o *outlook) string {
			return fmt.Sprintf("In the dark oxygen at the bottom comes to %.1f mg/L, %s: never stir.", o.bottom.Value,
				perhaps(o.bottom.Value >= o.limits[layers.LimitOxygen].value, "short of "+o.limitText(layers.LimitOxygen)))
		},
		first: []string{aerate},
	},
	{
		name: "stirring-frees-too-much", mark: "the rehearsal: EIFAC 1970, USEPA 1986; pore water and iron sulphide are assumptions", action: Leave, vetoes: true,
		test: func(s *scene) bool { return s.bottomKnown && s.stirShare < leastShare },
		text: func(o *outlook) string {
			return fmt.Sprintf("Stirred to %s, even %.0f %% of the floor may free more than the water bears.",
				o.say.Length(o.limits[layers.LimitStirDepth].value), 100*leastShare)
		},
	},
	{ // the last rule needs no test: it settles what no other did
		name: "nothing-presses", mark: practice, action: Leave, decides: true,
		text: func(*outlook) string { return "No limit is reached: what lies there feeds the plants." },
	},
}

// fallback is the place of the rule that holds where none decides.
const fallback = len(rules) - 1

// restDays is the least rest between two siphonings, days (common practice, no
// source: two to four weeks).
const restDays = 14

// signs names the signs noted lately, with their dates.
func (f *facts) signs(signs ...layers.Sign) string {
	var list []string
	for _, s := range signs {
		if date := f.recent[s]; date != 0 {
			list = append(list, fmt.Sprintf("%s (%s)", strings.ReplaceAll(string(s), "-", " "), date))
		}
	}
	return strings.Join(list, ", ")
}

// limitText is a limit as it is spoken of.
func (o *outlook) limitText(l layers.Limit) string {
	in := o.limits[l]
	var text string
	switch unit := l.Rule().Unit; unit {
	case "mm":
		text = o.say.Length(in.value)
	case "mm/month":
		text = o.say.Length(in.value) + " a month"
	default:
		text = fmt.Sprintf("%g %s", in.value, unit)
	}
	if in.own {
		text += " (your own)"
	}
	return text
}
