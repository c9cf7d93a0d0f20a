package testpictures

import (
	"fmt"
	"math"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// About is an estimate of a depth, 1 mm to either side.
func About(mm float64) *reports.Estimate {
	return &reports.Estimate{Value: mm, Low: max(0, mm-1), High: mm + 1}
}

// bedOf is an invented core of mulm on a rust front, a black zone and sand.
func bedOf(station string, day layers.Date, mulm, rust, black, sand float64) reports.Core {
	core := reports.Core{Reliable: true, Station: station, Date: day, Mulm: About(mulm), OxicDepth: About(mulm + rust)}
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
		core.Layers = append(core.Layers, reports.Layer{TopMM: top, Thickness: *About(l.mm), Hex: l.c, Band: l.band, Probability: 0.9})
		top += l.mm
	}
	for i := range core.Layers {
		core.Layers[i].Thickness.Value = []float64{0.6 * mulm, 0.4 * mulm, rust, black, sand}[i]
	}
	return core
}

// Siphoned is an invented tank that was siphoned once, left unread for a while at one
// station, and goes on to its limit.
func Siphoned() reports.Timeline {
	const start, month = layers.Date(19800), 30
	line := reports.Timeline{ID: "bell", Name: "Bell house", SetUp: start - 70, AsOf: start + 20*month, Accumulation: About(2.1)}
	share, depth := 0.25, 10.0
	line.Events = []layers.Event{
		{Date: start + 95, Kind: layers.EventWaterChange, Share: &share},
		{Date: start + 9*month, Kind: layers.EventSiphon, Share: &share, DepthMM: &depth, Note: "all along the pane"},
		{Date: start + 9*month + 12, Kind: layers.EventReplant, Note: "two stems"},
		{Date: start + 17*month + 4, Kind: layers.EventDeadAnimal},
	}
	for n, station := range []string{"left", "right"} {
		s := reports.StationLine{Station: station, Accumulation: About(2 + float64(n)), FrontShift: About(2)}
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

// Runaway is Siphoned with a runaway that began between its last readings but six: the front rises while
// mulm buries it as fast, so that its depth shows little.
func Runaway() reports.Timeline {
	line := Siphoned()
	likely := 0.87
	line.FrontShift, line.FloorShift = &reports.Estimate{Value: 0.6, Low: 0.2, High: 1}, &reports.Estimate{Value: -2.5, Low: -3.1, High: -1.9}
	line.Watch = &reports.Watch{Probability: &likely, Since: line.AsOf - 170, NextReading: line.AsOf + 14}
	line.Events = slices.DeleteFunc(line.Events, func(e layers.Event) bool { return e.Kind == layers.EventWaterChange }) // its ring is told apart elsewhere
	for i := range line.Stations {
		for n := range line.Stations[i].Cores {
			core := &line.Stations[i].Cores[n]
			rise := 0.05 * float64(max(0, core.Date-line.Watch.Since)) // the black zone swells by 1.5 mm a month
			black, sand := &core.Layers[3], &core.Layers[4]
			black.Thickness.Value += rise
			sand.TopMM, sand.Thickness.Value = sand.TopMM+rise, sand.Thickness.Value-rise
		}
	}
	return line
}

// TenYears is an invented tank of 120 monthly cores, at two stations, with 60 events.
func TenYears() reports.Timeline {
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
		line.Events = append(line.Events, layers.Event{Date: layers.Date(15000 + 60*i), Kind: kinds[5*i%len(kinds)], Note: fmt.Sprint("number ", i)})
	}
	return line
}
