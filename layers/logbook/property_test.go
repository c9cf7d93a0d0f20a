package logbook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/palette"
)

// A run holds a logbook to a model through a sequence of changes.
type run struct {
	*Book
	now     model
	past    []model                    // what stood before each change that is not taken back
	written map[string]map[string]bool // every core that ever stood in a tank
	known   map[revision]string        // what each tank was at each of its revisions
}

// revision is a tank as one change made it.
type revision struct {
	tank   string
	change int64
}

// Any sequence of changes makes of the logbook what it makes of a model; undo goes
// back step by step; no core that ever stood is lost.
func TestBook_model(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		folder, err := os.MkdirTemp("", "logbook")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(folder)
		r := &run{open(t, filepath.Join(folder, "logbook.db"), true), newModel(), nil, map[string]map[string]bool{}, map[revision]string{}}
		defer func() { r.Close() }()
		t.Repeat(map[string]func(*rapid.T){
			"":                 r.compare,
			"add tank":         r.addTank,
			"edit tank":        r.editTank,
			"retire":           r.retire,
			"add core":         r.addCore,
			"file core":        r.fileCore,
			"amend core":       r.amendCore,
			"remove core":      r.removeCore,
			"add water":        r.addWater,
			"remove water":     r.removeWater,
			"add event":        r.addEvent,
			"remove event":     r.removeEvent,
			"add prototype":    r.addPrototype,
			"remove prototype": r.removePrototype,
			"import":           r.importTanks,
			"undo":             r.undo,
			"undo again":       r.undo,
			"open again": func(t *rapid.T) {
				r.Close()
				r.Book = open(t, r.path, false)
			},
		})
		checkClean(t, r.Book)
	})
}

// What is exported reads back to an equal export, in whatever order it comes.
func TestImport_exportAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tanks := rapid.SliceOfNDistinct(rapid.Custom(anyTank), 1, 3, func(tank layers.Tank) string { return tank.ID }).
			Filter(func(tanks []layers.Tank) bool {
				return !slices.ContainsFunc(tanks, olderCore) && !slices.ContainsFunc(tanks, twins)
			}).
			Draw(t, "tanks")
		document := imported(t, tanks)
		again, err := layers.Decode(strings.NewReader(document), layers.DateOf(noon))
		if err != nil {
			t.Fatal(err)
		}
		for i, tank := range again {
			again[i].Events = rapid.Permutation(tank.Events).Draw(t, "events")
			again[i].Cores = rapid.Permutation(tank.Cores).Draw(t, "cores")
		}
		if got := imported(t, rapid.Permutation(again).Draw(t, "order")); got != document {
			t.Fatalf("got\n%s\nwant\n%s", got, document)
		}
	})
}

// imported is the export of a new logbook that tanks are imported into.
func imported(t tester, tanks []layers.Tank) string {
	folder, err := os.MkdirTemp("", "logbook")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(folder)
	b := open(t, filepath.Join(folder, "logbook.db"), true)
	defer b.Close()
	if _, err := b.Import(context.Background(), noon, tanks, false); err != nil {
		t.Fatal(err)
	}
	return export(t, b)
}

// The kinds of refusal that a model foresees.
const (
	accepted   = ""
	notFound   = "not found"
	taken      = "taken"
	conflict   = "conflict"
	faulty     = "faults"
	nothing    = "nothing to undo"
	unforeseen = "unforeseen"
)

func kindOf(err error) string {
	_, isNotFound := errors.AsType[*NotFoundError](err)
	_, isTaken := errors.AsType[*TakenError](err)
	_, isConflict := errors.AsType[*ConflictError](err)
	_, isFaults := errors.AsType[layers.Faults](err)
	switch {
	case err == nil:
		return accepted
	case isNotFound:
		return notFound
	case isTaken:
		return taken
	case isConflict:
		return conflict
	case isFaults:
		return faulty
	case errors.Is(err, ErrNothingToUndo):
		return nothing
	}
	return unforeseen
}

