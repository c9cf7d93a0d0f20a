package reports

// AmmoniaFormat names the JSON form of Ammonia.
const AmmoniaFormat = "panecore-ammonia/1"

// Ammonia is what a test of total ammonia means at a pH and a temperature. Its JSON form is public.
// Concentrations are mg/L of nitrogen (N) or of the whole molecule (NH3), as the name says; those of
// total ammonia are mg N/L.
type Ammonia struct {
	Format       string   `json:"format"`
	PH           float64  `json:"ph"`
	TemperatureC float64  `json:"temperature_c"`
	TotalAmmonia float64  `json:"total_ammonia_mg_l"`
	Share        float64  `json:"unionised_share"` // 0 to 1
	UnionisedN   float64  `json:"unionised_mg_n_l"`
	UnionisedNH3 float64  `json:"unionised_mg_nh3_l"`
	LimitNH3     float64  `json:"limit_mg_nh3_l"`
	LimitSource  string   `json:"limit_source"`
	TotalAtLimit float64  `json:"total_at_limit_mg_l"` // total ammonia at which the limit is reached
	OverLimit    bool     `json:"over_limit"`
	MonthTotal   float64  `json:"month_criterion_total_mg_l"` // total ammonia tolerated as the mean of 30 days
	HourTotal    float64  `json:"hour_criterion_total_mg_l"`  // total ammonia tolerated for an hour
	Notes        []string `json:"notes"`
}
