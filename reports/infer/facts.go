package infer

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panecore/layers"
)

// Facts are what the keeper wrote down about a tank, as of a day. Nothing in it is drawn.
type Facts struct {
	AsOf       layers.Date
	AgeDays    int // since set-up; -1: not given
	Flow       layers.Flow
	Rooted     Trit
	Burrowers  Trit
	BareSand   bool // some of the substrate was laid as sand, and nothing roots in it
	Recent     map[layers.Sign]layers.Date
	Deaths     int           // dead animals noted lately
	Calm       layers.Date   // the newest core that notes no trouble; zero: none
	Unfollowed string        // trouble that the newest core notes, longer ago than signs count
	Siphoned   layers.Date   // last siphoning, zero: none
	Stirred    layers.Date   // last stir, zero: none
	Replanted  layers.Date   // last replanting, zero: none
	Worked     *layers.Event // the last work on the bed since the newest core; nil: none
	Tests      *WaterTests
	Units      layers.Units             // of lengths in sentences
	limits     [limitCount]limitInForce // by layers.Limit
}

const limitCount = int(layers.LimitTotalAmmonia) + 1

// A limitInForce is the keeper's own or the usual one.
type limitInForce struct {
	value float64
	own   bool // set by the keeper
}

func limitsOf(set layers.Limits) (in [limitCount]limitInForce) {
	for l := range in {
		in[l].value, in[l].own = set.Of(layers.Limit(l))
	}
	return in
}

// Limit is the value of a limit in force.
func (f *Facts) Limit(l layers.Limit) float64 { return f.limits[l].value }

// Trit is yes, no or not given.
type Trit int8

// The answers.
const (
	NotGiven Trit = iota
	No
	Yes
)

func tritOf(b *bool) Trit {
	switch {
	case b == nil:
		return NotGiven
	case *b:
		return Yes
	}
	return No
}

// newFacts gathers the facts of a tank whose records end at asOf.
func newFacts(tank layers.Tank, asOf layers.Date, units layers.Units) *Facts {
	f := &Facts{
		AsOf:      asOf,
		AgeDays:   -1,
		Flow:      tank.Flow,
		Rooted:    tritOf(tank.RootedPlants),
		Burrowers: tritOf(tank.Burrowers),
		Recent:    map[layers.Sign]layers.Date{},
		Units:     units,
		limits:    limitsOf(tank.Limits),
	}
	f.Tests = newWaterTests(tank.Water, f)
	if tank.SetUp != 0 {
		f.AgeDays = int(asOf - tank.SetUp)
	}
	sand := slices.ContainsFunc(tank.Native, func(n layers.Native) bool { return n.Kind == layers.Sand })
	f.BareSand = sand && f.Rooted == No
	since := asOf - layers.Date(f.Limit(layers.LimitDecayDays))
	alarming := max(since, asOf-AlarmDays)
	died := map[layers.Date]bool{} // days on which a death was entered
	for _, event := range tank.Events {
		switch event.Kind {
		case layers.EventDeadAnimal:
			f.note(layers.DeadAnimal, event.Date, since)
			if event.Date >= alarming {
				f.Deaths++
				died[event.Date] = true
			}
		case layers.EventPlantMelt:
			f.note(layers.PlantMelt, event.Date, since)
		case layers.EventGasping:
			f.note(layers.Gasping, event.Date, since)
		case layers.EventEggSmell:
			f.note(layers.EggSmell, event.Date, since)
		case layers.EventWhiteThreads:
			f.note(layers.WhiteThreads, event.Date, since)
		case layers.EventSiphon:
			f.Siphoned = max(f.Siphoned, event.Date)
		case layers.EventStir:
			f.Stirred = max(f.Stirred, event.Date)
		case layers.EventReplant:
			f.Replanted = max(f.Replanted, event.Date)
		}
	}
	var newest layers.Date
	var left []string    // trouble that nobody has followed up
	var last layers.Date // the day of the last of it
	for _, core := range tank.Cores {
		newest = max(newest, core.Date)
	}
	for _, core := range tank.Cores {
		if !slices.ContainsFunc(core.Signs, isTrouble) {
			f.Calm = max(f.Calm, core.Date)
		} else if core.Date < since && newest-core.Date <= SameTimeDays {
			last, left = max(last, core.Date), append(left, fmt.Sprintf("%s: %s", core.Date, Listed(spelt(core.Signs, isTrouble))))
		}
		for _, sign := range core.Signs {
			f.note(sign, core.Date, since)
			if sign == layers.DeadAnimal && core.Date >= alarming && !died[core.Date] { // several stations note one
				f.Deaths++
				died[core.Date] = true
			}
		}
	}
	for _, event := range tank.Events {
		if sign := layers.Sign(event.Kind); isTrouble(sign) && event.Date < since && event.Date >= newest-SameTimeDays { // both go by one name
			last, left = max(last, event.Date), append(left, fmt.Sprintf("%s: %s", event.Date, Listed(spelt([]layers.Sign{sign}, isTrouble))))
		}
	}
	if f.Calm <= last {
		slices.Sort(left)
		f.Unfollowed = strings.Join(slices.Compact(left), "; ")
	}
	for i, event := range tank.Events {
		if (event.Kind.Splits() || event.Kind == layers.EventReplant) && newest != 0 && event.Date >= newest && (f.Worked == nil || cmp.Or(cmp.Compare(event.Date, f.Worked.Date), cmp.Compare(f.Worked.Kind, event.Kind)) > 0) {
			f.Worked = &tank.Events[i]
		}
	}
	return f
}