// expect holds the outcome of a change to what the model foresaw.
func (r *run) expect(t *rapid.T, err error, want string, next model) {
	t.Helper()
	if kindOf(err) != want {
		t.Fatalf("got %v, want %q", err, want)
	}
	if want != accepted || reflect.DeepEqual(next, r.now) {
		return
	}
	r.past = append(r.past, r.now)
	r.now = next
	for id, tank := range next.tanks {
		if r.written[id] == nil {
			r.written[id] = map[string]bool{}
		}
		for _, core := range tank.Cores {
			r.written[id][encode(t, layers.Tank{Cores: []layers.Core{core}})] = true
		}
	}
}

func (r *run) compare(t *rapid.T) {
	ctx := context.Background()
	if got, want := export(t, r.Book), r.now.document(t); got != want {
		t.Fatalf("got\n%s\nwant\n%s", got, want)
	}
	entries, err := r.List(ctx, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if entry.Retired != r.now.retired[entry.ID] || entry.Cores != len(r.now.tanks[entry.ID].Cores) {
			t.Fatalf("got %+v", entry)
		}
		r.compareFormer(t, entry.ID)
		r.comparePhotos(t, entry.ID)
	}
	r.compareRevisions(t)
	found, err := r.Prototypes(ctx, "")
	if err != nil || !reflect.DeepEqual(found, r.now.prototypes) {
		t.Fatalf("got %v, %v, want %v", found, err, r.now.prototypes)
	}
	if _, _, err := r.LastChange(ctx); (err == nil) != (len(r.past) > 0) {
		t.Fatalf("last change: got %v after %d changes", err, len(r.past))
	}
}

