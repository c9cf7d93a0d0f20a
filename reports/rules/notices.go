package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/layers/bed"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/stats"
)

// notices say what is not known about a tank, what is doubtful, and what would settle it.
func (c *Case) notices(found reports.Tank) []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }

	c.noticeReadings(say)
	c.noticeLayers(say)
	c.noticeFilms(say)
	c.noticeStations(say)
	if found.OxicDepth.AtLeast {
		say("The view is too shallow: no rust front or reduced band was seen down to %s, so the colour oxic depth is at least that.", c.Units.Length(c.Oxic.Value))
	}
	if found.Mulm.AtLeast {
		say("Nothing but mulm was seen, so its thickness is at least what was read.")
	}
	c.noticeDepth(say)
	c.noticeRates(say)
	c.noticeForecast(say, found.LimitReached)
	c.noticeWater(say)
	if c.Flow == "" {
		say("The tank's flow is not given: still and moved water were each assumed in half of the draws.")
	}
	c.noticeChemistry(say)
	return list
}

// noticeChemistry says what the model of the water lacks, or why oxygen penetration and colour
// oxic depth differ.
func (c *Case) noticeChemistry(say sayer) {
	if c.Chemistry == nil {
		say("Oxygen penetration and oxygen at the bottom are not known: add %s.", strings.Join(c.Missing, " and "))
		return
	}
	say("Dissolved oxygen ends where the bed has used it up, usually within a few millimetres. The colour oxic depth is how deep it has ever reached, with the help of roots, animals and better days.")
	if m := c.Chemistry.Measured; m != nil {
		say("The oxygen model is fitted to the %.1f mg/L measured on %s%s.", m.Oxygen, m.When(), ago(m.Date, c.AsOf))
	} else {
		say("Oxygen is modelled to within a factor of about two. Oxygen measured before the lights come on would settle it.")
	}
}

type sayer func(format string, args ...any)

// noticeReadings says how old the newest core is, and which of the newest count for less and why.
func (c *Case) noticeReadings(say sayer) {
	if days := c.ReadDays(); days > infer.UsualWait {
		say("The newest core was read on %s, %d days ago: everything said about the bed is as of then.", c.LastRead(), days)
	}
	for _, r := range c.Newest {
		at := fmt.Sprintf("%s on %s", r.Core.Station, r.Core.Date)
		var doubt, settle string
		switch {
		case r.Unreliable():
			doubt, settle = fmt.Sprintf("The photo of %s is not reliable: its layers may not be as shown.", at), "Take another, or amend the core by eye."
		case r.Doubted():
			q := c.SlipQuestion(r)
			doubt, settle = q.Text, fmt.Sprintf("If so: %s; if the core is right as it stands: %s", q.Mends[0].Command, q.Mends[len(q.Mends)-1].Command)
		default:
			continue
		}
		standIn := "there is no sound reading of that station from near that day to use instead."
		if lean := r.LeansOn(); lean != nil {
			standIn = fmt.Sprintf("for the rest it counts in half of the draws, the core of %s in the other half.", lean.Core.Date)
		}
		say("%s Until that is settled, the trends give it little weight; %s %s", doubt, standIn, settle)
	}
}

// A bed seen less deep than thinBed is usually kept clean throughout (common practice, no source);
// one deeper than tallBed is deeper than these rules were made for (assumption), mm.
const (
	thinBed = 20
	tallBed = 300
)

// noticeDepth says that the bed is too shallow or too deep for the advice.
func (c *Case) noticeDepth(say sayer) {
	switch floor := c.FloorMM(); {
	case floor < thinBed:
		say("The bed was seen only down to %s: too shallow for advice on deep beds. A bed of less than 2 to 3 cm is kept clean throughout (common practice, no source).", c.Units.Length(floor))
	case floor > tallBed:
		say("The bed was seen down to %s, deeper than these rules were made for: go by the water and the animals first.", c.Units.Length(floor))
	}
}

