package forms

import (
	"cmp"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/reports/judge"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// WaterRecords are a tank's water tests and the form for another.
func (s *Room) WaterRecords(tank layers.Tank, f *Form) Records {
	f = entryForm(f, s.Today())
	tests := slices.SortedStableFunc(slices.Values(tank.Water), func(a, b layers.WaterTest) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Time, b.Time))
	})
	var rows []recordRow
	for _, test := range tests {
		rows = append(rows, s.waterRow(test, tank.Limits))
	}
	return Records{Rows: site.Fold(rows), Form: f, What: "a water test", To: site.TankAddress(tank.ID) + "/water", Anchor: "water", Add: fieldsOf(f, "water", layers.WaterFields(), s.Units, s.Today())}
}

// waterRow is a water test in words, held against the limits of its tank.
func (s *Room) waterRow(test layers.WaterTest, limits layers.Limits) recordRow {
	row := recordRow{Head: strings.TrimSpace(test.Date.String() + " " + test.Time), Mark: entryMark(waterIn, test)}
	var parts []string
	passed := func(what, limit, unit string) {
		row.Over = append(row.Over, what+" the limit of "+limit+" "+unit)
	}
	for _, f := range layers.WaterReadings() {
		if f.Given(&test) {
			parts = append(parts, f.Said(&test, s.Units))
		}
		if f.Name == layers.TotalAmmoniaField && test.TotalAmmonia != nil && test.PH != nil && test.TemperatureC != nil {
			if read, err := judge.ReadAmmonia(*test.TotalAmmonia, *test.PH, *test.TemperatureC); err == nil {
				m := words.Ammonia()
				parts = append(parts, "un-ionised "+m.Plain(read.UnionisedN)+" "+m.Unit)
				if limit, _ := limits.Of(layers.LimitAmmonia); read.UnionisedN > limit {
					passed("un-ionised ammonia above", m.Plain(limit), m.Unit)
				}
			}
		}
	}
	if limit, _ := limits.Of(layers.LimitTotalAmmonia); test.TotalAmmonia != nil && *test.TotalAmmonia > limit {
		passed("total ammonia above", plainNumber(limit), "mg N/L")
	}
	if limit, _ := limits.Of(layers.LimitOxygen); test.OxygenMGPerL != nil && *test.OxygenMGPerL < limit {
		passed("oxygen below", plainNumber(limit), "mg/L")
	}
	row.Text = strings.Join(parts, ", ")
	return row
}

// plainNumber writes a number as it was entered.
func plainNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (s *Room) addWater(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	id := r.PathValue("id")
	var test layers.WaterTest
	readFields(f, &test, layers.WaterFields(), s.Units)
	if !test.Measured() {
		f.complain("ph", errors.New("found nothing measured, want "+layers.OneOf(measurable())))
	}
	if !f.Failed() {
		f.refuse(s.Store.AddWater(r.Context(), id, test), keyAt(layers.WaterFields()))
	}
	if f.Failed() {
		return s.showTank(w, r, f.status, f, nil)
	}
	site.Say(w, r, site.TankAddress(id)+site.AtTop, "The water test of "+test.Date.String()+" is saved.")
	return nil
}

func measurable() (names []string) {
	for _, f := range layers.WaterReadings() {
		names = append(names, cmp.Or(f.Before, strings.ToLower(f.Label)))
	}
	return names
}

func (s *Room) removeWater(w http.ResponseWriter, r *http.Request) error {
	return removeEntry(s, w, r, waterIn, "the water test is no longer there as it was shown: it was changed or removed elsewhere",
		func(id string, test layers.WaterTest) (what string, err error) {
			return "water test of " + test.Date.String(), s.Store.RemoveWater(r.Context(), id, test.Date, test.Time)
		})
}

func waterIn(t *layers.Tank) *[]layers.WaterTest { return &t.Water }
