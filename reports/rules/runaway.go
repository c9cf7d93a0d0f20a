package rules

import (
	"fmt"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/infer"
)

// A clue makes a runaway likelier by a factor where it holds. No factor was ever measured: all are
// assumptions, and small enough that no clue tells of a runaway unless the bed shows it.
type clue struct {
	factor float64
	water  bool // what comes first says so too, where it does
	holds  func(*Case) bool
	text   func(*Case) string
}

var clues = [...]clue{
	{3, true, func(c *Case) bool { return c.lately(layers.EggSmell) != 0 }, func(c *Case) string {
		return "The tank smelt of rotten eggs (" + c.Recent[layers.EggSmell].String() + ")."
	}},
	{2, true, func(c *Case) bool { return c.Decay() }, func(c *Case) string { return "Signs of decay: " + c.signs(infer.DecaySigns()...) + "." }},
	{1.5, false, func(c *Case) bool { return c.Seen(layers.GasBubbles) }, func(c *Case) string {
		return "Gas rises from the bed (" + c.Recent[layers.GasBubbles].String() + ")."
	}},
	{2, true, func(c *Case) bool { return c.Tests.Low != nil }, func(c *Case) string {
		return fmt.Sprintf("Oxygen was short: %s on %s.", oxygenAgainst(c.Tests.Low.Oxygen, c.Limit(layers.LimitOxygen)), c.Tests.Low.When())
	}},
	{1.3, false, func(c *Case) bool {
		return c.Tests.Low == nil && c.Chemistry != nil && c.Bottom.Value < c.Limit(layers.LimitOxygen)
	}, func(c *Case) string {
		return fmt.Sprintf("By the model, oxygen at the bottom falls to %s in the dark.", oxygenAgainst(c.Bottom.Value, c.Limit(layers.LimitOxygen)))
	}},
	{2, true, func(c *Case) bool { return c.Tests.Ammonia != nil && c.Tests.Ammonia.Total >= raisedAmmonia }, func(c *Case) string {
		return fmt.Sprintf("Total ammonia was %g mg N/L on %s.", c.Tests.Ammonia.Total, c.Tests.Ammonia.Date)
	}},
	{1.3, false, func(c *Case) bool { return c.Tests.Warmth != nil && c.Tests.Warmth.Celsius >= warmWater }, func(c *Case) string {
		return fmt.Sprintf("The water is warm: %g °C on %s.", c.Tests.Warmth.Celsius, c.Tests.Warmth.Date)
	}},
	{1.3, false, func(c *Case) bool { return c.Growth != nil && c.Growth.Value > c.Limit(layers.LimitAccumulation) }, func(c *Case) string {
		return fmt.Sprintf("Mulm grows by %s a month.", c.Units.Length(c.Growth.Value))
	}},
}

// What counts as a clue of ammonia and of warmth (assumptions).
const (
	raisedAmmonia = 0.5  // mg N/L
	warmWater     = 28.0 // °C
)

// runaway is the probability that black is swelling up through the bed.
func (c *Case) runaway() float64 {
	odds := c.Swelling.Odds
	for _, clue := range clues {
		if clue.holds(c) {
			odds *= clue.factor
		}
	}
	return odds / (1 + odds)
}

// runawaySigns are what speaks for a runaway, the bed first.
func (c *Case) runawaySigns() []string {
	where := "The front lies"
	if c.Swelling.Station != "" {
		where = "At " + c.Swelling.Station + " the front lies"
	}
	list := []string{where + " nearer the surface, and the black is thicker, than this tank's own past lets one expect."}
	first := len(c.alarms()) > 0
	for _, clue := range clues {
		if clue.holds(c) && !(clue.water && first) {
			list = append(list, clue.text(c))
		}
	}
	return list
}

// runawayWait is when to read again, days: while a runaway is told of, and while it may be (common
// practice, no source).
func (c *Case) runawayWait() int {
	switch p := c.runaway(); {
	case p >= reports.Told:
		return 7
	case p >= reports.Suspected:
		return 14
	}
	return infer.UsualWait
}
