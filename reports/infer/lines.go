package infer

import (
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/stats"
)

// Trends fills in a station's rates and lines.
func (o *Outlook) Trends(l *reports.StationLine) {
	station, _ := slices.BinarySearch(o.stations, l.Station)
	var own []*Reading
	for _, r := range o.Readings {
		if r.Core.Station == l.Station {
			own = append(own, r)
		}
	}
	l.Mulm, l.Front, l.Gaps = o.lines(o.mulm, station), o.lines(o.front, station), gapsOf(own)
	if r := o.mulm.rate; r != nil {
		l.Accumulation = o.mulm.stationRate(station).Rounded(reports.RateDigits)
	} else if r := sinceSetUp(own[len(own)-1:], int(own[len(own)-1].Core.Date-o.Tank.SetUp)); o.Tank.SetUp != 0 && r != nil {
		r.over(*l.Cores[len(l.Cores)-1].Mulm)
		l.Accumulation = r.Rounded(reports.RateDigits)
	}
	if o.front.rate != nil {
		l.FrontShift = o.front.stationRate(station).Rounded(reports.RateDigits)
	}
}

// stationRate is a station's own rate.
func (c *course) stationRate(station int) reports.Estimate {
	e := c.rate.Estimate
	apart := c.fit.Apart[station]
	e.Value, e.Low, e.High = e.Value+apart, e.Low+apart, e.High+apart
	return e
}

func trendPoint(day layers.Date, e reports.Estimate) reports.TrendPoint {
	return reports.TrendPoint{Date: day, MM: reports.Round(e.Value, reports.LengthDigits), Low: reports.Round(e.Low, reports.LengthDigits), High: reports.Round(e.High, reports.LengthDigits)}
}

// lines are a station's course, one through each block of sound readings between two removals with
// readings on two or more days. The limits bound 90 % at each day by itself, not the whole line. No
// line or limit lies above the bed surface.
func (o *Outlook) lines(c *course, station int) []reports.TrendLine {
	lines := []reports.TrendLine{}
	if c.rate == nil {
		return lines
	}
	var line reports.TrendLine
	segment := -1
	end := func() {
		if len(line.Points) > 1 {
			lines = append(lines, line)
		}
		line = reports.TrendLine{}
	}
	for k, i := range c.at {
		r := o.Readings[i]
		if r.Core.Station != o.stations[station] || c.fit.Sound[k] < 0.5 {
			continue
		}
		t := o.monthsOf(r.Core.Date)
		if s, _ := slices.BinarySearch(c.removals, t); s != segment {
			end()
			segment = s
		}
		value, deviation := c.fit.At(station, t)
		half := stats.Z90 * deviation
		line.Points = append(line.Points, trendPoint(r.Core.Date, reports.Estimate{Value: max(0, value), Low: max(0, value-half), High: max(0, value+half)}))
	}
	end()
	return lines
}

// gapsOf are the gaps between a station's readings, sorted by date.
func gapsOf(readings []*Reading) []reports.Gap {
	gaps := []reports.Gap{}
	var days []layers.Date
	for _, r := range readings {
		days = append(days, r.Core.Date)
	}
	days = slices.Compact(days)
	if len(days) < 3 { // one interval is its own median
		return gaps
	}
	var waits []float64
	for i := range days[1:] {
		waits = append(waits, float64(days[i+1]-days[i]))
	}
	least := max(leastGapDays, usualGaps*stats.Quantile(slices.Clone(waits), 0.5))
	for i, wait := range waits {
		if wait > least {
			gaps = append(gaps, reports.Gap{From: days[i], Until: days[i+1]})
		}
	}
	return gaps
}

// A gap lies between two readings that are further apart than usualGaps of the station's median
// intervals and than leastGapDays (assumptions; the days are one and a half of the usual wait).
const (
	usualGaps    = 2
	leastGapDays = 3 * UsualWait / 2
)

// UsualWait is when to read again unless a rule says otherwise, days (common practice: monthly).
const UsualWait = 30