// noticeWater says what the water tests leave unknown, and which were not used and why.
func (c *Case) noticeWater(say sayer) {
	for _, stale := range c.Tests.Stale {
		say("%s", stale)
	}
	switch a := c.Tests.Ammonia; {
	case a == nil && len(c.Tests.Grave) > 0: // a rule or the stale tests say so
	case a == nil:
		say("No water test of the last %d days measured ammonia, so un-ionised ammonia is not known.", infer.StaleWaterDays)
	case a.Total == 0: // none of it is un-ionised
	case !a.Known():
		say("Total ammonia was %g mg N/L on %s, but without %s from the last weeks un-ionised ammonia is not known.", a.Total, a.Date, a.Lacks())
	case a.PhDate != a.Date:
		say("Ammonia was measured on %s without a pH: the pH of %s is used.", a.Date, a.PhDate)
	}
	if a := c.Tests.Ammonia; a.Known() && a.WarmDate != a.Date {
		say("Ammonia was measured on %s without a temperature: that of %s is used, %g °C.", a.Date, a.WarmDate, a.TempC)
	}
	if t := c.Tests.Ceiling; t != nil {
		when := fmt.Sprintf("outside the hours from %02d:00 to %02d:00", infer.EarliestDawn, infer.LatestDawn)
		if t.Daytime() == infer.Untimed {
			when = "at an unknown hour"
		}
		say("Oxygen of %.1f mg/L was measured on %s%s, %s, so it only caps what the night leaves. Oxygen measured before the lights come on counts in full.", t.Oxygen, t.When(), ago(t.Date, c.AsOf), when)
	}
	if unlikely := c.unlikelyOxygen(); unlikely != "" {
		say("%s", unlikely)
	}
}

// darkest is the lightness (L*) below which a brown or black layer may be native
// soil as well as sulphide (assumption).
const darkest = 35.0

// worthDoubting is the least probability at which another meaning is worth a notice (assumption).
const worthDoubting = 0.1

// noticeLayers points out layers that match nothing, dark ones without a native colour to compare,
// and rust below a reduced band.
func (c *Case) noticeLayers(say sayer) {
	for _, r := range c.Newest {
		reduced := false
		for i, layer := range r.Core.Layers {
			where := fmt.Sprintf("%s, %s to %s deep", r.Core.Station, c.Units.Number(r.Edges[i]), c.Units.Length(r.Edges[i+1]))
			switch name := r.Names[i]; {
			case name == palette.Unknown && layer.Band == palette.NoBand:
				say("The layer at %s (%s) matches nothing known: name it yourself if you know what it is.", where, layer.Color)
			case name == palette.Rust && reduced:
				say("The rust at %s lies below a reduced band: an old front, a root or a burrow. It is not counted as the front.", where)
			case name.IsReduced():
				reduced = true
			}
			if c.darkDoubt(r, i) {
				say("The dark layer at %s may be iron sulphide, or dark by nature. Add the native colour of set-up day, from a photo taken then or from unused substrate, wetted. In air, sulphide pales within hours to days.", where)
			}
		}
	}
}

// darkDoubt reports a dark layer that may be black or native in a tank without a native colour.
func (c *Case) darkDoubt(r *infer.Reading, layer int) bool {
	if len(c.Tank.Native) > 0 || r.Core.Layers[layer].Band != palette.NoBand || r.Core.Layers[layer].Color.Lab().L > darkest {
		return false
	}
	black, native := r.Match.Probability(layer, palette.Black), r.Match.Probability(layer, palette.Native)
	return black >= worthDoubting && native >= worthDoubting || native >= 1-worthDoubting
}

// noticeFilms says where films are, and that they count as lying on the glass.
func (c *Case) noticeFilms(say sayer) {
	var lit, elsewhere []string
	for _, r := range c.Newest {
		for i := range r.Core.Layers {
			if !r.Names[i].IsFilm() {
				continue
			}
			if r.Core.Lit != nil && *r.Core.Lit {
				lit = append(lit, r.Core.Station)
			} else {
				elsewhere = append(elsewhere, r.Core.Station)
			}
			break
		}
	}
	switch {
	case len(lit) > 0 && len(elsewhere) == 0:
		say("The film at %s is where light reaches the glass: it is on the glass and not a layer of the bed.", strings.Join(lit, ", "))
	case len(elsewhere) > 0:
		say("A film was read at %s, where light is not known to reach the glass; films are assumed to be on the glass. Wipe a spot to see what is behind.", strings.Join(elsewhere, ", "))
	}
}

// Stations disagree if they differ by more than both of these (assumptions).
const (
	disagreeMM    = 5.0
	disagreeShare = 0.3 // of their mean
)

// noticeStations says what the stations disagree on and which were left out.
func (c *Case) noticeStations(say sayer) {
	c.noticeSpread(say, "mulm", func(p infer.Profile) float64 { return p.Mulm })
	c.noticeSpread(say, "colour oxic depth", func(p infer.Profile) float64 { return p.Oxic })
	last := c.Readings[len(c.Readings)-1].Core.Date
	newest := map[string]layers.Date{}
	for _, r := range c.Readings {
		newest[r.Core.Station] = r.Core.Date
	}
	var stale []string
	for station, date := range newest {
		if last-date > infer.SameTimeDays {
			stale = append(stale, fmt.Sprintf("%s (%s)", station, date))
		}
	}
	if slices.Sort(stale); len(stale) > 0 {
		say("Not read within %d days of the newest reading, so left out of the estimates: %s.", infer.SameTimeDays, strings.Join(stale, ", "))
	}
}

