package layers

import (
	"fmt"
	"slices"

	"github.com/go-json-experiment/json/jsontext"

	"panecore/palette"
)

// The fields of each object, those that must stand in it first.
var (
	documentFields = fields{2, []string{"format", "tanks"}}
	tankFields     = fields{1, []string{"id", "name", "set_up", "vessel", "flow", "burrowers", "rooted_plants",
		"native", "limits", "cores", "water", "events"}}
	vesselFields = fields{2, []string{"shape", "water_depth_mm", "length_mm", "width_mm", "diameter_mm"}}
	nativeFields = fields{2, []string{"kind", "hex", "name", "thickness_mm"}}
	limitFields  = fields{0, limitNames()}
	coreFields   = fields{3, []string{"date", "station", "layers", "lit", "signs", "note", "sure", "photo"}}
	layerFields  = fields{2, []string{"thickness_mm", "hex", "band", "note", "edge"}}
	waterFields  = fields{1, []string{"date", "time", "ph", "temperature_c", "total_ammonia_mg_l", "oxygen_mg_l"}}
	eventFields  = fields{2, []string{"date", "kind", "share", "depth_mm", "note"}}
)

func limitNames() []string {
	var names []string
	for _, rule := range limitRules {
		names = append(names, rule.Name)
	}
	return names
}

// The words that a field may hold.
var (
	shapes = []Shape{Box, Cylinder}
	flows  = []Flow{Still, Livestock, Bubbled, Pumped}
	kinds  = []Kind{Sand, Gravel, Clay, Soil, Granules}
	signs  = []Sign{GasBubbles, EggSmell, PlantMelt, DeadAnimal, Gasping, WhiteThreads, RootsDeep, Burrowers}
	events = []EventKind{EventStir, EventSiphon, EventWaterChange, EventTopUpSubstrate, EventReplant,
		EventDeadAnimal, EventPlantMelt, EventGasping, EventEggSmell, EventWhiteThreads, EventNote}
)

func (d *Decoder) readTank(index int) {
	t := &d.tank
	for o := d.object(&tankFields); d.next(&o); {
		switch o.name {
		case "id":
			d.readID(index)
		case "name":
			t.Name = string(d.label())
		case "set_up":
			t.SetUp = d.date()
		case "vessel":
			t.Vessel = d.readVessel()
		case "flow":
			t.Flow = choose(d, flows)
		case "burrowers":
			t.Burrowers = d.flag()
		case "rooted_plants":
			t.RootedPlants = d.flag()
		case "native":
			t.Native = readList(d, d.readNative)
		case "limits":
			t.Limits = d.readLimits()
		case "cores":
			d.readCores()
		case "water":
			t.Water = readList(d, d.readWater)
		case "events":
			t.Events = readList(d, d.readEvent)
		}
	}
	t.Cores = exact(d.cores)
	d.checkSetUp(index)
}

func (d *Decoder) readID(index int) {
	id := string(d.label())
	first, twin := d.tankAt[id]
	switch {
	case id == "":
	case twin:
		d.twin = true
		d.reportHere(fmt.Sprintf("%q, the id of tanks[%d]", id, first), "an id of its own")
	default:
		d.tankAt[id] = index
	}
	d.tank.ID = id
}

// checkSetUp stands at the tank's end, because set_up may follow the cores.
func (d *Decoder) checkSetUp(index int) {
	for i, core := range d.cores {
		if core.Date != 0 && core.Date < d.tank.SetUp {
			d.report(jsontext.Pointer(fmt.Sprintf("/tanks/%d/cores/%d/date", index, i)),
				core.Date.String(), d.tank.SetUp.String()+" (the tank's set_up) or later")
		}
	}
}

// readList reads a list's entries one by one; nil when there are none.
func readList[Entry any](d *Decoder, read func() Entry) (entries []Entry) {
	if d.list() {
		for d.more() {
			entries = append(entries, read())
		}
	}
	return entries
}

// exact copies a list out of the decoder's own memory; nil when it is empty.
func exact[Entry any](list []Entry) []Entry { return append([]Entry(nil), list...) }

func (d *Decoder) readVessel() *Vessel {
	var v Vessel
	o := d.object(&vesselFields)
	for d.next(&o) {
		switch o.name {
		case "shape":
			v.Shape = choose(d, shapes)
		case "length_mm":
			v.LengthMM = d.number(vesselRange)
		case "width_mm":
			v.WidthMM = d.number(vesselRange)
		case "diameter_mm":
			v.DiameterMM = d.number(vesselRange)
		case "water_depth_mm":
			v.WaterDepthMM = d.number(vesselRange)
		}
	}
	if v.Shape != "" && !d.stopped {
		d.checkMeasures(&o, v.Shape)
	}
	return &v
}

// checkMeasures compares the measures given with those of the shape.
func (d *Decoder) checkMeasures(o *object, shape Shape) {
	want := "length_mm, width_mm and water_depth_mm for a box"
	if shape == Cylinder {
		want = "diameter_mm and water_depth_mm for a cylinder"
	}
	for _, name := range []string{"length_mm", "width_mm", "diameter_mm"} {
		place := d.json.StackPointer().AppendToken(name)
		switch needed := (name == "diameter_mm") == (shape == Cylinder); {
		case needed && o.lacks(name):
			d.report(place, "nothing", want)
		case !needed && o.has(name):
			d.report(place, "a measure of another shape", want)
		}
	}
}

