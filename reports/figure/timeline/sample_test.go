package timeline

import (
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/figure/internal/testpictures"
)

// drawnTimeline is any record that a logbook may come to, and some that none does.
func drawnTimeline(t *rapid.T) reports.Timeline {
	line := reports.Timeline{ID: "kettle", Name: rapid.SampledFrom(typedNames).Draw(t, "name")}
	start := layers.FirstDate + layers.Date(rapid.IntRange(0, 18000).Draw(t, "start"))
	for range rapid.IntRange(0, 6).Draw(t, "stations") {
		line.Stations = append(line.Stations, drawnStation(t, start))
	}
	last := start
	for _, s := range line.Stations {
		last = max(last, s.Cores[len(s.Cores)-1].Date)
	}
	line.AsOf = last + layers.Date(rapid.SampledFrom([]int{0, 0, 3, 200}).Draw(t, "since"))
	if rapid.Bool().Draw(t, "set up told") {
		line.SetUp = start - layers.Date(rapid.IntRange(1, 1500).Draw(t, "age"))
	}
	kinds := append(layers.EventKinds(), "else")
	for range rapid.IntRange(0, 60).Draw(t, "events") {
		e := layers.Event{Date: start + layers.Date(rapid.IntRange(-400, int(line.AsOf-start)).Draw(t, "day")), Kind: rapid.SampledFrom(kinds).Draw(t, "kind")}
		e.Note = rapid.SampledFrom(typedNames).Draw(t, "note")
		line.Events = append(line.Events, e)
	}
	drawnAhead(t, &line)
	if p := rapid.SampledFrom([]float64{-1, 0.1, 0.3, 0.5, 1}).Draw(t, "runaway"); p >= 0 {
		line.Watch = &reports.Watch{Probability: &p, NextReading: line.AsOf}
		if rapid.Bool().Draw(t, "since told") {
			line.Watch.Since = start + layers.Date(rapid.IntRange(-400, int(line.AsOf-start)+10).Draw(t, "since when"))
		}
	}
	if rapid.Bool().Draw(t, "frames") {
		line.FrontShift, line.FloorShift = testpictures.About(2), testpictures.About(-3)
	}
	return line
}

var typedNames = []string{
	"", "Kettle", "left", "A tank whose keeper gave it the longest name that a logbook takes, of 80 letters", "<b>&\"' ]]>",
	"حوض الاسماك الكبير", "\u202etxet\u2028 \x00", "wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
}

func drawnStation(t *rapid.T, start layers.Date) reports.StationLine {
	s := reports.StationLine{Station: rapid.SampledFrom(typedNames).Draw(t, "station")}
	day := start + layers.Date(rapid.IntRange(0, 90).Draw(t, "first"))
	wait := rapid.SampledFrom([]int{1, 7, 30, 90}).Draw(t, "wait")
	for range rapid.IntRange(1, 30).Draw(t, "cores") {
		if n := len(s.Cores); n > 0 && day-s.Cores[n-1].Date >= 200 {
			s.Gaps = append(s.Gaps, reports.Gap{From: s.Cores[n-1].Date, Until: day})
		}
		core := reports.Core{Reliable: true, Station: s.Station, Date: day, Mulm: testpictures.About(rapid.Float64Range(0, 90).Draw(t, "mulm"))}
		core.OxicDepth = testpictures.About(rapid.Float64Range(0, 120).Draw(t, "oxic"))
		core.OxicDepth.Basis = rapid.SampledFrom([]reports.Basis{reports.RustFront, reports.NotReached}).Draw(t, "basis")
		core.OxicDepth.AtLeast = core.OxicDepth.Basis == reports.NotReached
		switch rapid.IntRange(0, 9).Draw(t, "untold") {
		case 0:
			core.Mulm.AtLeast = true
		case 1:
			core.Mulm = nil
		case 2:
			core.OxicDepth = nil
		}
		top := 0.0
		for range rapid.IntRange(0, 6).Draw(t, "layers") {
			mm := rapid.OneOf(rapid.Float64Range(0.1, 2), rapid.Float64Range(1, 80)).Draw(t, "mm")
			core.Layers = append(core.Layers, reports.Layer{
				TopMM: top, Thickness: reports.Estimate{Value: mm}, Band: rapid.SampledFrom(palette.Bands()).Draw(t, "band"),
				Hex: palette.Color{R: uint8(rapid.IntRange(0, 255).Draw(t, "red")), G: rapid.SampledFrom([]uint8{90, 250}).Draw(t, "green"), B: 60},
			})
			top += mm
		}
		s.Cores = append(s.Cores, core)
		s.Mulm = append(s.Mulm, reports.TrendLine{Points: []reports.TrendPoint{{Date: day, MM: 5, High: 9}, {Date: day + 40, MM: 9, Low: 7, High: 90}}})
		day += layers.Date(rapid.IntRange(0, wait).Draw(t, "then"))
		if rapid.IntRange(0, 9).Draw(t, "pause") == 0 {
			day += 200
		}
	}
	if rapid.Bool().Draw(t, "rates") {
		s.Accumulation, s.FrontShift = testpictures.About(2), testpictures.About(-3)
	}
	return s
}

// drawnAhead adds what lies ahead.
func drawnAhead(t *rapid.T, line *reports.Timeline) {
	f := reports.Forecast{LimitMM: rapid.SampledFrom([]float64{1, 50, 120, 500}).Draw(t, "limit")}
	at := func(days int) *layers.Date { d := line.AsOf + layers.Date(days); return &d }
	switch rapid.IntRange(0, 4).Draw(t, "ahead") {
	case 0:
		return
	case 1:
	case 2:
		f.Earliest = at(90)
	case 3:
		f.Earliest, f.Expected, f.Latest = at(0), at(0), at(300)
	case 4:
		f.Earliest, f.Expected = at(90), at(400)
	}
	line.LimitReached = &f
	mm := rapid.Float64Range(0, 100).Draw(t, "now")
	for day := range rapid.IntRange(1, 30).Draw(t, "points") {
		line.Forecast = append(line.Forecast, reports.TrendPoint{Date: line.AsOf + layers.Date(30*day), MM: mm, Low: mm * 0.8, High: mm * (1.1 + float64(day)/10)})
		mm += 2
	}
}
