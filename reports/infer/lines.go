package infer

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/stats"

	"gonum.org/v1/gonum/stat"
)

func trendPoint(day layers.Date, e reports.Estimate) reports.TrendPoint {
	return reports.TrendPoint{Date: day, MM: reports.Round(e.Value, reports.LengthDigits), Low: reports.Round(e.Low, reports.LengthDigits), High: reports.Round(e.High, reports.LengthDigits)}
}

// lines are a station's trend lines: one through each block with readings on two or more days, all
// with the station's rate b, t counted in months from first. No line or limit lies above the bed
// surface.
//
// A block's level is the median of y - b t (Conover 1980, from memory), so half its readings lie on
// either side. The limits bound 90 % at each day by itself, not the whole line: the level's
// half-width, z90 s √(π/2n) as for a median of n normal deviates, and the rate's, times the months
// from the block's mean day, taken as independent (assumption) and added in quadrature. The rate's
// limits may be uneven about it, and so may the line's.
func (r *Rate) lines(blocks []stats.Block, first layers.Date) []reports.TrendLine {
	lines := []reports.TrendLine{}
	if r == nil {
		return lines
	}
	straying := r.straying(blocks)
	for _, b := range blocks {
		level, middle := r.level(b), stat.Mean(b.T, nil)
		half := stats.Z90 * straying * math.Sqrt(math.Pi/2/float64(len(b.T)))
		var line reports.TrendLine
		for i, t := range b.T {
			if i > 0 && t == b.T[i-1] {
				continue
			}
			line.Points = append(line.Points, trendPoint(first+layers.Date(math.Round(t*layers.DaysPerMonth)), r.at(level, half, t, middle)))
		}
		if len(line.Points) > 1 {
			lines = append(lines, line)
		}
	}
	return lines
}

// at is a line with its limits at t; its doubt turns it about its middle.
func (r *Rate) at(level, half, t, middle float64) reports.Estimate {
	value, lever := level+r.Value*t, t-middle
	down, up := r.Value-r.Low, r.High-r.Value
	if lever < 0 {
		down, up = up, down
	}
	return reports.Estimate{
		Value: max(0, value),
		Low:   max(0, value-math.Hypot(half, lever*down)),
		High:  max(0, value+math.Hypot(half, lever*up)),
	}
}

// level is where a block's line stands at t = 0, mm.
func (r *Rate) level(b stats.Block) float64 {
	levels := make([]float64, len(b.T))
	for i, t := range b.T {
		levels[i] = b.Y[i] - r.Value*t
	}
	return stats.Quantile(levels, 0.5)
}

// madToDeviation turns the median absolute deviation of a normal distribution into its standard
// deviation: 1/Φ⁻¹(3/4). That is as good as a root mean square of madEfficiency of the readings
// (Rousseeuw & Croux 1993, J. Am. Stat. Assoc. 88:1273, from memory).
const (
	madToDeviation = 1.4826
	madEfficiency  = 0.37
)

// straying is how far one reading strays from its line, mm, standard deviation: from the residuals
// of all blocks, less the degrees of freedom that their levels and the rate took. It is at least
// readingError, with fewer than ExactBelow readings combined with spotError; with more it is widened
// for its own doubt, as Student's t is. A block with one reading shows none.
func (r *Rate) straying(blocks []stats.Block) float64 {
	var off []float64
	taken := 1
	for _, b := range blocks {
		if len(b.T) < 2 {
			continue
		}
		taken++
		level := r.level(b)
		for i, t := range b.T {
			off = append(off, math.Abs(b.Y[i]-level-r.Value*t))
		}
	}
	n, freedom := float64(len(off)), float64(len(off)-taken)
	few := math.Hypot(readingError, spotError)
	if freedom <= 0 {
		return few
	}
	shown := madToDeviation * stats.Quantile(off, 0.5) * math.Sqrt(n/freedom)
	if len(off) < stats.ExactBelow {
		return max(few, shown)
	}
	return max(readingError, shown*student(stats.Z90, madEfficiency*freedom)/stats.Z90)
}

// A gap lies between two readings that are further apart than usualGaps of the station's median
// intervals and than leastGapDays (assumptions; the days are one and a half of the usual wait).
const (
	usualGaps    = 2
	leastGapDays = 3 * UsualWait / 2
)

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

// Trends fills in a station's rates and lines, as of a tank that has no other station.
func (o *Outlook) Trends(l *reports.StationLine) {
	var own []*Reading
	for _, r := range o.Readings {
		if r.Core.Station == l.Station {
			own = append(own, r)
		}
	}
	first, last := own[0].Core.Date, own[len(own)-1]
	mulm, front := blocksOf(own, mulmOf), blocksOf(own, frontOf)
	growth, shift := rateOf(mulm), rateOf(front)
	l.Mulm, l.Front, l.Gaps = growth.lines(mulm, first), shift.lines(front, first), gapsOf(own)
	if growth == nil && o.Tank.SetUp != 0 {
		if growth = sinceSetUp([]*Reading{last}, int(last.Core.Date-o.Tank.SetUp)); growth != nil {
			growth.over(*l.Cores[len(l.Cores)-1].Mulm)
		}
	}
	if growth != nil {
		l.Accumulation = growth.Rounded(reports.RateDigits)
	}
	if shift != nil {
		l.FrontShift = shift.Rounded(reports.RateDigits)
	}
}

// UsualWait is when to read again unless a rule says otherwise, days (common practice: monthly).
const UsualWait = 30
