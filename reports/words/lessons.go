package words

import (
	"fmt"
	"math"

	"panecore/reports"
)

// TaughtBy says what a reading of a photo starts from.
func TaughtBy(t reports.TaughtBy) string {
	what := Count(t.Photos, "photo")
	switch t.OfStation {
	case 0:
		return "Starts from what " + what + " of this tank taught."
	case t.Photos:
		return "Starts from what " + what + " of this place taught."
	}
	return fmt.Sprintf("Starts from what %s of this tank taught, %d of them of this place.", what, t.OfStation)
}

// LearnedLight says how the photos of a station come out.
func LearnedLight(l reports.LearnedLight) string {
	how := "come out as light as expected"
	if stops := Number(math.Abs(l.ExposureEV), 1); stops != "0.0" {
		than := "darker"
		if l.ExposureEV < 0 {
			than = "lighter"
		}
		how = fmt.Sprintf("come out %s stops %s than expected", stops, than)
	}
	return fmt.Sprintf("photos of %s %s, give or take %s: by %s", l.Station, how, Number(l.ExposureDoubt, 1), Count(l.Photos, "photo"))
}
