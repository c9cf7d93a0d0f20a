package layers

import "slices"

// WaterTest is one set of water readings; nil fields were not measured. A tank has one of a
// date and time.
type WaterTest struct {
	Date         Date
	Time         string // HH:MM, empty: not given
	PH           *float64
	TemperatureC *float64
	TotalAmmonia *float64 // mg N/L
	OxygenMGPerL *float64
}

// TotalAmmoniaField names the field that, with pH and temperature, tells un-ionised ammonia.
const TotalAmmoniaField = "total_ammonia_mg_l"

// WaterFields are the fields of a water test, its date and time first.
func WaterFields() []Field[WaterTest] { return waterTable.fields }

// WaterKey are the fields that tell a tank's water tests apart: date and time.
func WaterKey() []Field[WaterTest] { return waterTable.fields[:2] }

// WaterReadings are the fields of a water test that may be measured.
func WaterReadings() []Field[WaterTest] { return waterTable.fields[2:] }

// Measured reports whether anything was.
func (w WaterTest) Measured() bool {
	return slices.ContainsFunc(WaterReadings(), func(f Field[WaterTest]) bool { return f.Given(&w) })
}

// The ranges of what is measured (assumptions, see the others).
var (
	phRange          = measure{low: 4, high: 11}
	temperatureRange = measure{low: 0, high: 45, unit: " °C", of: temperature}
	ammoniaRange     = measure{low: 0, high: 50, unit: " mg N/L"}
	oxygenRange      = measure{low: 0, high: 40, unit: " mg/L"} // far above saturation
)

var waterTable = tableOf(nil,
	field("date", dateKind(), func(w *WaterTest) *Date { return &w.Date }).needed().
		seen(Words{Label: "Day", Head: "date", Flag: "date", Usage: "the test was made on `DATE`, YYYY-MM-DD"}),
	field("time", wording((*Decoder).clock, asTyped[string]).asked(InputClock), func(w *WaterTest) *string { return &w.Time }).
		seen(Words{Label: "Time", Head: "time", Flag: "time", Usage: "at `HH:MM`"}),
	field("ph", optional(phRange), func(w *WaterTest) **float64 { return &w.PH }).
		seen(Words{Label: "pH", Head: "pH", Before: "pH", Flag: "ph", Usage: "`PH`, 4 to 11", Decimals: 2}),
	field("temperature_c", optional(temperatureRange), func(w *WaterTest) **float64 { return &w.TemperatureC }).
		seen(Words{Label: "Temperature", Head: "°C", Flag: "temp", Usage: "water temperature `T`: 24C or 75F", Decimals: 1}),
	field(TotalAmmoniaField, optional(ammoniaRange), func(w *WaterTest) **float64 { return &w.TotalAmmonia }).
		seen(Words{Label: "Total ammonia", Head: "ammonia", Legend: "total, mg N/L", Before: "total ammonia", Flag: "ammonia",
			Usage: "total ammonia as the test gives it, `MG` N/L", Decimals: 3}),
	field("oxygen_mg_l", optional(oxygenRange), func(w *WaterTest) **float64 { return &w.OxygenMGPerL }).
		seen(Words{Label: "Oxygen", Head: "oxygen", Legend: "dissolved, mg/L", Before: "oxygen", Flag: "oxygen",
			Usage: "dissolved oxygen, `MG`/L", Decimals: 2}),
)
