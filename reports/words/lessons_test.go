package words

import (
	"testing"

	"panecore/reports"
)

func TestTaughtBy(t *testing.T) {
	for want, by := range map[string]reports.TaughtBy{
		"Starts from what 1 photo of this place taught.":                          {Photos: 1, OfStation: 1},
		"Starts from what 3 photos of this tank taught.":                          {Photos: 3},
		"Starts from what 5 photos of this tank taught, 3 of them of this place.": {Photos: 5, OfStation: 3},
	} {
		if got := TaughtBy(by); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestLearnedLight(t *testing.T) {
	for want, light := range map[string]reports.LearnedLight{
		"photos of front come out 0.3 stops darker than expected, give or take 0.2: by 3 photos": {Station: "front", ExposureEV: 0.3, ExposureDoubt: 0.2, Photos: 3},
		"photos of left come out 0.5 stops lighter than expected, give or take 0.3: by 1 photo":  {Station: "left", ExposureEV: -0.46, ExposureDoubt: 0.3, Photos: 1},
		"photos of back come out as light as expected, give or take 0.3: by 2 photos":            {Station: "back", ExposureEV: -0.04, ExposureDoubt: 0.3, Photos: 2},
	} {
		if got := LearnedLight(light); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
