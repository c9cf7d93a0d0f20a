package words

import "panecore/reports"

// Saturation says what water in balance with the air holds.
func Saturation(x reports.OxygenProfile) string {
	m := Oxygen()
	return "Water at " + Number(x.TemperatureC, 1) + " °C in balance with the air holds " + m.Plain(x.Saturation) + " " + m.Unit + "."
}
