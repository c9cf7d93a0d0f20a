package infer

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// Lessons are what the keeper's names of layers in a tank's photos teach about its other photos. They are worked out
// of the records each time and kept nowhere, so that with a name that is undone, amended or removed its lesson goes.
type Lessons struct {
	tank     layers.Tank
	own      []palette.Prototype
	untaught *palette.Matcher
	teachers []teacher // the newest first
}

// teacher is a photo with named layers, and what it teaches.
type teacher struct {
	station string
	date    layers.Date
	bands   []palette.Band // each once
	layers  []palette.Learned
	open    float64 // how open its exposure was before its layers were named, stops
	light   palette.Offset
	lit     bool // light is told
}

// mostTeachers is how many photos teach about one band or one station, the newest (assumption: lamps, cameras and
// beds change).
const mostTeachers = 8

// Learn finds out what a tank's photos teach. A core that was typed teaches nothing, since its colours were not
// measured, nor does a photo that is not reliable, whatever the keeper is sure of.
func Learn(tank layers.Tank, own []palette.Prototype) *Lessons {
	l := &Lessons{tank: tank, own: own, untaught: newMatcher(tank, own, palette.Lessons{})}
	turn := turns{stations: map[string]int{}}
	for _, core := range newestPhotos(tank.Cores) {
		// One more than teach, since a photo does not teach about itself.
		if here, of := turn.take(core.Station, named(core), mostTeachers+1); here || len(of) > 0 {
			l.teachers = append(l.teachers, l.teach(core))
		}
	}
	return l
}

// newestPhotos are the cores with named layers that were read from a reliable photo, the newest first.
func newestPhotos(cores []layers.Core) (list []layers.Core) {
	for _, core := range cores {
		if core.Photo != nil && !core.Photo.Unreliable && len(named(core)) > 0 {
			list = append(list, core)
		}
	}
	slices.SortFunc(list, func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(b.Date, a.Date), cmp.Compare(a.Station, b.Station))
	})
	return list
}

// named are the bands that the keeper has named in a core, each once. A layer that is nothing known teaches nothing.
func named(core layers.Core) (bands []palette.Band) {
	for _, layer := range core.Layers {
		if layer.Band != palette.NoBand && layer.Band != palette.Unknown && !slices.Contains(bands, layer.Band) {
			bands = append(bands, layer.Band)
		}
	}
	return bands
}

// turns counts photos by what they may teach about.
type turns struct {
	bands    [palette.Unknown]int
	stations map[string]int
}

// take counts a photo and says about what it is among the first so many: here, its station, and which of its bands.
func (t *turns) take(station string, bands []palette.Band, most int) (here bool, of []palette.Band) {
	here = t.stations[station] < most
	t.stations[station]++
	for _, band := range bands {
		if t.bands[band] < most {
			of = append(of, band)
		}
		t.bands[band]++
	}
	return here, of
}

// teach is what one photo teaches, by what all tanks and the keeper's entries say and no other photo.
func (l *Lessons) teach(core layers.Core) teacher {
	column := columnOf(core)
	light := l.untaught.Match(column).Light()
	t := teacher{station: core.Station, date: core.Date, bands: named(core), open: column.Light.EVDoubt}
	t.light, t.lit = palette.NewOffset(column.Light, light)
	for _, layer := range column.Layers {
		if slices.Contains(t.bands, layer.Label) {
			t.layers = append(t.layers, palette.NewLearned(layer, light))
		}
	}
	return t
}

// lesson is what one photo teaches about another.
type lesson struct {
	*teacher
	layers []palette.Learned
	here   bool // its light is told, and is that of the same station
}

// about are the lessons about a core, which teaches nothing about itself. Without station and date it is any.
func (l *Lessons) about(station string, date layers.Date) (list []lesson) {
	turn := turns{stations: map[string]int{}}
	for i := range l.teachers {
		t := &l.teachers[i]
		if t.station == station && t.date == date {
			continue
		}
		here, of := turn.take(t.station, t.bands, mostTeachers)
		one := lesson{teacher: t, here: here && t.lit && t.station == station}
		for _, layer := range t.layers {
			if slices.Contains(of, layer.Band) {
				one.layers = append(one.layers, layer)
			}
		}
		if one.here || len(one.layers) > 0 {
			list = append(list, one)
		}
	}
	return list
}

// Matcher names the layers of a tank's core by what its other photos teach, too. The core's station and date must be
// set; without them only the light of its station is not known.
func (l *Lessons) Matcher(core layers.Core) *palette.Matcher {
	taught := l.About(core)
	if len(taught.Layers) == 0 && len(taught.Light) == 0 {
		return l.untaught
	}
	return newMatcher(l.tank, l.own, taught)
}

// About is what the tank's other photos teach about a core.
func (l *Lessons) About(core layers.Core) (taught palette.Lessons) {
	for _, one := range l.about(core.Station, core.Date) {
		taught.Layers = append(taught.Layers, one.layers...)
		if one.here {
			taught.Light = append(taught.Light, one.light)
		}
	}
	return taught
}

// TaughtBy counts the photos that teach about a core; nil: there are none.
func (l *Lessons) TaughtBy(core layers.Core) *reports.TaughtBy {
	var by reports.TaughtBy
	for _, one := range l.about(core.Station, core.Date) {
		by.Photos++
		if one.station == core.Station {
			by.OfStation++
		}
	}
	if by.Photos == 0 {
		return nil
	}
	return &by
}

// List is what the tank's photos teach about its next one.
func (l *Lessons) List() reports.Lessons {
	list := reports.Lessons{Colors: []reports.LearnedColor{}, Lights: []reports.LearnedLight{}}
	for _, one := range l.about("", 0) {
		for _, c := range one.layers {
			list.Colors = append(list.Colors, reports.LearnedColor{Band: c.Band, Hex: c.Color, Spread: c.Spread, Date: one.date, Station: one.station})
		}
	}
	slices.SortStableFunc(list.Colors, func(a, b reports.LearnedColor) int { return cmp.Compare(a.Band, b.Band) })
	for _, t := range l.teachers { // each station's newest says how open the light of its next photo is
		at := func(light reports.LearnedLight) bool { return light.Station == t.station }
		light := l.About(layers.Core{Station: t.station}).Light
		if len(light) == 0 || slices.ContainsFunc(list.Lights, at) {
			continue
		}
		lasting := palette.Lasting(light, t.open)
		list.Lights = append(list.Lights, reports.LearnedLight{
			Station: t.station, Photos: len(light), ExposureEV: lasting.EV, ExposureDoubt: lasting.Doubt,
		})
	}
	slices.SortFunc(list.Lights, func(a, b reports.LearnedLight) int { return cmp.Compare(a.Station, b.Station) })
	return list
}
