package rules

import (
	"fmt"
	"math"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
)

// A signal is something seen or measured that means trouble by itself, with its first steps.
type signal struct {
	name  string
	mark  string
	text  string
	since layers.Date
	first []string
}

// watchWait is when to look again after such a sign, days (common practice, no source).
const watchWait = 14

// watchSigns are the signals of the newest readings and of the water.
func (c *Case) watchSigns() (list []signal) {
	if where, since := c.showing(palette.FilmDark); where != "" {
		list = append(list, signal{
			"dark-film", practice, "A dark film was seen at " + where + ": it may be cyanobacteria, which spread where there is light, food and still water, and some of which are poisonous.", since,
			[]string{"Shade the glass below the bed surface, feed less and move the water; wipe one spot to see whether the film lies on the glass or on the bed.", "Wash your hands afterwards, and keep children and pets away from what comes out."},
		})
	}
	if where, since := c.showing(palette.MatWhite); where != "" {
		list = append(list, signal{
			"white-mat", practice, "A white mat was seen at " + where + ": fungus or bacteria on something rotting.", since,
			[]string{"Look for what is rotting under the mat and take it out, feed less, and move the water.", TestWater},
		})
	}
	if a := c.Tests.Acid; a != nil {
		list = append(list, c.oddPH(a)...)
	}
	if w := c.Tests.Warmth; w != nil && c.AsOf-w.Date <= infer.StaleWaterDays && (w.Celsius < coldest || w.Celsius > warmest) {
		list = append(list, c.outOfRange(w))
	}
	return list
}

// outOfRange is the signal of a temperature that is too low or too high.
func (c *Case) outOfRange(w *infer.Warmth) signal {
	if w.Celsius > warmest {
		return signal{
			"too-warm", practice, fmt.Sprintf("The water was %g °C on %s%s, warmer than most animals in such tanks are kept: warm water holds less oxygen, and all that rots uses more.", w.Celsius, w.Date, ago(w.Date, c.AsOf)), w.Date,
			[]string{"Shade the tank, open the lid and ripple the surface; bring the temperature down slowly.", TestWater},
		}
	}
	return signal{
		"too-cold", practice, fmt.Sprintf("The water was %g °C on %s%s, colder than most animals in such tanks are kept.", w.Celsius, w.Date, ago(w.Date, c.AsOf)), w.Date,
		[]string{"Check the heater and the thermometer; bring the temperature up slowly."},
	}
}

// oddPH are the signals of a pH that is out of range or has moved.
func (c *Case) oddPH(a *infer.Acidity) (list []signal) {
	first := []string{"Check the pH kit or meter, and what went into the tank: new rock, tap water, carbon dioxide; bring the pH back slowly.", TestWater}
	if a.Newest < lowestPH || a.Newest > highestPH {
		list = append(list, signal{"ph-out-of-range", "USEPA 1986, 6.5 to 9 (from memory); lower for tanks with peat and leaves: common practice, no source",
			fmt.Sprintf("The pH was %g on %s%s, outside the %g to %g of most such tanks.", a.Newest, a.Date, ago(a.Date, c.AsOf), lowestPH, float64(highestPH)), a.Date, first})
	}
	if a.Before != 0 && math.Abs(a.Newest-a.Before) > phJump {
		list = append(list, signal{"ph-moved", practice,
			fmt.Sprintf("Within a week the pH went from %g to %g (%s), which is more than animals tolerate well.", a.Before, a.Newest, a.Date), a.Date, first})
	}
	return list
}

// showing names the stations whose newest core shows a band, with the day of the oldest of those
// cores; empty: none does.
func (c *Case) showing(band palette.Band) (where string, since layers.Date) {
	var list []string
	for _, r := range c.Newest {
		for _, name := range r.Names {
			if name == band {
				list = append(list, fmt.Sprintf("%s (%s)", r.Core.Station, r.Core.Date))
				if since == 0 || r.Core.Date < since {
					since = r.Core.Date
				}
				break
			}
		}
	}
	return strings.Join(list, ", "), since
}

// watch lists the alarms and signals, and how likely a runaway is; next is the advice's next reading.
func (c *Case) watch(next layers.Date) *reports.Watch {
	w := &reports.Watch{Signs: []string{}, NextReading: next}
	add := func(text string, since layers.Date) {
		w.Signs = append(w.Signs, text)
		if w.Since == 0 || since < w.Since {
			w.Since = since
		}
	}
	if len(c.Newest) > 0 {
		w.Probability = new(reports.Round(c.runaway(), reports.ShareDigits))
	}
	if w.Runaway() {
		for _, text := range c.runawaySigns() {
			add(text, c.Swelling.Since)
		}
	}
	for _, alarm := range c.alarms() {
		add(alarm.text, alarm.since)
	}
	for _, sign := range c.watchSigns() {
		add(sign.text, sign.since)
	}
	if w.Runaway() {
		w.Since = c.Swelling.Since
	}
	return w
}

// Temperatures outside these are a watch sign, °C, and outside the wider ones the water comes first
// (common practice, no source: what fish, shrimp and snails in such tanks are kept in, and what few
// of them survive).
const (
	coldest, warmest      = 12, 30
	deadlyCold, deadlyHot = 3, 35
)

// A pH outside these is a watch sign (USEPA 1986, 6.5 to 9 for fresh water, from memory; tanks with
// peat and leaves are kept lower, common practice), and so is one that moves by more than phJump
// within a week. Outside the wider ones the water comes first (common practice, no source).
const (
	lowestPH, highestPH    = 5.5, 9
	deadlyAcid, deadlyBase = 4.5, 10
	phJump                 = 1.5
)
