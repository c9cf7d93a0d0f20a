package logbook

import (
	"cmp"
	"maps"
	"reflect"
	"slices"
	"strings"

	"panecore/layers"
)

// A model is what a logbook should hold, in plain memory. A change makes another.
type model struct {
	tanks      map[string]layers.Tank
	retired    map[string]bool
	prototypes []Prototype // by name and tank
	photos     map[reading]Photo
}

// reading is what sets a core apart from all others.
type reading struct {
	tank, station string
	date          layers.Date
}

func readingOf(tank string, c layers.Core) reading { return reading{tank, c.Station, c.Date} }

func newModel() model {
	return model{map[string]layers.Tank{}, map[string]bool{}, nil, map[reading]Photo{}}
}

func (m model) clone() model {
	return model{maps.Clone(m.tanks), maps.Clone(m.retired), copied(m.prototypes), maps.Clone(m.photos)}
}

// with is the model with another value of a tank. Photos stay with the cores that are
// still read from them.
func (m model) with(tank layers.Tank) model {
	next := m.clone()
	next.tanks[tank.ID] = inOrder(tank)
	for key, photo := range next.photos {
		isItsCore := func(c layers.Core) bool { return readingOf(tank.ID, c) == key && sumIn(c) == photo.SHA256 }
		if key.tank == tank.ID && !slices.ContainsFunc(tank.Cores, isItsCore) {
			delete(next.photos, key)
		}
	}
	return next
}

// sumIn is the SHA-256 of the photo that a core names, or empty.
func sumIn(c layers.Core) string {
	if c.Photo == nil {
		return ""
	}
	return c.Photo.SHA256
}

// document is what an export should write.
func (m model) document(t tester) string {
	var tanks []layers.Tank
	for _, id := range slices.Sorted(maps.Keys(m.tanks)) {
		tanks = append(tanks, m.tanks[id])
	}
	return encode(t, tanks...)
}

// inOrder is a tank with its entries in the order in which they are read.
func inOrder(tank layers.Tank) layers.Tank {
	tank.Cores, tank.Water, tank.Events = copied(tank.Cores), copied(tank.Water), copied(tank.Events)
	slices.SortFunc(tank.Cores, func(a, b layers.Core) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), strings.Compare(a.Station, b.Station))
	})
	slices.SortFunc(tank.Water, func(a, b layers.WaterTest) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), strings.Compare(a.Time, b.Time))
	})
	slices.SortFunc(tank.Events, func(a, b layers.Event) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Kind, b.Kind), comparePointers(a.Share, b.Share),
			comparePointers(a.DepthMM, b.DepthMM), strings.Compare(a.Note, b.Note))
	})
	return tank
}

// copied is a copy of a list; nil when it is empty.
func copied[Entry any](list []Entry) []Entry { return append([]Entry(nil), list...) }

// comparePointers has what is not given before any number.
func comparePointers(a, b *float64) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return -1
	case b == nil:
		return 1
	}
	return cmp.Compare(*a, *b)
}

// setupOf is a tank without its entries.
func setupOf(tank layers.Tank) layers.Tank {
	tank.Cores, tank.Water, tank.Events = nil, nil, nil
	return tank
}

func sameReading(a, b layers.Core) bool { return a.Date == b.Date && a.Station == b.Station }

func sameTest(a, b layers.WaterTest) bool { return a.Date == b.Date && a.Time == b.Time }

func sameEvent(a, b layers.Event) bool {
	return a.Date == b.Date && a.Kind == b.Kind && comparePointers(a.Share, b.Share) == 0 &&
		comparePointers(a.DepthMM, b.DepthMM) == 0 && a.Note == b.Note
}

// indexOf is the place of an entry of the same key, or -1.
func indexOf[Entry any](list []Entry, entry Entry, same func(a, b Entry) bool) int {
	return slices.IndexFunc(list, func(e Entry) bool { return same(e, entry) })
}

// olderCore reports whether a core is older than its tank.
func olderCore(tank layers.Tank) bool {
	return slices.ContainsFunc(tank.Cores, func(c layers.Core) bool { return c.Date < tank.SetUp })
}

// merged is what an import should make of the model, with its counts, or why it is
// refused.
func (m model) merged(tanks []layers.Tank, replace bool) (next model, done Imported, want string) {
	for _, tank := range tanks {
		if olderCore(tank) {
			return m, done, faulty
		}
	}
	next = m
	for _, tank := range tanks {
		former, found := next.tanks[tank.ID]
		refused := false
		switch {
		case !found:
			done.Tanks++
		case reflect.DeepEqual(setupOf(former), setupOf(tank)):
			done.Equal++
		case replace:
			done.Replaced++
		default:
			refused = true
		}
		merged := setupOf(tank)
		merged.Cores, merged.Water, merged.Events = former.Cores, former.Water, former.Events
		refused = mergeList(&merged.Cores, tank.Cores, sameReading, replace, &done.Cores, &done) || refused
		refused = mergeList(&merged.Water, tank.Water, sameTest, replace, &done.Water, &done) || refused
		refused = mergeList(&merged.Events, tank.Events, sameEvent, replace, &done.Events, &done) || refused
		if olderCore(merged) {
			return m, done, faulty
		}
		if refused {
			want = conflict
		}
		next = next.with(merged)
	}
	return next, done, want
}

// mergeList merges entries into a list, which it leaves as it is, and reports whether
// one is refused.
func mergeList[Entry any](list *[]Entry, entries []Entry, same func(a, b Entry) bool, replace bool, added *int, done *Imported) (refused bool) {
	merged := slices.Clone(*list)
	for i, entry := range entries {
		at := indexOf(merged, entry, same)
		switch {
		case at < 0:
			merged = append(merged, entry)
			*added++
		case reflect.DeepEqual(merged[at], entry):
			done.Equal++
		case !replace || indexOf(entries[:i], entry, same) >= 0:
			refused = true
		default:
			merged[at] = entry
			done.Replaced++
		}
	}
	*list = merged
	return refused
}

func comparePairs(a1, b1, a2, b2 string) int {
	return cmp.Or(strings.Compare(a1, b1), strings.Compare(a2, b2))
}
