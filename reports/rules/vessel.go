package rules

import (
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/reports"
)

// The measures of usual tanks, mm (assumptions: from a jar to a tank that fills a wall). Others
// are asked about, not refused: there are trays and ponds.
const (
	leastFloor, mostFloor = 80.0, 3000.0
	leastWater, mostWater = 50.0, 1500.0
)

// measured is one measure of a vessel.
type measured struct {
	name        string
	of          func(*layers.Vessel) *float64
	least, most float64 // mm, of usual tanks
}

func measuresOf(s layers.Shape) []measured {
	length := measured{"length", func(v *layers.Vessel) *float64 { return &v.LengthMM }, leastFloor, mostFloor}
	width := measured{"width", func(v *layers.Vessel) *float64 { return &v.WidthMM }, leastFloor, mostFloor}
	diameter := measured{"diameter", func(v *layers.Vessel) *float64 { return &v.DiameterMM }, leastFloor, mostFloor}
	water := measured{"water depth", func(v *layers.Vessel) *float64 { return &v.WaterDepthMM }, leastWater, mostWater}
	if s == layers.Cylinder {
		return []measured{diameter, water}
	}
	return []measured{length, width, water}
}

// AskVessel asks about the measures of a tank's vessel that no usual tank has, which is how mm
// taken for cm shows, unless they stood in the former one; nil: about none.
func AskVessel(id string, former *layers.Vessel, v layers.Vessel, u layers.Units) *reports.VesselQuestion {
	if former == nil {
		former = &layers.Vessel{}
	}
	meant, guessed := v, true
	var small, large, as []string
	for _, m := range measuresOf(v.Shape) {
		mm, to := *m.of(&v), m.of(&meant)
		found := "the " + m.name + " of " + u.Length(mm)
		switch {
		case mm == *m.of(former), !layers.FitsVessel(mm): // it stood before, or is refused
			continue
		case mm < m.least:
			small, *to = append(small, found), mm*10
		case mm > m.most:
			large, *to = append(large, found), mm/10
		default:
			continue
		}
		guessed = guessed && *to >= m.least && *to <= m.most
		as = append(as, "the "+m.name+" "+u.Length(*to))
	}
	if len(as) == 0 {
		return nil
	}
	q := &reports.VesselQuestion{Text: strings.TrimSpace(unusual(small, "less", "cm typed as mm") + " " + unusual(large, "more", "mm typed as cm"))}
	if guessed {
		q.Meant, q.Label = &meant, "Yes, make "+listed(as)
		q.Command = "panecore tank edit " + reports.Quoted(id) + vesselFlags(v, meant)
	}
	return q
}

// unusual asks about measures that are less or more than usual ones; none: it is empty.
func unusual(list []string, than, slip string) string {
	if len(list) == 0 {
		return ""
	}
	is := " is "
	if len(list) > 1 {
		is = " are "
	}
	return "T" + listed(list)[1:] + is + than + " than tanks usually have. Was " + slip + "?"
}

// listed joins the parts of a sentence.
func listed(parts []string) string {
	last := len(parts) - 1
	if last == 0 {
		return parts[0]
	}
	return strings.Join(parts[:last], ", ") + " and " + parts[last]
}

// vesselFlags change a vessel to another one of its shape.
func vesselFlags(from, to layers.Vessel) (flags string) {
	mm := func(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }
	switch {
	case from.LengthMM != to.LengthMM || from.WidthMM != to.WidthMM:
		flags += " --box " + mm(to.LengthMM) + "x" + mm(to.WidthMM) + "mm"
	case from.DiameterMM != to.DiameterMM:
		flags += " --cylinder " + mm(to.DiameterMM) + "mm"
	}
	if from.WaterDepthMM != to.WaterDepthMM {
		flags += " --water-depth " + mm(to.WaterDepthMM) + "mm"
	}
	return flags
}
