package judge

import (
	"errors"
	"fmt"

	"panecore/layers/bed"
	"panecore/reports"
)

// The ranges that ReadAmmonia takes (assumption: wider than any tank that holds
// fish, narrower than a slip of the pen).
const (
	minPH, maxPH                     = 4, 11
	minTemperatureC, maxTemperatureC = 0, 45 // °C
	minTotalAmmonia, maxTotalAmmonia = 0, 50 // mg N/L
)

// ReadAmmonia splits total ammonia, mg N/L, at a pH and a temperature in °C, and
// holds it against the limit for fresh-water fish. Its error names every number
// that is out of range, a line each.
func ReadAmmonia(total, pH, celsius float64) (reports.Ammonia, error) {
	err := errors.Join(
		inRange("total ammonia", total, minTotalAmmonia, maxTotalAmmonia, " mg N/L"),
		inRange("pH", pH, minPH, maxPH, ""),
		inRange("temperature", celsius, minTemperatureC, maxTemperatureC, " °C"),
	)
	if err != nil {
		return reports.Ammonia{}, err
	}
	share := bed.UnionisedShare(pH, celsius)
	unionised := total * share
	return reports.Ammonia{
		Format:       reports.AmmoniaFormat,
		PH:           pH,
		TemperatureC: celsius,
		TotalAmmonia: total,
		Share:        share,
		UnionisedN:   unionised,
		UnionisedNH3: unionised * bed.NH3PerN,
		LimitNH3:     bed.EIFACLimitNH3,
		LimitSource:  "EIFAC 1970, Technical Paper 11: long-term limit for fresh-water fish",
		TotalAtLimit: bed.EIFACLimitN / share,
		OverLimit:    unionised > bed.EIFACLimitN,
		MonthTotal:   bed.AmmoniaChronicLimit(pH, celsius),
		HourTotal:    bed.AmmoniaAcuteLimit(pH, celsius),
		Notes:        ammoniaNotes(),
	}, nil
}

func inRange(quantity string, value, low, high float64, unit string) error {
	if low <= value && value <= high {
		return nil
	}
	return fmt.Errorf("found %s %g%s, want %g to %g%s", quantity, value, unit, low, high, unit)
}

// ammoniaNotes say what the numbers rest on and how far they carry.
func ammoniaNotes() []string {
	return []string{
		"a limit for wild waters; passing it does not prove a fish is safe, and failing it does not prove harm",
		"total ammonia counts as nitrogen (N); a kit that counts NH4 reads 1.29 times as much, one that counts NH3 1.22 times",
		"take the highest pH of the day: plants in light raise it, and each unit makes ammonia bite about ten times harder",
		"un-ionised share in fresh water after Emerson, Russo, Lund & Thurston 1975",
		"test again before acting; where animals ail, ask an aquatic veterinarian",
	}
}
