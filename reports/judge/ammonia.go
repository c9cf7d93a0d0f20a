package judge

import (
	"errors"
	"fmt"

	"panecore/layers/bed"
	"panecore/reports"
)

// The ranges that ReadAmmonia accepts (assumption: wider than any tank with fish, narrower than a
// slip of the pen).
const (
	minPH, maxPH                     = 4, 11
	minTemperatureC, maxTemperatureC = 0, 45 // °C
	minTotalAmmonia, maxTotalAmmonia = 0, 50 // mg N/L
)

// ReadAmmonia splits total ammonia, mg N/L, at a pH and a temperature in °C, and compares it with
// the limit for freshwater fish. Its error names every number out of range, a line each.
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
		Notes: []string{
			"the limit is for wild waters: staying below it does not prove that a fish is safe, and exceeding it does not prove harm",
			"total ammonia counts as nitrogen (N); a kit that counts NH4 reads 1.29 times as much, one that counts NH3 1.22 times",
			"use the highest pH of the day: plants raise it in the light, and each unit makes ammonia about ten times as harmful",
			"un-ionised share in fresh water after Emerson, Russo, Lund & Thurston 1975",
			"test again before you act; if animals are ill, ask an aquatic veterinarian",
		},
	}, nil
}

func inRange(quantity string, value, low, high float64, unit string) error {
	if low <= value && value <= high {
		return nil
	}
	return fmt.Errorf("found %s %g%s, want %g to %g%s", quantity, value, unit, low, high, unit)
}
