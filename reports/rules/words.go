package rules

import (
	"fmt"
	"strings"

	"panecore/layers"
)

// signs names the signs noted lately, with their dates.
func (c *Case) signs(signs ...layers.Sign) string {
	var list []string
	for _, s := range signs {
		if date := c.Recent[s]; date != 0 {
			list = append(list, fmt.Sprintf("%s (%s)", strings.ReplaceAll(string(s), "-", " "), date))
		}
	}
	return strings.Join(list, ", ")
}

// limitText writes a limit in force with its unit.
func (c *Case) limitText(l layers.Limit) string {
	value, own := c.Tank.Limits.Of(l)
	var text string
	switch unit := l.Rule().Unit; unit {
	case "mm":
		text = c.Units.Length(value)
	case "mm/month":
		text = c.Units.Length(value) + " a month"
	default:
		text = fmt.Sprintf("%g %s", value, unit)
	}
	if own {
		text += " (your own)"
	}
	return text
}

// lengthAgainst writes a length, or a growth in length, with enough decimals to differ from its
// limit.
func (c *Case) lengthAgainst(mm float64, l layers.Limit) string {
	if text := c.Units.Length(mm); text != c.Units.Length(c.Limit(l)) {
		return text
	}
	return fmt.Sprintf("%.2f %s", c.Units.Of(mm), c.Units)
}

// oxygenAgainst writes oxygen, mg/L, with enough decimals to differ from its limit.
func oxygenAgainst(oxygen, limit float64) string {
	if text := fmt.Sprintf("%.1f", oxygen); text != fmt.Sprintf("%.1f", limit) {
		return text + " mg/L"
	}
	return fmt.Sprintf("%.2f mg/L", oxygen)
}

// ago follows a date with how long before asOf it was; empty: on that day.
func ago(date, asOf layers.Date) string {
	switch days := asOf - date; days {
	case 0:
		return ""
	case 1:
		return ", yesterday"
	default:
		return fmt.Sprintf(", %d days ago", days)
	}
}
