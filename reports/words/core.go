package words

import (
	"fmt"
	"strings"

	"panecore/layers"
	"panecore/reports"
)

// TankName is a tank's name, with its id if they differ: "Kettle (kettle)".
func TankName(id, name string) string {
	if name == "" || name == id {
		return id
	}
	return name + " (" + id + ")"
}

// Vessel writes a vessel's measurements and how much water stands above the bed.
func Vessel(v layers.Vessel, u layers.Units) string {
	measures := u.Number(v.LengthMM) + " × " + u.Length(v.WidthMM)
	if v.Shape == layers.Cylinder {
		measures = u.Length(v.DiameterMM) + " across"
	}
	return measures + ", water " + u.Length(v.WaterDepthMM) + " deep"
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

// CoreTitle says where and when a core was read, and whether it is not reliable.
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

// Band is the layer's name with its probability, which the keeper's own label does not need.
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

// Spaced writes the name of a sign or an event without its dashes.
func Spaced[Name ~string](name Name) string { return strings.ReplaceAll(string(name), "-", " ") }

// Beside follows a layer's name: that the keeper gave it, or the second name of a doubtful layer;
// else nothing.
func Beside(l reports.Layer) string {
	switch {
	case l.Labelled:
		return "your label"
	case l.Doubtful():
		return fmt.Sprintf("or %s %d %%", l.Alternatives[0].Band, Hundred(l.Alternatives[0].Probability))
	}
	return ""
}

// WithBeside adds to a text what follows a layer's name.
func WithBeside(text string, l reports.Layer) string {
	if beside := Beside(l); beside != "" {
		text += ", " + beside
	}
	return text
}

// Event writes an event: "siphon, 25 %, to 20 mm: note".
func Event(e layers.Event, u layers.Units) string {
	text := Spaced(e.Kind)
	for _, f := range layers.EventFields() {
		if !f.Needed && f.Input != layers.InputNote && f.Given(&e) {
			text += ", " + f.Said(&e, u)
		}
	}
	if e.Note != "" {
		text += ": " + e.Note
	}
	return text
}

// EventDated writes an event after its day: "2025-09-02 siphon, 25 %".
func EventDated(e layers.Event, u layers.Units) string {
	return e.Date.String() + " " + Event(e, u)
}
