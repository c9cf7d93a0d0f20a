package figure

import (
	"fmt"
	"math"
	"slices"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

func about(mm float64) *reports.Estimate {
	return &reports.Estimate{Value: mm, Low: max(0, mm-1), High: mm + 1}
}

// bedOf is an invented core of mulm on a rust front, a black zone and sand.
func bedOf(station string, day layers.Date, mulm, rust, black, sand float64) reports.Core {
	core := reports.Core{Reliable: true, Station: station, Date: day, Mulm: about(mulm), OxicDepth: about(mulm + rust)}
	core.OxicDepth.Basis = reports.RustFront
	top := 0.0
	for _, l := range []struct {
		mm   float64
		band palette.Band
		c    palette.Color
	}{
		{0.6 * mulm, palette.MulmLight, palette.Color{R: 0x8b, G: 0x69, B: 0x45}}, {0.4 * mulm, palette.MulmDark, palette.Color{R: 0x4e, G: 0x3c, B: 0x2a}},
		{rust, palette.Rust, palette.Color{R: 0xa6, G: 0x62, B: 0x2f}}, {black, palette.Black, palette.Color{R: 0x3a, G: 0x39, B: 0x33}},
		{sand, palette.Native, palette.Color{R: 0xd4, G: 0xc5, B: 0xa1}},
	} {
		core.Layers = append(core.Layers, reports.Layer{TopMM: top, Thickness: *about(l.mm), Hex: l.c, Band: l.band, Probability: 0.9})
		top += l.mm
	}
	for i := range core.Layers {
		core.Layers[i].Thickness.Value = []float64{0.6 * mulm, 0.4 * mulm, rust, black, sand}[i]
	}
	return core
}

// siphoned is an invented tank that was siphoned once, left unread for a while at one
// station, and goes on to its limit.
func siphoned() reports.Timeline {
	const start, month = layers.Date(19800), 30
	line := reports.Timeline{ID: "bell", Name: "Bell house", SetUp: start - 70, AsOf: start + 20*month, Accumulation: about(2.1)}
	share, depth := 0.25, 10.0
	line.Events = []reports.EventMark{
		{Date: start + 95, Kind: layers.EventWaterChange, Share: &share},
		{Date: start + 9*month, Kind: layers.EventSiphon, Share: &share, DepthMM: &depth, Note: "all along the pane"},
		{Date: start + 9*month + 12, Kind: layers.EventReplant, Note: "two stems"},
		{Date: start + 17*month + 4, Kind: layers.EventDeadAnimal},
	}
	for n, station := range []string{"left", "right"} {
		s := reports.StationLine{Station: station, Accumulation: about(2 + float64(n)), FrontShift: about(2)}
		var mulm, front [2]reports.TrendLine
		for m := range 21 {
			if n == 1 && m > 12 && m < 17 {
				continue
			}
			day, since, block := start+layers.Date(m*month+m%3), m, 0
			if m > 9 {
				since, block = m-8, 1
			}
			at := 6 + float64(n) + 2*float64(since)
			core := bedOf(station, day, at+1.6*math.Sin(float64(3*m+n)), 4, 16, 46)
			s.Cores = append(s.Cores, core)
			mulm[block].Points = append(mulm[block].Points, reports.TrendPoint{Date: day, MM: at, Low: at - 1.2, High: at + 1.2})
			front[block].Points = append(front[block].Points, reports.TrendPoint{Date: day, MM: at + 4, Low: at + 2.5, High: at + 5.5})
		}
		s.Mulm, s.Front = mulm[:], front[:]
		line.Stations = append(line.Stations, s)
	}
	cores := line.Stations[1].Cores
	line.Stations[1].Gaps = []reports.Gap{{From: cores[12].Date, Until: cores[13].Date}}
	for m := range 9 {
		at := 31 + 2.1*float64(m)
		line.Forecast = append(line.Forecast, reports.TrendPoint{Date: line.AsOf + layers.Date(m*month), MM: at, Low: at - 2 - 0.3*float64(m), High: at + 2 + 0.5*float64(m)})
	}
	earliest, expected, latest := line.AsOf+210, line.AsOf+272, line.AsOf+350
	line.LimitReached = &reports.Forecast{LimitMM: 50, Earliest: &earliest, Expected: &expected, Latest: &latest}
	return line
}

// tenYears is an invented tank of 120 monthly cores, at two stations, with 60 events.
func tenYears() reports.Timeline {
	line := reports.Timeline{ID: "mill", Name: "Mill", AsOf: 15000 + 120*30}
	for _, station := range []string{"left", "right"} {
		s := reports.StationLine{Station: station}
		for m := range 120 {
			s.Cores = append(s.Cores, bedOf(station, layers.Date(15000+30*m), 5+0.3*float64(m), 4, 20, 60))
		}
		line.Stations = append(line.Stations, s)
	}
	kinds := slices.DeleteFunc(layers.EventKinds(), func(k layers.EventKind) bool { // those that have the same mark as a note
		return k == layers.EventGasping || k == layers.EventEggSmell || k == layers.EventWhiteThreads
	})
	for i := range 60 {
		line.Events = append(line.Events, reports.EventMark{Date: layers.Date(15000 + 60*i), Kind: kinds[5*i%len(kinds)], Note: fmt.Sprint("number ", i)})
	}
	return line
}

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
		e := reports.EventMark{Date: start + layers.Date(rapid.IntRange(-400, int(line.AsOf-start)).Draw(t, "day")), Kind: rapid.SampledFrom(kinds).Draw(t, "kind")}
		e.Note = rapid.SampledFrom(typedNames).Draw(t, "note")
		line.Events = append(line.Events, e)
	}
	drawnAhead(t, &line)
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
		core := reports.Core{Reliable: true, Station: s.Station, Date: day, Mulm: about(rapid.Float64Range(0, 90).Draw(t, "mulm"))}
		core.OxicDepth = about(rapid.Float64Range(0, 120).Draw(t, "oxic"))
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
		s.Accumulation, s.FrontShift = about(2), about(-3)
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