// compareRevisions: every tank that is not retired has a revision, and is what it was whenever it
// had the same one before.
func (r *run) compareRevisions(t *rapid.T) {
	found, err := r.Revisions(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for id, tank := range r.now.tanks {
		change, ok := found[id]
		if ok == r.now.retired[id] {
			t.Fatalf("tank %s is retired: %t, and has a revision: %t", id, r.now.retired[id], ok)
		}
		if !ok {
			continue
		}
		is := encode(t, tank)
		for _, p := range r.now.prototypes {
			if p.Tank == "" || p.Tank == id {
				is += fmt.Sprintln(p)
			}
		}
		if was, ok := r.known[revision{id, change}]; ok && was != is {
			t.Fatalf("at revision %d tank %s was\n%s\nand is\n%s", change, id, was, is)
		}
		r.known[revision{id, change}] = is
	}
	if len(found) > len(r.now.tanks) {
		t.Fatalf("revisions of %v", found)
	}
}

// comparePhotos looks for the photo of every core that a tank may hold.
func (r *run) comparePhotos(t *rapid.T, tank string) {
	for _, station := range stations {
		for _, date := range days {
			want, kept := r.now.photos[reading{tank, station, date}]
			got, found, err := r.PhotoOf(context.Background(), tank, station, date)
			if err != nil || found != kept || !reflect.DeepEqual(got, want) {
				t.Fatalf("tank %s, core %s %s: got %+v, %t, %v, want %+v", tank, station, date, got, found, err, want)
			}
		}
	}
}

// compareFormer looks for every core that a tank ever held.
func (r *run) compareFormer(t *rapid.T, tank string) {
	entries, err := r.Cores(context.Background(), tank, true)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	var standing []layers.Core
	for _, entry := range entries {
		found[encode(t, layers.Tank{Cores: []layers.Core{entry.Core}})] = true
		if entry.Stands() {
			standing = append(standing, entry.Core)
		}
	}
	want := r.written[tank]
	if want == nil {
		want = map[string]bool{}
	}
	if !reflect.DeepEqual(found, want) {
		t.Fatalf("found %v, want %v", found, want)
	}
	if !reflect.DeepEqual(standing, r.now.tanks[tank].Cores) {
		t.Fatalf("found %v to stand, want %v", standing, r.now.tanks[tank].Cores)
	}
}

func (r *run) addTank(t *rapid.T) {
	tank := rapid.Custom(anyTank).Draw(t, "tank")
	want, next := accepted, r.now.with(tank)
	switch {
	case olderCore(tank):
		want = faulty
	case r.holds(tank.ID):
		want = taken
	case twins(tank):
		want = conflict
	default:
		next = r.now.with(withoutDoubles(tank))
	}
	r.expect(t, r.AddTank(context.Background(), noon, tank), want, next)
}

func (r *run) holds(id string) bool {
	_, ok := r.now.tanks[id]
	return ok
}

// twins reports whether a tank has two water tests of one time that differ.
func twins(tank layers.Tank) bool {
	for i, a := range tank.Water {
		for _, b := range tank.Water[:i] {
			if sameTest(a, b) && !reflect.DeepEqual(a, b) {
				return true
			}
		}
	}
	return false
}

func withoutDoubles(tank layers.Tank) layers.Tank {
	tank = inOrder(tank)
	tank.Water = slices.CompactFunc(tank.Water, sameTest)
	tank.Events = slices.CompactFunc(tank.Events, sameEvent)
	return tank
}

func (r *run) editTank(t *rapid.T) {
	tank := rapid.Custom(anyTank).Draw(t, "tank")
	edited := setupOf(tank)
	former := r.now.tanks[tank.ID]
	edited.Cores, edited.Water, edited.Events = former.Cores, former.Water, former.Events
	want := accepted
	switch {
	case !r.holds(tank.ID):
		want = notFound
	case olderCore(edited):
		want = faulty
	}
	r.expect(t, r.EditTank(context.Background(), noon, tank), want, r.now.with(edited))
}

func (r *run) retire(t *rapid.T) {
	id, retired := anyID().Draw(t, "id"), rapid.Bool().Draw(t, "retired")
	next := r.now.clone()
	delete(next.retired, id)
	if retired {
		next.retired[id] = true
	}
	r.expect(t, r.SetRetired(context.Background(), noon, id, retired), r.wantTank(id), next)
}

func (r *run) wantTank(id string) string {
	if r.holds(id) {
		return accepted
	}
	return notFound
}

func (r *run) addCore(t *rapid.T) {
	id, core := anyID().Draw(t, "id"), rapid.Custom(anyCore).Draw(t, "core")
	tank := r.now.tanks[id]
	want := r.wantTank(id)
	switch {
	case want != accepted:
	case core.Date < tank.SetUp:
		want = faulty
	case indexOf(tank.Cores, core, sameReading) >= 0:
		want = taken
	}
	tank.Cores = append(slices.Clone(tank.Cores), core)
	r.expect(t, r.AddCore(context.Background(), noon, id, core), want, r.now.with(tank))
}

func (r *run) fileCore(t *rapid.T) {
	id, core, replace := anyID().Draw(t, "id"), rapid.Custom(anyCore).Draw(t, "core"), rapid.Bool().Draw(t, "replace")
	n := rapid.IntRange(1, 2).Draw(t, "shot")
	core.Photo = photoCore(n).Photo
	core.Photo.Unreliable = rapid.Bool().Draw(t, "unreliable")
	shot := anyShot
	shot.Picks = rapid.SampledFrom([][]byte{[]byte("[1]"), []byte("[2]")}).Draw(t, "picks")
	tank := r.now.tanks[id]
	tank.Cores = slices.Clone(tank.Cores)
	want := r.wantTank(id)
	switch at := indexOf(tank.Cores, core, sameReading); {
	case want != accepted:
	case core.Date < tank.SetUp:
		want = faulty
	case at < 0:
		tank.Cores = append(tank.Cores, core)
	case sumIn(tank.Cores[at]) == sumIn(core) || replace:
		tank.Cores[at] = core
	default:
		want = conflict
	}
	next := r.now.with(tank)
	what, err := r.FileCore(context.Background(), noon, id, core, shot, shotOf(n), replace)
	shot.SHA256, shot.Bytes = sumIn(core), int64(len(shotOf(n)))
	next.photos[readingOf(id, core)] = shot
	if changes := want == accepted && !reflect.DeepEqual(next, r.now); (what != "") != changes {
		t.Fatalf("got %q, want a change: %t", what, changes)
	}
	r.expect(t, err, want, next)
}

func (r *run) amendCore(t *rapid.T) {
	id := anyID().Draw(t, "id")
	keys := rapid.Custom(anyCore)
	if standing := r.now.tanks[id].Cores; len(standing) > 0 {
		keys = rapid.OneOf(keys, rapid.SampledFrom(standing)) // most keys drawn stand for nothing
	}
	key := keys.Draw(t, "key")
	core := rapid.OneOf(rapid.Just(key), rapid.Custom(anyCore)).Draw(t, "core")
	if photo, kept := r.now.photos[readingOf(id, key)]; kept && rapid.Bool().Draw(t, "same photo") {
		core.Photo = &layers.Photo{SHA256: photo.SHA256}
	}
	tank := r.now.tanks[id]
	tank.Cores = slices.Clone(tank.Cores)
	at := indexOf(tank.Cores, key, sameReading)
	other := indexOf(tank.Cores, core, sameReading)
	want := r.wantTank(id)
	switch {
	case want != accepted:
	case core.Date < tank.SetUp:
		want = faulty
	case at < 0:
		want = notFound
	case other >= 0 && other != at:
		want = taken
	default:
		tank.Cores[at] = core
	}
	next := r.now.with(tank)
	if photo, kept := r.now.photos[readingOf(id, key)]; kept && photo.SHA256 == sumIn(core) {
		next.photos[readingOf(id, core)] = photo
	}
	err := r.AmendCore(context.Background(), noon, id, key.Station, key.Date, core)
	r.expect(t, err, want, next)
}

func (r *run) removeCore(t *rapid.T) {
	id, key := anyID().Draw(t, "id"), rapid.Custom(anyCore).Draw(t, "key")
	tank := r.now.tanks[id]
	want := removed(&tank.Cores, key, sameReading)
	r.expect(t, r.RemoveCore(context.Background(), noon, id, key.Station, key.Date), want, r.now.with(tank))
}

// removed removes an entry from a list, which it leaves as it is, and foresees the outcome.
func removed[Entry any](list *[]Entry, entry Entry, same func(a, b Entry) bool) string {
	at := indexOf(*list, entry, same)
	if at < 0 {
		return notFound
	}
	*list = append((*list)[:at:at], (*list)[at+1:]...)
	return accepted
}

func (r *run) addWater(t *rapid.T) {
	id, test := anyID().Draw(t, "id"), rapid.Custom(anyWater).Draw(t, "test")
	tank := r.now.tanks[id]
	want := r.wantTank(id)
	if want == accepted && indexOf(tank.Water, test, sameTest) >= 0 {
		want = taken
	}
	tank.Water = append(slices.Clone(tank.Water), test)
	r.expect(t, r.AddWater(context.Background(), noon, id, test), want, r.now.with(tank))
}

func (r *run) removeWater(t *rapid.T) {
	id, key := anyID().Draw(t, "id"), rapid.Custom(anyWater).Draw(t, "key")
	tank := r.now.tanks[id]
	want := removed(&tank.Water, key, sameTest)
	r.expect(t, r.RemoveWater(context.Background(), noon, id, key.Date, key.Time), want, r.now.with(tank))
}

func (r *run) addEvent(t *rapid.T) {
	id, event := anyID().Draw(t, "id"), rapid.Custom(anyEvent).Draw(t, "event")
	tank := r.now.tanks[id]
	want := r.wantTank(id)
	if want == accepted && indexOf(tank.Events, event, sameEvent) >= 0 {
		want = taken
	}
	tank.Events = append(slices.Clone(tank.Events), event)
	r.expect(t, r.AddEvent(context.Background(), noon, id, event), want, r.now.with(tank))
}

func (r *run) removeEvent(t *rapid.T) {
	id, event := anyID().Draw(t, "id"), rapid.Custom(anyEvent).Draw(t, "event")
	tank := r.now.tanks[id]
	want := removed(&tank.Events, event, sameEvent)
	r.expect(t, r.RemoveEvent(context.Background(), noon, id, event), want, r.now.with(tank))
}

func samePrototype(a, b Prototype) bool { return a.Tank == b.Tank && a.Name == b.Name }

func (r *run) addPrototype(t *rapid.T) {
	p := rapid.Custom(anyPrototype).Draw(t, "prototype")
	next := r.now.clone()
	want := accepted
	switch {
	case p.Tank != "" && !r.holds(p.Tank):
		want = notFound
	case indexOf(next.prototypes, p, samePrototype) >= 0:
		want = taken
	default:
		next.prototypes = append(next.prototypes, p)
		slices.SortFunc(next.prototypes, func(a, b Prototype) int {
			return comparePairs(a.Name, b.Name, a.Tank, b.Tank)
		})
	}
	r.expect(t, r.AddPrototype(context.Background(), noon, p), want, next)
}

func (r *run) removePrototype(t *rapid.T) {
	p := rapid.Custom(anyPrototype).Draw(t, "prototype")
	next := r.now.clone()
	want := removed(&next.prototypes, p, samePrototype)
	next.prototypes = copied(next.prototypes)
	r.expect(t, r.RemovePrototype(context.Background(), noon, p.Tank, p.Name), want, next)
}

func (r *run) importTanks(t *rapid.T) {
	tanks := rapid.SliceOfNDistinct(rapid.Custom(anyTank), 1, 2, func(tank layers.Tank) string { return tank.ID }).Draw(t, "tanks")
	replace := rapid.Bool().Draw(t, "replace")
	next, counts, want := r.now.merged(tanks, replace)
	got, err := r.Import(context.Background(), noon, tanks, replace)
	if want == accepted && got != counts {
		t.Fatalf("got %+v, want %+v", got, counts)
	}
	r.expect(t, err, want, next)
}

func (r *run) undo(t *rapid.T) {
	_, err := r.Undo(context.Background(), noon, 0)
	want := accepted
	if len(r.past) == 0 {
		want = nothing
	}
	if kindOf(err) != want {
		t.Fatalf("got %v, want %q", err, want)
	}
	if want == accepted {
		r.now, r.past = r.past[len(r.past)-1], r.past[:len(r.past)-1]
	}
}

// The generators draw from few keys, so that changes meet each other.

func anyID() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{"kettle", "bowl", `Jörgs "鱼" 50%`})
}

