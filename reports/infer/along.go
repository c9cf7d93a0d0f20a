package infer

import (
	"math"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/stats"
	"panecore/reports/trend"
)

// chances are the random numbers of one draw of a tank's courses. All courses share them: a spot with
// more mulm has its front deeper.
type chances struct {
	trend.Deviates
	name float64 // uniform: which way to name the record
}

func (d *dice) chances() chances {
	return chances{
		trend.Deviates{Way: d.Float64(), Spread: d.Float64(), Level: d.normal(), Rate: d.normal(), Floor: d.normal(), Ahead: d.normal()},
		d.Float64(),
	}
}

// along draws where the tank's mulm stands, how fast mulm and front go, and how the mulm goes on.
func (o *Outlook) along(by chances, drawers []*Drawer, now *Truth) trend.Now {
	course := o.mulm.draw(by)
	course.Level = max(0, course.Level+effect(drawers, mulmOf))
	if bare(drawers) {
		course.Level = 0
	}
	switch {
	case o.mulm.rate != nil:
	case o.Growth != nil: // since set-up
		course.Rate = o.Growth.ever(course.Level, by.Rate)
		course.Ahead, course.Decay = course.Rate, 0
	default:
		course.Rate, course.Ahead = 0, 0
	}
	now.Mulm, now.Growth = course.Level, course.Rate
	now.Shift, now.ShiftKnown = 0, o.Shift != nil
	if now.ShiftKnown {
		now.Shift = o.front.draw(by).Rate
	}
	return course
}

// Seasonal reports that the mulm likely has a season.
func (o *Outlook) Seasonal() bool {
	return o.mulm != nil && o.mulm.fit != nil && o.mulm.fit.Season > 0.5
}

// oxic draws the tank's colour oxic depth from the front's course; NaN: not all of the newest
// readings saw the front, or none did by the names that were settled on.
func (o *Outlook) oxic(by chances, drawers []*Drawer) float64 {
	for _, d := range drawers {
		if d.Reading.Named.basis == reports.NotReached || d.Drawn.basis == reports.NotReached {
			return math.NaN()
		}
	}
	if o.front.fit == nil {
		return math.NaN()
	}
	return max(0, o.front.draw(by).Level+effect(drawers, frontOf))
}

// bare reports that no mulm at all lies at any station in this draw.
func bare(drawers []*Drawer) bool {
	return !slices.ContainsFunc(drawers, func(d *Drawer) bool { return d.Stood.Drawn.Mulm > 0 })
}

// effect is what the names of this draw add to the stations' mean of a quantity, mm: it leaves out how
// the edges stray, which the course knows better.
func effect(drawers []*Drawer, of func(Profile) (float64, bool)) (sum float64) {
	for _, d := range drawers {
		if slices.Equal(d.Names, d.Reading.Names) && d.Reading.Settled == d.Reading.Named {
			continue
		}
		named, _ := of(d.Reading.Settled)
		drawn, _ := of(newProfile(d.Reading.Edges, d.Names, 0.5))
		sum += (drawn - named) / float64(len(drawers))
	}
	return sum
}

// A Gone is mulm that went between two readings of a station without an event that explains it.
type Gone struct {
	Reading *Reading    // the one after
	From    layers.Date // when it was read before
	MM      float64
}

// findGone finds such removals and gives their times. Mulm that turned black did not go, nor did mulm
// that only has another name: its layers are as thick as before. A drop's size is that of all readings
// about it, which is more than went by the next one where the mulm goes on turning black.
func (o *Outlook) findGone() (times []float64) {
	record, at := o.record(mulmOf, o.entered)
	for _, drop := range trend.Drops(record) {
		after := slices.IndexFunc(record.Readings, func(r trend.Reading) bool { return r.Station == drop.Station && r.T >= drop.Until })
		r := o.Readings[at[after]]
		if former := r.Former; former != nil {
			went := min(drop.Size, former.Settled.Mulm-r.Settled.Mulm)
			if r.Settled.black-former.Settled.black > went/2 || renamed(former, r, drop.Size) {
				continue
			}
		}
		times = append(times, drop.After)
		o.Gone = append(o.Gone, Gone{Reading: r, From: o.dayOf(drop.After), MM: drop.Size})
	}
	return times
}

// renamed reports that so much mulm is missing from a reading only because its layers have other names
// than in the one before: there are as many, and those that were mulm are no thinner by half of it.
func renamed(former, r *Reading, missing float64) bool {
	if len(former.Edges) != len(r.Edges) {
		return false
	}
	for i, edge := range former.Edges {
		if edge >= former.Settled.Mulm {
			return edge-r.Edges[i] < missing/2
		}
	}
	return false
}

// How far the bed below the mulm may stray for the view to count as ending at the floor, mm and a share
// of the substrate as laid, in most of the readings (assumptions).
const (
	floorStray = 4.0
	floorShare = 0.1
	floorMost  = 0.75
)

// seesFloor reports that the readings end at the floor: the bed below the mulm is as thick as the
// substrate as laid or, if that is not given, always as thick at a station.
func (o *Outlook) seesFloor() bool {
	var laid float64
	for _, n := range o.Tank.Native {
		laid += n.ThicknessMM
	}
	below := map[string][]float64{}
	for _, r := range o.Readings {
		below[r.Core.Station] = append(below[r.Core.Station], r.Settled.depth-r.Settled.Mulm)
	}
	var steady, all int
	for _, list := range below {
		middle := laid
		if laid == 0 {
			middle = stats.Quantile(slices.Clone(list), 0.5)
		}
		for _, mm := range list {
			all++
			if math.Abs(mm-middle) <= max(floorStray, floorShare*laid) {
				steady++
			}
		}
	}
	return float64(steady) >= floorMost*float64(all)
}
