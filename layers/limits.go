package layers

// Limit names a number at which a rule of the advice begins to hold. A tank may
// set its own under "limits" in the logbook document.
type Limit string

// The limits.
const (
	LimitMulm         Limit = "mulm_mm"
	LimitLivingMulm   Limit = "living_mulm_mm"
	LimitAccumulation Limit = "accumulation_mm_per_month"
	LimitFrontRise    Limit = "front_rise_mm_per_month"
	LimitDecayMulm    Limit = "decay_mulm_mm"
	LimitDecayDays    Limit = "decay_days"
	LimitShallowFront Limit = "shallow_reduced_mm"
	LimitThinBlack    Limit = "thin_black_mm"
	LimitThickBlack   Limit = "thick_black_mm"
	LimitYoungBed     Limit = "young_bed_days"
	LimitAmmonia      Limit = "unionised_ammonia_mg_l"
	LimitSiphonShare  Limit = "siphon_share"
	LimitStirDepth    Limit = "stir_depth_mm"
)

// A LimitRule is a limit's default, the range a tank may set it to, its unit and
// where it comes from.
type LimitRule struct {
	Limit    Limit
	Default  float64
	Min, Max float64
	Unit     string
	Source   string
	Rule     string // what it decides, in a few words
}

// LimitRules lists every limit in the order in which a document writes them.
func LimitRules() []LimitRule { return limitRules[:] }

var limitRules = [...]LimitRule{
	{LimitMulm, 50, 1, 500, "mm", "common practice, no source", "siphon the top above this much mulm"},
	{LimitLivingMulm, 75, 1, 500, "mm", "assumption: thick mulm feeds a rooted, moved and steady bed", "the same where the bed is alive"},
	{LimitAccumulation, 4, 0.1, 100, "mm/month", "assumption", "cut feeding above this much mulm a month"},
	{LimitFrontRise, 2, 0.1, 100, "mm/month", "assumption", "read again soon when the front rises faster"},
	{LimitDecayMulm, 10, 0, 500, "mm", "assumption", "siphon after decay in still water from this much mulm"},
	{LimitDecayDays, 30, 1, 365, "days", "assumption", "how long a sign of decay counts"},
	{LimitShallowFront, 5, 0, 100, "mm", "assumption", "reduced colours this near the surface are too near"},
	{LimitThinBlack, 15, 0, 500, "mm", "assumption", "a black zone thinner than this may be stirred"},
	{LimitThickBlack, 20, 0, 500, "mm", "assumption", "a black zone thicker than this is never stirred"},
	{LimitYoungBed, 60, 0, 730, "days", "assumption: new beds blacken and lighten again as roots take hold", "a bed younger than this is left alone"},
	{LimitAmmonia, 0.0206, 0.0001, 10, "mg N/L", "EIFAC 1970, Technical Paper 11: 0.025 mg NH3/L, as nitrogen (number from memory)", "never stir above this much un-ionised ammonia"},
	{LimitSiphonShare, 0.25, 0.01, 1, "share of the floor", "common practice, no source", "the most to siphon at a time"},
	{LimitStirDepth, 10, 1, 50, "mm", "common practice, no source", "how deep to stir"},
}

// Limits are the limits a tank's keeper has set; the rest take their default.
type Limits map[Limit]float64

// Of is the limit in force, and whether the keeper set it.
func (l Limits) Of(limit Limit) (value float64, own bool) {
	if value, own = l[limit]; own {
		return value, true
	}
	return RuleOf(limit).Default, false
}

// RuleOf is the limit's default, range, unit and source.
func RuleOf(limit Limit) LimitRule {
	for _, rule := range limitRules {
		if rule.Limit == limit {
			return rule
		}
	}
	panic("layers: no rule for limit " + string(limit))
}
