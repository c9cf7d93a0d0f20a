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

// limitText is a limit as it is spoken of.
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

// besideLength writes a length, or a growth of lengths, beside a limit: with so many decimals
// that they differ.
func (c *Case) besideLength(mm float64, l layers.Limit) string {
	if text := c.Units.Length(mm); text != c.Units.Length(c.Limit(l)) {
		return text
	}
	return fmt.Sprintf("%.2f %s", c.Units.Of(mm), c.Units)
}

// besideOxygen writes an oxygen beside its limit, both mg/L: with so many decimals that they
// differ.
func besideOxygen(oxygen, limit float64) string {
	if text := fmt.Sprintf("%.1f", oxygen); text != fmt.Sprintf("%.1f", limit) {
		return text + " mg/L"
	}
	return fmt.Sprintf("%.2f mg/L", oxygen)
}

// ago says behind a day how long before asOf it was, where it was not that day.
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