func (c *Case) noticeSpread(say sayer, what string, of func(infer.Profile) float64) {
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	var values []string
	for _, r := range c.Newest {
		x := of(r.Named)
		least, most, sum = min(least, x), max(most, x), sum+x
		values = append(values, r.Core.Station+" "+c.Units.Length(x))
	}
	if most-least > max(disagreeMM, disagreeShare*sum/float64(len(c.Newest))) {
		say("The stations disagree on the %s: %s.", what, strings.Join(values, ", "))
	}
}

// noticeRates says what the rates rest on where that is little.
func (c *Case) noticeRates(say sayer) {
	switch g := c.Growth; {
	case g == nil && !slices.ContainsFunc(c.Newest, (*infer.Reading).Sound):
		say("There is no sound reading to work out a rate from, so the accumulation is not known. Read again.")
	case g == nil && c.AgeDays < 0:
		say("%s, and no set-up date is given: the accumulation is not known. Read again in a month.", c.tooFew())
	case g == nil:
		say("%s, and the bed is %d days old: the accumulation is not known. Read again in a month.", c.tooFew(), c.AgeDays)
	case g.Basis == reports.SinceSetUp && g.AtLeast:
		say("%s: the accumulation is at least today's mulm divided by the tank's age, since the bed was stirred, siphoned or topped up in between. Read again in a month.", c.tooFew())
	case g.Basis == reports.SinceSetUp:
		say("%s: the accumulation is today's mulm divided by the tank's age. Read again in a month.", c.tooFew())
	case g.Basis == reports.TwoReadings:
		say("Only two readings: the accumulation is their difference, with a wide range.")
	}
	if c.Growth != nil && len(c.Growth.PerStation) > 0 {
		say("The stations disagree on the accumulation: %s.", c.ratesText(c.Growth))
	}
	if c.Seasonal() {
		say("The mulm goes up and down with the season; the accumulation is what remains without it.")
	}
	switch s := c.Shift; {
	case s == nil && !c.Reached():
		say("The front was never seen, so its shift is not known.")
	case s == nil && len(c.Readings) > len(c.Newest):
		say("Since the bed was last worked, no station has two sound readings of the front %d days or more apart, so its shift is not known. Read again in a month.", infer.LeastApart)
	case s == nil:
		say("The front was read only once, so its shift is not known. Read again in a month.")
	case len(s.PerStation) > 0:
		say("The stations disagree on the front's shift: %s.", c.ratesText(s))
	}
}

// tooFew says why there is no rate from two readings.
func (c *Case) tooFew() string {
	if len(c.Readings) > len(c.Newest) {
		return fmt.Sprintf("Since the bed was last worked, no station has two sound readings %d days or more apart", infer.LeastApart)
	}
	return "Only one reading"
}

func (c *Case) ratesText(r *infer.Rate) string {
	var list []string
	for _, station := range r.PerStation {
		list = append(list, fmt.Sprintf("%s %s a month", station.Station, c.Units.Length(station.Rate)))
	}
	return strings.Join(list, ", ")
}

// noticeForecast says that a forecast is bolder than the record supports, or that there is none.
func (c *Case) noticeForecast(say sayer, f *reports.Forecast) {
	switch {
	case f == nil:
		say("Without a rate there is no forecast of the mulm limit.")
	case f.Expected == nil:
		say("At this rate the mulm may never reach %s.", c.Units.Length(f.LimitMM))
	case *f.Expected > c.AsOf && int(*f.Expected-c.LastRead()) > c.Growth.SpanDays:
		say("The forecast of %s looks further ahead than the record reaches back (%d days): growth usually levels off.", *f.Expected, c.Growth.SpanDays)
	}
}

// mostDissolved is the most oxygen that water takes up from the air, mg/L: its saturation at 0 °C
// and sea level (Benson & Krause 1984).
const mostDissolved = 14.6

// unlikelyOxygen says that oxygen measured at dawn is more than water takes up from the air, of
// which breathing leaves less by night; empty: it is not.
func (c *Case) unlikelyOxygen() string {
	t := c.Tests
	if t.Dawn == nil {
		return ""
	}
	most, at := mostDissolved, "at 0 °C"
	if t.Warmth != nil {
		most, at = bed.OxygenSaturation(t.Warmth.Celsius, bed.PressureAt(c.AltitudeM)), fmt.Sprintf("at %g °C", t.Warmth.Celsius)
	}
	if t.Dawn.Oxygen <= most+2*stats.Z90*infer.OxygenError {
		return ""
	}
	return fmt.Sprintf("Oxygen of %s is more than air puts into water (%.1f mg/L %s), and nothing adds to it at night: check the kit, the unit and the hour.", t.Dawn.Words(), most, at)
}
