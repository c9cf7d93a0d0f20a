package rules

import (
	"testing"

	"panecore/layers"
)

// Measures that no usual tank has are asked about, each with what was likely meant, but not those
// that stood before, and nothing is guessed that would be as unusual.
func TestAskVessel_unusualMeasures(t *testing.T) {
	box := func(length, width, water float64) layers.Vessel {
		return layers.Vessel{Shape: layers.Box, LengthMM: length, WidthMM: width, WaterDepthMM: water}
	}
	jar := layers.Vessel{Shape: layers.Cylinder, DiameterMM: 22, WaterDepthMM: 300}
	tray := box(600, 300, 28)
	for _, c := range []struct {
		former        *layers.Vessel
		v             layers.Vessel
		text, command string
	}{
		{nil, box(600, 300, 280), "", ""},
		{nil, box(80, 80, 50), "", ""},
		{nil, box(3000, 3000, 1500), "", ""},
		{nil, tray, "The water depth of 28 mm is less than tanks usually have. Was cm typed as mm?", "panecore tank edit 'my tank' --water-depth 280mm"},
		{&tray, tray, "", ""},
		{&tray, box(60.5, 300, 28), "The length of 61 mm is less than tanks usually have. Was cm typed as mm?", "panecore tank edit 'my tank' --box 605x300mm"},
		{nil, box(60, 30, 28), "The length of 60 mm, the width of 30 mm and the water depth of 28 mm are less than tanks usually have. Was cm typed as mm?",
			"panecore tank edit 'my tank' --box 600x300mm --water-depth 280mm"},
		{nil, box(6000, 30, 280), "The width of 30 mm is less than tanks usually have. Was cm typed as mm? The length of 6000 mm is more than tanks usually have. Was mm typed as cm?",
			"panecore tank edit 'my tank' --box 600x300mm"},
		{nil, jar, "The diameter of 22 mm is less than tanks usually have. Was cm typed as mm?", "panecore tank edit 'my tank' --cylinder 220mm"},
		{nil, box(600, 300, 2), "", ""}, // refused
		{nil, box(600, 300, 9500), "The water depth of 9500 mm is more than tanks usually have. Was mm typed as cm?", "panecore tank edit 'my tank' --water-depth 950mm"},
	} {
		q := AskVessel("my tank", c.former, c.v, layers.MM)
		switch {
		case q == nil && c.text == "":
		case q == nil || q.Text != c.text || q.Command != c.command || (q.Meant == nil) != (c.command == ""):
			t.Errorf("%+v: asked %+v, want %q and %q", c.v, q, c.text, c.command)
		case q.Meant != nil && AskVessel("my tank", c.former, *q.Meant, layers.MM) != nil:
			t.Errorf("%+v: what was likely meant, %+v, is asked about", c.v, *q.Meant)
		}
	}
}