var (
	today    = layers.DateOf(noon)
	days     = []layers.Date{today, today - 1, today - 2, today - 3}
	stations = []string{"front", "far left"}
)

func anyDay() *rapid.Generator[layers.Date] { return rapid.SampledFrom(days) }

func anyNote() *rapid.Generator[string] {
	return rapid.SampledFrom([]string{"", "it's \"ragged\"", "two\nlines\tand a tab", " <&> 鱼 ", "%_?'; --"})
}

func anyNumber() *rapid.Generator[*float64] {
	return rapid.Ptr(rapid.OneOf(rapid.SampledFrom([]float64{0, 0.25}), rapid.Float64Range(0, 1)), true)
}

func anyTank(t *rapid.T) layers.Tank {
	tank := layers.Tank{
		ID:           anyID().Draw(t, "id"),
		Name:         rapid.SampledFrom([]string{"", "Kettle"}).Draw(t, "name"),
		SetUp:        rapid.OneOf(rapid.Just(layers.Date(0)), anyDay()).Draw(t, "set up"),
		Flow:         rapid.SampledFrom([]layers.Flow{"", layers.Still}).Draw(t, "flow"),
		Burrowers:    rapid.Ptr(rapid.Bool(), true).Draw(t, "burrowers"),
		RootedPlants: rapid.Ptr(rapid.Bool(), true).Draw(t, "rooted plants"),
		Cores:        rapid.SliceOfNDistinct(rapid.Custom(anyCore), 0, 3, func(c layers.Core) reading { return readingOf("", c) }).Draw(t, "cores"),
		Water:        rapid.SliceOfN(rapid.Custom(anyWater), 0, 2).Draw(t, "water"),
		Events:       rapid.SliceOfN(rapid.Custom(anyEvent), 0, 2).Draw(t, "events"),
	}
	if rapid.Bool().Draw(t, "more") {
		tank.Vessel = &layers.Vessel{Shape: layers.Cylinder, DiameterMM: 220.5, WaterDepthMM: 400}
		tank.Native = []layers.Native{{Kind: layers.Sand, Name: "pale"}, {Kind: layers.Clay, ThicknessMM: 0.1}}
		tank.Limits = layers.Limits{layers.LimitMulm: 33.3}
	}
	tank.Cores, tank.Water, tank.Events = copied(tank.Cores), copied(tank.Water), copied(tank.Events)
	return tank
}

