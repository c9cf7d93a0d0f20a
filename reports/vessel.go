package reports

import "panecore/layers"

// VesselQuestion asks whether measures of a vessel were typed in the unit that was meant.
type VesselQuestion struct {
	Text    string
	Meant   *layers.Vessel // the vessel as it was likely meant; nil: no guess
	Label   string         // the answer that it was meant so
	Command string         // which makes it so
}
