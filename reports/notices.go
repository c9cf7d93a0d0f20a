package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// notices say what could not be known of a tank, what was doubtful, and what would
// settle it.
func (o *outlook) notices(found Tank) []string {
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }

	o.noticeReadings(say)
	o.noticeLayers(say)
	o.noticeFilms(say)
	o.noticeStations(say)
	if found.OxicDepth.AtLeast {
		say("The view is too shallow: no rust front and no reduced band was seen down to %s, so the colour oxic depth is at least that.", o.say.Length(o.oxic.Value))
	}
	if found.Mulm.AtLeast {
		say("Nothing but mulm was seen: its thickness is at least what was read.")
	}
	o.noticeDepth(say)
	o.noticeRates(say)
	o.noticeForecast(say, found.LimitReached)
	o.noticeWater(say)
	if o.flow == "" {
		say("The tank's flow is not told: still and moved water were each given half the draws.")
	}
	o.noticeChemistry(say)
	return list
}

// noticeChemistry says what the model of the water lacks, or why its penetration and the
// colour's differ.
func (o *outlook) noticeChemistry(say sayer) {
	if o.chemistry == nil {
		say("Oxygen penetration and oxygen at the bottom are not known: give %s.", strings.Join(o.missing, " and "))
		return
	}
	say("Dissolved oxygen ends where the bed has used it up, usually within a few millimetres; the colour oxic depth is how far it has ever reached, by roots, animals and better days.")
	switch m := o.chemistry.measured; {
	case m != nil:
		say("The oxygen is fitted to the %.1f mg/L measured on %s%s.", m.oxygen, m.when(), ago(m.date, o.asOf))
	default:
		say("The oxygen is modelled to a factor of about two; one measured before the lights come on would settle it.")
	}
}

type sayer func(format string, args ...any)

// noticeReadings says how old the newest core is, and which of the newest weigh less and why.
func (o *outlook) noticeReadings(say sayer) {
	if days := o.readDays(); days > usualWait {
		say("The newest core was read on %s, %d days ago: all that is said of the bed is as of then.", o.lastRead(), days)
	}
	for _, r := range o.newest {
		at := fmt.Sprintf("%s on %s", r.core.Station, r.core.Date)
		var doubt, settle string
		switch {
		case r.unreliable():
			doubt, settle = fmt.Sprintf("The photo of %s is not reliable: its layers may be other than told.", at), "Take another, or amend the core by eye."
		case r.doubted():
			q := o.slipQuestion(r)
			doubt, settle = q.Text, fmt.Sprintf("If so: %s; if the core is right as it stands: %s", q.Mends[0].Command, q.Mends[len(q.Mends)-1].Command)
		default:
			continue
		}
		weighs := "There is no sound reading of that station near it to go by instead."
		if lean := r.leansOn(); lean != nil {
			weighs = fmt.Sprintf("It counts in half of the draws, the core of %s in the others.", lean.core.Date)
		}
		say("%s Until that is settled it counts in no rate. %s %s", doubt, weighs, settle)
	}
}

// A bed that was seen less far down than thinBed is kept clean as a whole, by the trade; one
// deeper than these rules were made for is told too, mm (common practice, no source; assumption).
const (
	thinBed = 20
	tallBed = 300
)

// noticeDepth says where the bed is too shallow or too deep for the advice.
func (o *outlook) noticeDepth(say sayer) {
	switch floor := o.floorMM(); {
	case floor < thinBed:
		say("The bed was seen down to %s only: too shallow for advice on deep beds. One of less than 2 to 3 cm is kept clean as a whole (common practice, no source).", o.say.Length(floor))
	case floor > tallBed:
		say("The bed was seen down to %s, deeper than any that these rules were made for: go by the water and the animals first.", o.say.Length(floor))
	}
}