func (d *Decoder) readNative() (n Native) {
	for o := d.object(&nativeFields); d.next(&o); {
		switch o.name {
		case "name":
			n.Name = string(d.label())
		case "kind":
			n.Kind = choose(d, kinds)
		case "hex":
			n.Color = d.color()
		case "thickness_mm":
			n.ThicknessMM = d.number(thicknessRange)
		}
	}
	return n
}

func (d *Decoder) readLimits() (limits Limits) {
	for o := d.object(&limitFields); d.next(&o); {
		limit := Limit(slices.Index(limitFields.names, o.name))
		rule := limit.Rule()
		if limits == nil {
			limits = Limits{}
		}
		limits[limit] = d.number(measure{low: rule.Min, high: rule.Max, unit: " (" + rule.Unit + ")"})
	}
	return limits
}

func (d *Decoder) readCores() {
	if d.list() {
		for d.more() {
			d.cores = append(d.cores, Core{})
			d.readCore(len(d.cores) - 1)
		}
	}
}

func (d *Decoder) readCore(index int) {
	c := &d.cores[index]
	for o := d.object(&coreFields); d.next(&o); {
		switch o.name {
		case "date":
			c.Date = d.date()
		case "station":
			c.Station = d.station()
		case "lit":
			c.Lit = d.flag()
		case "signs":
			c.Signs = d.readSigns()
		case "note":
			c.Note = d.note()
		case "sure":
			c.Sure = d.truth(false)
		case "photo":
			c.Photo = d.readPhoto()
		case "layers":
			c.Layers = d.readLayers()
		}
	}
	d.checkTwin(index)
}

// station reads a station. A tank has few, so its cores share their names.
func (d *Decoder) station() string {
	text := d.label()
	station, ok := d.stations[string(text)]
	if !ok {
		station = string(text)
		d.stations[station] = station
	}
	return station
}

func (d *Decoder) checkTwin(index int) {
	core := &d.cores[index]
	if core.Station == "" || core.Date == 0 {
		return
	}
	key := reading{core.Station, core.Date}
	if first, twin := d.coreAt[key]; twin {
		d.reportHere(fmt.Sprintf("station %s on %s, as in cores[%d]", core.Station, core.Date, first), "one core of a station and date")
		return
	}
	d.coreAt[key] = index
}

func (d *Decoder) readSigns() (seen []Sign) {
	if d.list() {
		for d.more() {
			sign := choose(d, signs)
			switch {
			case sign == "":
			case slices.Contains(seen, sign):
				d.reportHere(quote(string(sign))+" a second time", "each sign once")
			default:
				seen = append(seen, sign)
			}
		}
	}
	return seen
}

// readLayers gathers a core's layers in the decoder's own memory first, so that
// the list made of them is as long as it need be.
func (d *Decoder) readLayers() []Layer {
	if !d.list() {
		return nil
	}
	d.layers = d.layers[:0]
	for d.more() {
		d.layers = append(d.layers, d.readLayer())
	}
	if d.stopped {
		return nil
	}
	layers := exact(d.layers)
	if depth := (Core{Layers: layers}).DepthMM(); depth > maxBedMM {
		d.reportHere(format(depth)+" mm of layers", "at most 2000 mm in one core")
	}
	if len(layers) == 0 {
		d.reportHere("an empty list", "at least one layer")
	}
	return layers
}

func (d *Decoder) readLayer() (l Layer) {
	for o := d.object(&layerFields); d.next(&o); {
		switch o.name {
		case "thickness_mm":
			l.ThicknessMM = d.number(thicknessRange)
		case "hex":
			l.Color = d.color()
		case "band":
			l.Band, _ = palette.ParseBand(choose(d, d.bands)) // chosen from its own list
		case "note":
			l.Note = d.note()
		case "edge":
			l.Edge = d.readEdge()
		}
	}
	return l
}

func (d *Decoder) readWater() (w WaterTest) {
	for o := d.object(&waterFields); d.next(&o); {
		switch o.name {
		case "date":
			w.Date = d.date()
		case "time":
			w.Time = d.clock()
		case "ph":
			w.PH = d.optional(phRange)
		case "temperature_c":
			w.TemperatureC = d.optional(temperatureRange)
		case "total_ammonia_mg_l":
			w.TotalAmmonia = d.optional(ammoniaRange)
		case "oxygen_mg_l":
			w.OxygenMGPerL = d.optional(oxygenRange)
		}
	}
	return w
}

func (d *Decoder) readEvent() (e Event) {
	for o := d.object(&eventFields); d.next(&o); {
		switch o.name {
		case "date":
			e.Date = d.date()
		case "kind":
			e.Kind = choose(d, events)
		case "share":
			e.Share = d.optional(shareRange)
		case "depth_mm":
			e.DepthMM = d.optional(depthRange)
		case "note":
			e.Note = d.note()
		}
	}
	return e
}
