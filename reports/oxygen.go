package reports

import "panecore/layers"

// OxygenFormat names the JSON form of an OxygenProfile.
const OxygenFormat = "panecore-oxygen/1"

// OxygenProfile is the oxygen from the water surface down into the bed.
type OxygenProfile struct {
	Format       string          `json:"format"`
	ID           string          `json:"id"`
	Name         string          `json:"name"`
	AsOf         layers.Date     `json:"as_of"`
	TemperatureC float64         `json:"temperature_c"`
	Saturation   float64         `json:"saturation_mg_l"`
	Limit        float64         `json:"limit_mg_l"`
	Points       []OxygenPoint   `json:"profile"` // in the dark, top to bottom
	Penetration  *Estimate       `json:"oxygen_penetration_mm"`
	OxicWater    *Estimate       `json:"oxic_water_mm"` // depth of water that holds oxygen
	Dawn         OxygenMoment    `json:"dawn"`
	Dusk         OxygenMoment    `json:"dusk"`
	Helps        []OxygenMeasure `json:"measures"` // the most helpful first
	Notices      []string        `json:"notices"`
}

// OxygenPoint is the oxygen at a place of the profile.
type OxygenPoint struct {
	Where   string    `json:"where"`    // "water" or "bed"
	DepthMM float64   `json:"depth_mm"` // below the water's or the bed's surface
	Oxygen  *Estimate `json:"oxygen_mg_l"`
}

// OxygenMoment is the water's oxygen at an hour of the day.
type OxygenMoment struct {
	Hour   float64   `json:"hour"`
	Oxygen *Estimate `json:"oxygen_mg_l"`
}

// OxygenMeasure is what moving the water in another way would do at the bottom.
type OxygenMeasure struct {
	Name   string    `json:"name"`
	Bottom *Estimate `json:"bottom_oxygen_mg_l"`
	Gain   *Estimate `json:"gain_mg_l"`
}

// Bottom is the oxygen at the bottom of the water in the dark; nil: not known.
func (x OxygenProfile) Bottom() (bottom *Estimate) {
	for _, p := range x.Points {
		if p.Where == "water" {
			bottom = p.Oxygen
		}
	}
	return bottom
}

// Lights are when a tank is lit and the oxygen its plants give off meanwhile.
type Lights struct {
	On          float64 // hour of the clock
	Hours       float64
	PlantOxygen float64 // g O2 a day per m² of water surface, while lit
}

// The defaults of Lights, hour of the clock and hours (assumptions; plants' oxygen counts only if it
// is given).
const (
	DefaultLightsOn = 8
	DefaultLitHours = 10
)
