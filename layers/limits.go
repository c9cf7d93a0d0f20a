package layers

import "panecore/layers/jsonio"

// Limit is a number at which a rule of the advice begins to hold. A tank may set
// its own under "limits" in the logbook document.
type Limit uint8

// The limits.
const (
	LimitMulm Limit = iota
	LimitLivingMulm
	LimitAccumulation
	LimitFrontRise
	LimitDecayMulm
	LimitDecayDays
	LimitShallowFront
	LimitThinBlack
	LimitThickBlack
	LimitYoungBed
	LimitAmmonia
	LimitSiphonShare
	LimitStirDepth
	LimitOxygen
	LimitTotalAmmonia
)

// A LimitRule is a limit's name in the document, its default, the range a tank may
// set it to, its unit and where it comes from.
type LimitRule struct {
	Name     string
	Default  float64
	Min, Max float64
	Unit     string
	Source   string
	Rule     string // what it decides, in a few words
}

// LimitRules lists every limit's rule, by Limit and in the order in which a document
// writes them.
func LimitRules() []LimitRule { return limitRules[:] }

var limitRules = [...]LimitRule{
	LimitMulm:         {"mulm_mm", 50, 1, 500, "mm", "common practice, no source", "siphon the top above this much mulm"},
	LimitLivingMulm:   {"living_mulm_mm", 75, 1, 500, "mm", "assumption: thick mulm feeds a rooted, moved and steady bed", "the same where the bed is alive"},
	LimitAccumulation: {"accumulation_mm_per_month", 4, 0.1, 100, "mm/month", "assumption", "cut feeding above this much mulm a month"},
	LimitFrontRise:    {"front_rise_mm_per_month", 2, 0.1, 100, "mm/month", "assumption", "read again soon when the front rises faster"},
	LimitDecayMulm:    {"decay_mulm_mm", 10, 0, 500, "mm", "assumption", "siphon after decay in still water from this much mulm"},
	LimitDecayDays:    {"decay_days", 30, 1, 365, "days", "assumption", "how long a sign of decay counts"},
	LimitShallowFront: {"shallow_reduced_mm", 5, 0, 100, "mm", "assumption", "reduced colours this near the surface are too near"},
	LimitThinBlack:    {"thin_black_mm", 15, 0, 500, "mm", "assumption", "a black zone thinner than this may be stirred"},
	LimitThickBlack:   {"thick_black_mm", 20, 0, 500, "mm", "assumption", "a black zone thicker than this is never stirred"},
	LimitYoungBed:     {"young_bed_days", 60, 0, 730, "days", "assumption: new beds blacken and lighten again as roots take hold", "a bed younger than this is left alone"},
	LimitAmmonia:      {"unionised_ammonia_mg_l", 0.0206, 0.0001, 10, "mg N/L", "EIFAC 1970, Technical Paper 11: 0.025 mg NH3/L, as nitrogen (number from memory)", "never stir above this much un-ionised ammonia"},
	LimitSiphonShare:  {"siphon_share", 0.25, 0.01, 1, "share of the floor", "common practice, no source", "the most to siphon at a time"},
	LimitStirDepth:    {"stir_depth_mm", 10, 1, 50, "mm", "common practice, no source", "how deep to stir"},
	LimitOxygen:       {"oxygen_mg_l", 3, 0.5, 12, "mg/L", "USEPA 1986, EPA 440/5-86-003: the least of a day for warm-water fish (from memory)", "oxygen below this is too low"},
	LimitTotalAmmonia: {"total_ammonia_mg_l", 2, 0.01, 50, "mg N/L", "common practice, no source", "see to the water first above this much total ammonia, whatever the pH"},
}

// Rule is the limit's default, range, unit and source.
func (l Limit) Rule() LimitRule { return limitRules[l] }

// Limits are the limits a tank's keeper has set; the rest take their default.
type Limits map[Limit]float64

// Of is the limit in force, and whether the keeper set it.
func (l Limits) Of(limit Limit) (value float64, own bool) {
	if value, own = l[limit]; own {
		return value, true
	}
	return limitRules[limit].Default, false
}

var limitFields = jsonio.Fields{Names: limitNames()}

func limitNames() []string {
	var names []string
	for _, rule := range limitRules {
		names = append(names, rule.Name)
	}
	return names
}

func (d *Decoder) readLimits() (limits Limits) {
	for o := d.in.Object(&limitFields); d.in.Next(&o); {
		if limits == nil {
			limits = Limits{}
		}
		rule := limitRules[o.At]
		limits[Limit(o.At)] = d.in.Number(measure{low: rule.Min, high: rule.Max, unit: " (" + rule.Unit + ")"})
	}
	return limits
}

func writeLimits(e *jsonio.Writer, limits Limits) {
	outside := e.Row(true)
	e.Begin('{')
	for limit, rule := range limitRules {
		if value, own := limits[Limit(limit)]; own {
			e.Number(rule.Name, value)
		}
	}
	e.End('}')
	e.Row(outside)
}