// noticeWater says what the water tests do not tell, and which were not used and why.
func (o *outlook) noticeWater(say sayer) {
	for _, stale := range o.tests.stale {
		say("%s", stale)
	}
	switch a := o.tests.ammonia; {
	case a == nil && len(o.tests.grave) > 0: // told by a rule, or below
	case a == nil:
		say("No water test of the last %d days has ammonia: un-ionised ammonia is not known.", staleWaterDays)
	case a.total == 0: // none of it is un-ionised
	case !a.known():
		say("The %g mg N/L of total ammonia measured on %s lacks %s of the last weeks: un-ionised ammonia is not known.", a.total, a.date, a.lacks())
	case a.phDate != a.date:
		say("The ammonia of %s was measured without a pH: that of %s is taken.", a.date, a.phDate)
	}
	if a := o.tests.ammonia; a.known() && a.warmDate != a.date {
		say("The ammonia of %s was measured without a temperature: that of %s is taken, %g °C.", a.date, a.warmDate, a.tempC)
	}
	if t := o.tests.ceiling; t != nil {
		why := fmt.Sprintf("outside of the hours from %02d:00 to %02d:00", earliestDawn, latestDawn)
		if t.daytime() == untimed {
			why = "at an hour that is not told"
		}
		say("The %.1f mg/L of oxygen measured on %s%s was measured %s: it only caps what the night leaves. One measured before the lights come on counts.", t.oxygen, t.when(), ago(t.date, o.asOf), why)
	}
	if unlikely := o.tests.unlikelyOxygen(o.altitudeM); unlikely != "" {
		say("%s", unlikely)
	}
}

// darkest is the lightness (L*) below which a brown or black layer may be native
// soil as well as sulphide (assumption).
const darkest = 35.0

// worthDoubting is the least probability at which another meaning is worth a notice (assumption).
const worthDoubting = 0.1

// noticeLayers speaks of layers that match nothing, of dark ones without a
// baseline, and of rust below a reduced band.
func (o *outlook) noticeLayers(say sayer) {
	for _, r := range o.newest {
		reduced := false
		for i, layer := range r.core.Layers {
			where := fmt.Sprintf("%s, %s to %s deep", r.core.Station, o.say.Number(r.edges[i]), o.say.Length(r.edges[i+1]))
			switch name := r.names[i]; {
			case name == palette.Unknown && layer.Band == palette.NoBand:
				say("The layer at %s (%s) matches nothing known: name it yourself if you know it.", where, layer.Color)
			case name == palette.Rust && reduced:
				say("The rust at %s lies below a reduced band: an old front, a root or a burrow. It is not taken for the front.", where)
			case name.IsReduced():
				reduced = true
			}
			if o.darkDoubt(r, i) {
				say("The dark layer at %s may be iron sulphide or dark by nature: give the native colour of set-up day, from a photo of then or a wet sample kept dry of the tank; sulphide pales within hours to days in air.", where)
			}
		}
	}
}

// darkDoubt reports a dark layer that may be black or native while the tank tells no
// native colour.
func (o *outlook) darkDoubt(r *reading, layer int) bool {
	if len(o.tank.Native) > 0 || r.core.Layers[layer].Band != palette.NoBand || r.core.Layers[layer].Color.Lab().L > darkest {
		return false
	}
	black, native := r.match.Probability(layer, palette.Black), r.match.Probability(layer, palette.Native)
	return black >= worthDoubting && native >= worthDoubting || native >= 1-worthDoubting
}

// noticeFilms says where films lie: on the glass, if light alone brings them out.
func (o *outlook) noticeFilms(say sayer) {
	var lit, elsewhere []string
	for _, r := range o.newest {
		for i := range r.core.Layers {
			if !r.names[i].IsFilm() {
				continue
			}
			if r.core.Lit != nil && *r.core.Lit {
				lit = append(lit, r.core.Station)
			} else {
				elsewhere = append(elsewhere, r.core.Station)
			}
			break
		}
	}
	switch {
	case len(lit) > 0 && len(elsewhere) == 0:
		say("The film at %s stands where light reaches the glass only: it is glass-deep and no layer of the bed.", strings.Join(lit, ", "))
	case len(elsewhere) > 0:
		say("A film was read at %s, where light is not known to reach the glass; films are taken to lie on the glass. Wipe a spot to see what is behind.", strings.Join(elsewhere, ", "))
	}
}

// Stations disagree where they differ by more than this (assumptions).
const (
	disagreeMM    = 5.0
	disagreeShare = 0.3 // of their mean
)

