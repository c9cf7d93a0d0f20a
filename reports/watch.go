package reports

import (
	"fmt"
	"math"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// A signal is something seen or measured that speaks for trouble by itself, with its usual
// first steps.
type signal struct {
	name  string
	mark  string
	text  string
	since layers.Date
	first []string
}

// watchWait is when to look again after such a sign, days (common practice, no source).
const watchWait = 14

// watchSigns are those of the newest readings and of the water.
func (o *outlook) watchSigns() (list []signal) {
	if where, since := o.showing(palette.FilmDark); where != "" {
		list = append(list, signal{
			"dark-film", practice, "A dark film was seen at " + where + ": it may be cyanobacteria, which spread where there is light, food and still water, and some of which are poisonous.", since,
			[]string{"Shade the glass below the bed surface, feed less and move the water; wipe one spot to see whether the film lies on the glass or on the bed.", "Wash your hands after, and keep children and pets away from what comes out."},
		})
	}
	if where, since := o.showing(palette.MatWhite); where != "" {
		list = append(list, signal{
			"white-mat", practice, "A white mat was seen at " + where + ": fungus or bacteria on something that rots.", since,
			[]string{"Look for what rots under the mat and take it out, feed less, and move the water.", testWater},
		})
	}
	if a := o.tests.acid; a != nil {
		list = append(list, o.oddPH(a)...)
	}
	if w := o.tests.warmth; w != nil && o.asOf-w.date <= staleWaterDays && (w.celsius < coldest || w.celsius > warmest) {
		list = append(list, o.outOfRange(w))
	}
	return list
}

// outOfRange is a temperature that is told.
func (o *outlook) outOfRange(w *warmth) signal {
	if w.celsius > warmest {
		return signal{
			"too-warm", practice, fmt.Sprintf("The water stood at %g °C on %s%s, warmer than most animals of such tanks are kept: it holds less oxygen, and all that rots takes more.", w.celsius, w.date, ago(w.date, o.asOf)), w.date,
			[]string{"Shade the tank, open the lid and ripple the surface; bring the warmth down slowly.", testWater},
		}
	}
	return signal{
		"too-cold", practice, fmt.Sprintf("The water stood at %g °C on %s%s, colder than most animals of such tanks are kept.", w.celsius, w.date, ago(w.date, o.asOf)), w.date,
		[]string{"Check the heater and the thermometer; bring the warmth up slowly."},
	}
}

// oddPH is a pH that is out of range, or that moved.
func (o *outlook) oddPH(a *acidity) (list []signal) {
	first := []string{"Check the pH kit or meter, and what went into the tank: new rock, tap water, carbon dioxide; bring the pH back slowly.", testWater}
	if a.newest < lowestPH || a.newest > highestPH {
		list = append(list, signal{"ph-out-of-range", "USEPA 1986, 6.5 to 9 (from memory); lower for tanks of peat and leaves: common practice, no source",
			fmt.Sprintf("The pH stood at %g on %s%s, out of the %g to %g that most such tanks keep to.", a.newest, a.date, ago(a.date, o.asOf), lowestPH, float64(highestPH)), a.date, first})
	}
	if a.before != 0 && math.Abs(a.newest-a.before) > phJump {
		list = append(list, signal{"ph-moved", practice,
			fmt.Sprintf("Within a week the pH went from %g to %g (%s): more than animals bear well.", a.before, a.newest, a.date), a.date, first})
	}
	return list
}

// showing names the stations whose newest core shows a band, and the day of the oldest of
// those; empty: none does.
func (o *outlook) showing(band palette.Band) (where string, since layers.Date) {
	var list []string
	for _, r := range o.newest {
		for _, name := range r.names {
			if name == band {
				list = append(list, fmt.Sprintf("%s (%s)", r.core.Station, r.core.Date))
				if since == 0 || r.core.Date < since {
					since = r.core.Date
				}
				break
			}
		}
	}
	return strings.Join(list, ", "), since
}

// watch tells what speaks for trouble on its way, with the next reading of the advice.
func (o *outlook) watch(next layers.Date) *Watch {
	w := &Watch{Signs: []string{}, NextReading: next}
	add := func(text string, since layers.Date) {
		w.Signs = append(w.Signs, text)
		if w.Since == 0 || since < w.Since {
			w.Since = since
		}
	}
	for _, alarm := range o.alarms() {
		add(alarm.text, alarm.since)
	}
	for _, sign := range o.watchSigns() {
		add(sign.text, sign.since)
	}
	return w
}