func anyCore(t *rapid.T) layers.Core {
	return layers.Core{
		Date:    anyDay().Draw(t, "date"),
		Station: rapid.SampledFrom(stations).Draw(t, "station"),
		Lit:     rapid.Ptr(rapid.Bool(), true).Draw(t, "lit"),
		Signs:   rapid.SampledFrom([][]layers.Sign{nil, {layers.GasBubbles}, {layers.RootsDeep, layers.EggSmell}}).Draw(t, "signs"),
		Note:    anyNote().Draw(t, "note"),
		Sure:    rapid.Bool().Draw(t, "sure"),
		Photo:   rapid.Ptr(rapid.Custom(anyPhoto), true).Draw(t, "photo"),
		Layers:  rapid.SliceOfN(rapid.Custom(anyLayer), 1, 2).Draw(t, "layers"),
	}
}

func anyLayer(t *rapid.T) layers.Layer {
	return layers.Layer{
		ThicknessMM: rapid.OneOf(rapid.Just(12.0), rapid.Float64Range(0.001, 300)).Draw(t, "thickness"),
		Color:       palette.Color{R: rapid.Byte().Draw(t, "red"), G: 0x5e, B: 0x3c},
		Band:        rapid.SampledFrom([]palette.Band{palette.NoBand, palette.Rust}).Draw(t, "band"),
		Note:        anyNote().Draw(t, "note"),
		Edge:        rapid.SampledFrom([]*layers.Edge{nil, {ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}}).Draw(t, "edge"),
	}
}

