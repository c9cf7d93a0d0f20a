package table

import (
	"io"
	"strconv"

	"panecore/reports"
	"panecore/reports/words"
)

// WriteAmmonia writes what a test of total ammonia means: the verdict, the
// numbers, the notes. Its errors are those of w.
func WriteAmmonia(w io.Writer, a reports.Ammonia, o Options) error {
	p := newPage(o)
	p.text(0, ammoniaVerdict(a))
	p.line()
	asNH3 := words.Other("mg NH3/L")
	shown := func(name string, x float64, m words.Measure) []string {
		return []string{name, p.plain(m.Plain(x)), m.Unit}
	}
	criterion := func(name string, x float64) []string { // printed to two digits
		return []string{name, words.Number(x, 2), words.Ammonia().Unit}
	}
	given := func(name string, x float64, unit string) []string {
		return []string{name, strconv.FormatFloat(x, 'f', -1, 64), unit}
	}
	p.grid(grid{
		columns: []column{left(""), right("value").near(), left("")},
		rows: [][]string{
			given("total ammonia", a.TotalAmmonia, "mg N/L"),
			given("pH", a.PH, ""),
			given("temperature", a.TemperatureC, p.plain("°C")),
			shown("un-ionised share", 100*a.Share, words.Other("%")),
			shown("un-ionised ammonia, as nitrogen", a.UnionisedN, words.Ammonia()),
			shown("un-ionised ammonia, as the whole molecule", a.UnionisedNH3, asNH3),
			shown("limit, "+a.LimitSource, a.LimitNH3, asNH3),
			shown("total ammonia that would hold the limit here", a.TotalAtLimit, words.Ammonia()),
			criterion("criterion for total ammonia, mean of a month, USEPA 2013", a.MonthTotal),
			criterion("criterion for total ammonia, for an hour, no trout, USEPA 2013", a.HourTotal),
		},
	})
	p.section("Notes", a.Notes)
	return p.write(w)
}

func ammoniaVerdict(a reports.Ammonia) string {
	if a.OverLimit {
		return "Over the long-term limit for fresh-water fish."
	}
	return "Not over the long-term limit for fresh-water fish."
}
