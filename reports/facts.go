package reports

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"panecore/layers"
)

// facts are what the keeper wrote down of a tank, as of a day: nothing of it is drawn.
type facts struct {
	asOf       layers.Date
	ageDays    int // since set-up; -1: not given
	flow       layers.Flow
	rooted     trit
	burrowers  trit
	bareSand   bool // some of the substrate was laid as sand, and nothing roots in it
	recent     map[layers.Sign]layers.Date
	deaths     int           // dead animals noted lately
	calm       layers.Date   // the newest core that notes no trouble; zero: none
	unfollowed string        // trouble that the newest core notes, longer ago than signs count
	siphoned   layers.Date   // last siphoning, zero: none
	stirred    layers.Date   // last stir, likewise
	replanted  layers.Date   // last replanting, likewise
	worked     *layers.Event // the last after the newest core that makes it speak of another bed; nil: none
	tests      *tests
	say        layers.Units      // of lengths in sentences
	limits     [limitCount]limit // in force, by layers.Limit
}

const limitCount = int(layers.LimitTotalAmmonia) + 1

// limit is a limit in force.
type limit struct {
	value float64
	own   bool // set by the keeper
}

func limitsOf(set layers.Limits) (in [limitCount]limit) {
	for l := range in {
		in[l].value, in[l].own = set.Of(layers.Limit(l))
	}
	return in
}

// trit is yes, no or not told.
type trit int8

const (
	untold trit = iota
	no
	yes
)

func tritOf(b *bool) trit {
	switch {
	case b == nil:
		return untold
	case *b:
		return yes
	}
	return no
}