func (f *Facts) note(sign layers.Sign, date, since layers.Date) {
	if date >= since {
		f.Recent[sign] = max(f.Recent[sign], date)
	}
}

// Seen reports whether one of the signs was noted lately.
func (f *Facts) Seen(signs ...layers.Sign) bool {
	return slices.ContainsFunc(signs, func(s layers.Sign) bool { return f.Recent[s] != 0 })
}

// DecaySigns are the signs of something rotting.
func DecaySigns() []layers.Sign {
	return []layers.Sign{layers.PlantMelt, layers.DeadAnimal, layers.WhiteThreads, layers.Gasping}
}

// isTrouble reports a sign that something is rotting or short of oxygen.
func isTrouble(s layers.Sign) bool { return s == layers.EggSmell || slices.Contains(DecaySigns(), s) }

// spelt writes those of the signs that pass, without dashes.
func spelt(signs []layers.Sign, pass func(layers.Sign) bool) (list []string) {
	for _, sign := range signs {
		if pass(sign) {
			list = append(list, strings.ReplaceAll(string(sign), "-", " "))
		}
	}
	return list
}

// Decay reports whether a sign of something rotting was noted lately.
func (f *Facts) Decay() bool { return f.Seen(DecaySigns()...) }

// Working reports that something living turns or roots the bed.
func (f *Facts) Working() bool {
	return f.Rooted == Yes || f.Burrowers == Yes || f.Seen(layers.Burrowers, layers.RootsDeep)
}

// asOfDay drops a tank's records after a day and sorts water tests and events by time.
func asOfDay(tank layers.Tank, day layers.Date) layers.Tank {
	tank.Cores = slices.DeleteFunc(slices.Clone(tank.Cores), func(c layers.Core) bool { return c.Date > day })
	tank.Water = slices.DeleteFunc(slices.Clone(tank.Water), func(w layers.WaterTest) bool { return w.Date > day })
	slices.SortStableFunc(tank.Water, func(a, b layers.WaterTest) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Time, b.Time))
	})
	tank.Events = slices.DeleteFunc(slices.Clone(tank.Events), func(e layers.Event) bool { return e.Date > day })
	slices.SortStableFunc(tank.Events, func(a, b layers.Event) int { return cmp.Compare(a.Date, b.Date) })
	return tank
}

// AlarmDays is the longest that trouble seen comes before the bed, days, even where signs of decay
// count longer (assumption).
const AlarmDays = 30