// noticeStations says where the stations disagree and which were left out.
func (o *outlook) noticeStations(say sayer) {
	o.noticeSpread(say, "mulm", func(p profile) float64 { return p.mulm })
	o.noticeSpread(say, "colour oxic depth", func(p profile) float64 { return p.oxic })
	last := o.readings[len(o.readings)-1].core.Date
	newest := map[string]layers.Date{}
	for _, r := range o.readings {
		newest[r.core.Station] = r.core.Date
	}
	var stale []string
	for station, date := range newest {
		if last-date > sameTimeDays {
			stale = append(stale, fmt.Sprintf("%s (%s)", station, date))
		}
	}
	if slices.Sort(stale); len(stale) > 0 {
		say("Not read within %d days of the newest reading, so left out of the estimates: %s.", sameTimeDays, strings.Join(stale, ", "))
	}
}

func (o *outlook) noticeSpread(say sayer, what string, of func(profile) float64) {
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	var values []string
	for _, r := range o.newest {
		x := of(r.named)
		least, most, sum = min(least, x), max(most, x), sum+x
		values = append(values, r.core.Station+" "+o.say.Length(x))
	}
	if most-least > max(disagreeMM, disagreeShare*sum/float64(len(o.newest))) {
		say("The stations disagree on the %s: %s.", what, strings.Join(values, ", "))
	}
}

// noticeRates says what the rates stand on where it is little.
func (o *outlook) noticeRates(say sayer) {
	switch g := o.growth; {
	case g == nil && !slices.ContainsFunc(o.newest, (*reading).sound):
		say("No sound reading to make a rate of: the accumulation is not known. Read again.")
	case g == nil && o.ageDays < 0:
		say("%s and no set-up date: the accumulation is not known. Read again in a month.", o.tooFew())
	case g == nil:
		say("%s of a bed %d days old: the accumulation is not known. Read again in a month.", o.tooFew(), o.ageDays)
	case g.Basis == SinceSetUp && g.AtLeast:
		say("%s: the accumulation is the mulm of today over the tank's age, and more than that, since the bed was stirred, siphoned or topped up in between. Read again in a month.", o.tooFew())
	case g.Basis == SinceSetUp:
		say("%s: the accumulation is the mulm of today over the tank's age. Read again in a month.", o.tooFew())
	case g.Basis == TwoReadings:
		say("Two readings only: the accumulation is their difference, and wide.")
	case !g.attained:
		say("Too few readings for a 90 %% interval of the accumulation: its range spans all that they show.")
	}
	if o.growth != nil && len(o.growth.perStation) > 0 {
		say("The stations disagree on the accumulation: %s.", o.ratesText(o.growth))
	}
	switch s := o.shift; {
	case s == nil && !o.reached():
		say("The front was never seen, so its shift is not known.")
	case s == nil && len(o.readings) > len(o.newest):
		say("The front was not soundly read twice at one station and %d days apart since the bed was last worked, so its shift is not known. Read again in a month.", leastApart)
	case s == nil:
		say("The front was read once only, so its shift is not known. Read again in a month.")
	case len(s.perStation) > 0:
		say("The stations disagree on the front's shift: %s.", o.ratesText(s))
	}
}

// tooFew says why there is no rate from two readings.
func (o *outlook) tooFew() string {
	if len(o.readings) > len(o.newest) {
		return fmt.Sprintf("No two sound readings of one station lie %d days or more apart since the bed was last worked", leastApart)
	}
	return "One reading only"
}

func (o *outlook) ratesText(r *rate) string {
	var list []string
	for _, one := range r.perStation {
		list = append(list, fmt.Sprintf("%s %s a month", one.station, o.say.Length(one.rate)))
	}
	return strings.Join(list, ", ")
}

// noticeForecast says where a forecast is bolder than the record bears, and where
// there is none.
func (o *outlook) noticeForecast(say sayer, f *Forecast) {
	switch {
	case f == nil:
		say("Without a rate there is no forecast of the mulm limit.")
	case f.Expected == nil:
		say("At this rate the mulm may never reach %s.", o.say.Length(f.LimitMM))
	case *f.Expected > o.asOf && int(*f.Expected-o.lastRead()) > o.growth.spanDays:
		say("The forecast of %s looks further ahead than the record reaches back (%d days): growth usually levels off.", *f.Expected, o.growth.spanDays)
	}
}