// newFacts gathers the facts of a tank whose records end at asOf.
func newFacts(tank layers.Tank, asOf layers.Date, say layers.Units) *facts {
	f := &facts{
		asOf:      asOf,
		ageDays:   -1,
		flow:      tank.Flow,
		rooted:    tritOf(tank.RootedPlants),
		burrowers: tritOf(tank.Burrowers),
		recent:    map[layers.Sign]layers.Date{},
		say:       say,
		limits:    limitsOf(tank.Limits),
	}
	f.tests = newTests(tank.Water, asOf, &f.limits)
	if tank.SetUp != 0 {
		f.ageDays = int(asOf - tank.SetUp)
	}
	sand := slices.ContainsFunc(tank.Native, func(n layers.Native) bool { return n.Kind == layers.Sand })
	f.bareSand = sand && f.rooted == no
	since := asOf - layers.Date(f.limits[layers.LimitDecayDays].value)
	alarming := max(since, asOf-alarmDays)
	died := map[layers.Date]bool{} // days on which a death was entered
	for _, event := range tank.Events {
		switch event.Kind {
		case layers.EventDeadAnimal:
			f.note(layers.DeadAnimal, event.Date, since)
			if event.Date >= alarming {
				f.deaths++
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
			f.siphoned = max(f.siphoned, event.Date)
		case layers.EventStir:
			f.stirred = max(f.stirred, event.Date)
		case layers.EventReplant:
			f.replanted = max(f.replanted, event.Date)
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
			f.calm = max(f.calm, core.Date)
		} else if core.Date < since && newest-core.Date <= sameTimeDays {
			last, left = max(last, core.Date), append(left, fmt.Sprintf("%s: %s", core.Date, listed(spelt(core.Signs, isTrouble))))
		}
		for _, sign := range core.Signs {
			f.note(sign, core.Date, since)
			if sign == layers.DeadAnimal && core.Date >= alarming && !died[core.Date] { // several stations note one
				f.deaths++
				died[core.Date] = true
			}
		}
	}
	for _, event := range tank.Events {
		if sign := layers.Sign(event.Kind); isTrouble(sign) && event.Date < since && event.Date >= newest-sameTimeDays { // both go by one name
			last, left = max(last, event.Date), append(left, fmt.Sprintf("%s: %s", event.Date, listed(spelt([]layers.Sign{sign}, isTrouble))))
		}
	}
	if f.calm <= last {
		slices.Sort(left)
		f.unfollowed = strings.Join(slices.Compact(left), "; ")
	}
	for i, event := range tank.Events {
		if (event.Kind.Splits() || event.Kind == layers.EventReplant) && newest != 0 && event.Date >= newest && (f.worked == nil || cmp.Or(cmp.Compare(event.Date, f.worked.Date), cmp.Compare(f.worked.Kind, event.Kind)) > 0) {
			f.worked = &tank.Events[i]
		}
	}
	return f
}

func (f *facts) note(sign layers.Sign, date, since layers.Date) {
	if date >= since {
		f.recent[sign] = max(f.recent[sign], date)
	}
}

// seen reports whether one of the signs was noted lately.
func (f *facts) seen(signs ...layers.Sign) bool {
	return slices.ContainsFunc(signs, func(s layers.Sign) bool { return f.recent[s] != 0 })
}

// decaySigns are the signs of something rotting.
var decaySigns = [...]layers.Sign{layers.PlantMelt, layers.DeadAnimal, layers.WhiteThreads, layers.Gasping}

// isTrouble reports a sign that something rots or is short of oxygen.
func isTrouble(s layers.Sign) bool { return s == layers.EggSmell || slices.Contains(decaySigns[:], s) }

// spelt are those of the signs that pass, as they are read.
func spelt(signs []layers.Sign, pass func(layers.Sign) bool) (list []string) {
	for _, sign := range signs {
		if pass(sign) {
			list = append(list, strings.ReplaceAll(string(sign), "-", " "))
		}
	}
	return list
}

func (f *facts) decay() bool { return f.seen(decaySigns[:]...) }

// working reports that something living turns or roots the bed.
func (f *facts) working() bool {
	return f.rooted == yes || f.burrowers == yes || f.seen(layers.Burrowers, layers.RootsDeep)
}

// asOfDay cuts a tank's records off after a day, and puts the water tests in the order of
// time, so that the last of them is the newest.
func asOfDay(tank layers.Tank, day layers.Date) layers.Tank {
	tank.Cores = slices.DeleteFunc(slices.Clone(tank.Cores), func(c layers.Core) bool { return c.Date > day })
	tank.Water = slices.DeleteFunc(slices.Clone(tank.Water), func(w layers.WaterTest) bool { return w.Date > day })
	slices.SortStableFunc(tank.Water, func(a, b layers.WaterTest) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Time, b.Time))
	})
	tank.Events = slices.DeleteFunc(slices.Clone(tank.Events), func(e layers.Event) bool { return e.Date > day })
	return tank
}

// signs names the signs noted lately, with their dates.
func (f *facts) signs(signs ...layers.Sign) string {
	var list []string
	for _, s := range signs {
		if date := f.recent[s]; date != 0 {
			list = append(list, fmt.Sprintf("%s (%s)", strings.ReplaceAll(string(s), "-", " "), date))
		}
	}
	return strings.Join(list, ", ")
}

// limitText is a limit as it is spoken of.
func (f *facts) limitText(l layers.Limit) string {
	in := f.limits[l]
	var text string
	switch unit := l.Rule().Unit; unit {
	case "mm":
		text = f.say.Length(in.value)
	case "mm/month":
		text = f.say.Length(in.value) + " a month"
	default:
		text = fmt.Sprintf("%g %s", in.value, unit)
	}
	if in.own {
		text += " (your own)"
	}
	return text
}

// besideLength writes a length, or a growth of lengths, beside a limit: with so many decimals
// that they differ.
func (f *facts) besideLength(mm float64, l layers.Limit) string {
	if text := f.say.Length(mm); text != f.say.Length(f.limits[l].value) {
		return text
	}
	return fmt.Sprintf("%.2f %s", f.say.Of(mm), f.say)
}
