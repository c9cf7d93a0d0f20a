package testworlds

import (
	"slices"

	"panecore/layers"
)

// Days are those on which the tank was read, in order.
func (t Tank) Days() (days []layers.Date) {
	for _, core := range t.Record.Cores {
		days = append(days, core.Date)
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// Until is a record as it stood at the end of a day.
func Until(record layers.Tank, day layers.Date) layers.Tank {
	record.Cores = slices.DeleteFunc(slices.Clone(record.Cores), func(c layers.Core) bool { return c.Date > day })
	record.Water = slices.DeleteFunc(slices.Clone(record.Water), func(w layers.WaterTest) bool { return w.Date > day })
	record.Events = slices.DeleteFunc(slices.Clone(record.Events), func(e layers.Event) bool { return e.Date > day })
	return record
}

// perfectDays is how often a perfect record is read, days.
const perfectDays = 15

// Perfect is the record of one who knows the floor: four stations that all show its mean, twice a month
// until the day of the last reading.
func (t Tank) Perfect() layers.Tank {
	read := t.Days()
	var days []layers.Date
	for day := read[len(read)-1]; day >= read[0]; day -= perfectDays {
		days = append(days, day)
	}
	slices.Reverse(days)
	record := t.Record
	record.Cores = nil
	for i, at := range t.Floor(days) {
		for _, name := range stations() {
			record.Cores = append(record.Cores, layers.Core{Date: days[i], Station: name, Sure: true, Layers: t.keeper.knows(t.column(at))})
		}
	}
	return record
}
