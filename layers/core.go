package layers

import (
	"fmt"
	"slices"
	"strings"

	"panecore/layers/jsonio"
)

// Core is one side-view profile, its layers listed top to bottom. A tank has one of a date and
// station.
type Core struct {
	Date    Date
	Station string
	Lit     *bool // whether light reaches the glass there; nil: not given
	Signs   []Sign
	Note    string
	Sure    bool   // the keeper was asked whether it is right and said so
	Photo   *Photo // what it was read from; nil: by eye
	Layers  []Layer
}

// CoreFields are the fields of a core, its date and station first.
func CoreFields() []Field[Core] { return coreTable.fields }

var coreTable = tableOf((*Decoder).checkTwin,
	field("date", dateKind(), func(c *Core) *Date { return &c.Date }).needed(),
	field("station", wording((*Decoder).station, ParseName), func(c *Core) *string { return &c.Station }).needed(),
	field("lit", flagKind(), func(c *Core) **bool { return &c.Lit }),
	field("signs", signsKind(), func(c *Core) *[]Sign { return &c.Signs }),
	field("note", noteKind(), func(c *Core) *string { return &c.Note }),
	field("sure", truthKind(false), func(c *Core) *bool { return &c.Sure }).since(4),
	field("photo", maybe(photoTable), func(c *Core) **Photo { return &c.Photo }).since(3),
	field("layers", listOf((*Decoder).readLayers, layerTable.row), func(c *Core) *[]Layer { return &c.Layers }).needed(),
)

func (d *Decoder) readCores() []Core {
	if d.in.List() {
		for d.in.More() {
			d.cores = append(d.cores, Core{})
			coreTable.read(d, &d.cores[len(d.cores)-1])
		}
	}
	return exact(d.cores)
}

// MaxStations is how many stations a tank can have (assumption: a hundred times what a keeper marks).
// All that are read within a week are drawn together: 2 ms and 0.1 MB for each in 2,000 draws.
const MaxStations = 1000

// station reads a station. A tank has few, so its cores share their names.
func (d *Decoder) station() string {
	text := d.label()
	station, ok := d.stations[string(text)]
	switch {
	case ok:
	case len(d.stations) == MaxStations:
		d.in.ReportHere(jsonio.Quote(string(text))+", one station more", fmt.Sprintf("at most %d stations a tank", MaxStations))
	default:
		station = string(text)
		d.stations[station] = station
	}
	return station
}

func (d *Decoder) checkTwin(_ jsonio.Object, core *Core) {
	if core.Station == "" || core.Date == 0 {
		return
	}
	key := reading{core.Station, core.Date}
	if first, twin := d.coreAt[key]; twin {
		d.in.ReportHere(fmt.Sprintf("station %s on %s, as in cores[%d]", core.Station, core.Date, first), "one core of a station and date")
		return
	}
	d.coreAt[key] = len(d.cores) - 1
}

// MarshalJSON writes the core as a document does.
func (c Core) MarshalJSON() ([]byte, error) { return coreTable.marshal(&c) }

// DepthMM is how far down the core was seen: the sum of its layers.
func (c Core) DepthMM() float64 {
	var depth float64
	for _, layer := range c.Layers {
		depth += layer.ThicknessMM
	}
	return depth
}

// Sign is something seen at a reading besides the layers.
type Sign string

// The signs.
const (
	GasBubbles   Sign = "gas-bubbles"
	EggSmell     Sign = "egg-smell"
	PlantMelt    Sign = "plant-melt"
	DeadAnimal   Sign = "dead-animal"
	Gasping      Sign = "gasping"
	WhiteThreads Sign = "white-threads"
	RootsDeep    Sign = "roots-deep"
	Burrowers    Sign = "burrowers"
)

var signs = []Sign{GasBubbles, EggSmell, PlantMelt, DeadAnimal, Gasping, WhiteThreads, RootsDeep, Burrowers}

// Signs lists what may be seen at a reading besides the layers.
func Signs() []Sign { return slices.Clone(signs) }

// ParseSign reads a sign's name.
func ParseSign(s string) (Sign, error) {
	if sign := Sign(strings.ToLower(s)); slices.Contains(signs, sign) {
		return sign, nil
	}
	return "", Fault{Found: jsonio.Quote(s), Want: wanted(s, Texts(signs))}
}

// signsKind is a list of signs, each once. A store keeps them with a blank between.
func signsKind() kind[[]Sign] {
	k := structured(textColumn, (*Decoder).readSigns, func(signs []Sign) bool { return len(signs) > 0 }, writeSigns)
	k.cell = func(signs []Sign) any { return strings.Join(Texts(signs), " ") }
	k.scan = func(_ PartDecoder, cell any) (signs []Sign, _ error) {
		text, _ := cell.(string)
		for sign := range strings.FieldsSeq(text) {
			signs = append(signs, Sign(sign))
		}
		return signs, nil
	}
	return k
}

func writeSigns(e *jsonio.Writer, signs []Sign) {
	outside := e.Row(true)
	e.Begin('[')
	for _, sign := range signs {
		e.Next()
		e.Quote(string(sign))
	}
	e.End(']')
	e.Row(outside)
}

func (d *Decoder) readSigns() (seen []Sign) {
	if d.in.List() {
		for d.in.More() {
			sign := jsonio.Choose(d.in, signs)
			switch {
			case sign == "":
			case slices.Contains(seen, sign):
				d.in.ReportHere(jsonio.Quote(string(sign))+" a second time", "each sign once")
			default:
				seen = append(seen, sign)
			}
		}
	}
	return seen
}
