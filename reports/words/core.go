package words

import (
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/reports"
)

// TankName is a tank's name with its id where they differ: "Kettle (kettle)".
func TankName(id, name string) string {
	if name == "" || name == id {
		return id
	}
	return name + " (" + id + ")"
}

// Judged adds the day that a tank is judged as of to its name; the zero date adds nothing.
func Judged(name string, asOf layers.Date) string {
	if asOf == 0 {
		return name
	}
	return name + ", as of " + asOf.String()
}

// Titled adds the day of the reading to a station's name; the zero date adds nothing.
func Titled(name string, read layers.Date) string {
	if read == 0 {
		return name
	}
	return name + ", read " + read.String()
}

// DaysAgo says how long ago a day was.
func DaysAgo(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	}
	return fmt.Sprintf("%d days ago", days)
}

// CoreTitle is where and when a core was read, and that it is not to be relied on.
func CoreTitle(c reports.Core) string {
	title := "read " + c.Date.String()
	if c.Station != "" {
		title = c.Station + ", " + title
	}
	if !c.Reliable {
		title += ", not reliable"
	}
	return title
}

// Band is the layer's name and how likely it is; the keeper's own word stands alone.
func Band(l reports.Layer) string {
	if l.Labelled {
		return l.Band.String()
	}
	return fmt.Sprintf("%s %d %%", l.Band, Hundred(l.Probability))
}

// Signs are the light and the signs of a core.
func Signs(c layers.Core) []string {
	var list []string
	switch {
	case c.Lit == nil:
	case *c.Lit:
		list = append(list, "lit")
	default:
		list = append(list, "unlit")
	}
	for _, sign := range c.Signs {
		list = append(list, Spaced(sign))
	}
	return list
}

// Spaced is a name of the logbook, as of a sign or an event, as it is read: without dashes.
func Spaced[Name ~string](name Name) string { return strings.ReplaceAll(string(name), "-", " ") }

// Beside is what stands behind a layer's name: that it is the keeper's own, or the second
// name of a doubtful one; else nothing.
func Beside(l reports.Layer) string {
	switch {
	case l.Labelled:
		return "your label"
	case l.Doubtful():
		return fmt.Sprintf("or %s %d %%", l.Alternatives[0].Band, Hundred(l.Alternatives[0].Probability))
	}
	return ""
}