func anyPhoto(t *rapid.T) layers.Photo {
	sum := rapid.SampledFrom([]string{"", sumOf(shotOf(1)), sumOf(shotOf(2))}).Draw(t, "sha256")
	return layers.Photo{
		SHA256: sum, ScaleError: rapid.Float64Range(0, 1).Draw(t, "scale error"), Unreliable: rapid.Bool().Draw(t, "unreliable"),
	}
}

func anyWater(t *rapid.T) layers.WaterTest {
	return layers.WaterTest{
		Date:         anyDay().Draw(t, "date"),
		Time:         rapid.SampledFrom([]string{"", "07:30"}).Draw(t, "time"),
		TotalAmmonia: anyNumber().Draw(t, "ammonia"),
		OxygenMGPerL: anyNumber().Draw(t, "oxygen"),
	}
}

func anyEvent(t *rapid.T) layers.Event {
	return layers.Event{
		Date:    anyDay().Draw(t, "date"),
		Kind:    rapid.SampledFrom([]layers.EventKind{layers.EventStir, layers.EventNote}).Draw(t, "kind"),
		Share:   anyNumber().Draw(t, "share"),
		DepthMM: anyNumber().Draw(t, "depth"),
		Note:    anyNote().Draw(t, "note"),
	}
}

func anyPrototype(t *rapid.T) Prototype {
	return Prototype{
		Tank:   rapid.OneOf(rapid.Just(""), anyID()).Draw(t, "tank"),
		Name:   rapid.SampledFrom([]string{"mulm1", "mulm-2", "erde"}).Draw(t, "name"),
		Band:   rapid.SampledFrom([]palette.Band{palette.MulmLight, palette.Native}).Draw(t, "band"),
		Color:  palette.Color{R: rapid.Byte().Draw(t, "red")},
		Spread: rapid.SampledFrom([]float64{MinSpread, 6.5, MaxSpread}).Draw(t, "spread"),
	}
}
