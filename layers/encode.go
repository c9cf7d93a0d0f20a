package layers

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Encode writes the tanks as a logbook document in its one canonical form: fields
// in the order of the manual, what is not given left out, a line each for a
// layer, a native substrate, a water test and an event, so that logbooks compare
// well line by line. The tanks are taken as they are; only a number or a text
// that JSON can't hold is an error.
func Encode(w io.Writer, tanks []Tank) error {
	e := &encoder{w: w}
	e.begin('{')
	e.text("format", DocumentFormat)
	e.key("tanks")
	e.begin('[')
	for i := range tanks {
		e.next()
		e.tank(&tanks[i])
		e.flush()
	}
	e.end(']')
	e.end('}')
	e.buf = append(e.buf, '\n')
	e.flush()
	return e.err
}

// encoder gathers a tank's part of the document and then writes it.
type encoder struct {
	w      io.Writer
	buf    []byte
	indent int
	inRow  bool  // within an object or list that stands on one line
	bare   bool  // nothing stands yet in the object or list at hand
	err    error // the first
}

func (e *encoder) flush() {
	if e.err == nil {
		_, e.err = e.w.Write(e.buf)
	}
	e.buf = e.buf[:0]
}

func (e *encoder) tank(t *Tank) {
	e.begin('{')
	e.text("id", t.ID)
	e.text("name", t.Name)
	e.text("set_up", t.SetUp.String())
	e.vessel(t.Vessel)
	e.text("flow", string(t.Flow))
	e.flag("burrowers", t.Burrowers)
	e.flag("rooted_plants", t.RootedPlants)
	writeList(e, "native", t.Native, e.native)
	e.limits(t.Limits)
	writeList(e, "cores", t.Cores, e.core)
	writeList(e, "water", t.Water, e.water)
	writeList(e, "events", t.Events, e.event)
	e.end('}')
}

func (e *encoder) vessel(v *Vessel) {
	if v == nil {
		return
	}
	e.key("vessel")
	e.row('{', func() {
		e.text("shape", string(v.Shape))
		e.number("length_mm", v.LengthMM)
		e.number("width_mm", v.WidthMM)
		e.number("diameter_mm", v.DiameterMM)
		e.number("water_depth_mm", v.WaterDepthMM)
	}, '}')
}

func (e *encoder) native(n *Native) {
	e.row('{', func() {
		e.text("name", n.Name)
		e.text("kind", string(n.Kind))
		e.text("hex", n.Color.String())
		e.number("thickness_mm", n.ThicknessMM)
	}, '}')
}

func (e *encoder) limits(limits Limits) {
	if len(limits) == 0 {
		return
	}
	e.key("limits")
	e.limitsRow(limits)
}

func (e *encoder) limitsRow(limits Limits) {
	e.row('{', func() {
		for limit, rule := range limitRules {
			if value, own := limits[Limit(limit)]; own {
				e.optional(rule.Name, &value)
			}
		}
	}, '}')
}

func (e *encoder) core(c *Core) {
	e.begin('{')
	e.text("date", c.Date.String())
	e.text("station", c.Station)
	e.flag("lit", c.Lit)
	e.signs(c.Signs)
	e.text("note", c.Note)
	if c.Sure {
		e.truth("sure", true)
	}
	e.photo(c.Photo)
	writeList(e, "layers", c.Layers, e.layer)
	e.end('}')
}

func (e *encoder) signs(signs []Sign) {
	if len(signs) == 0 {
		return
	}
	e.key("signs")
	e.row('[', func() {
		for _, sign := range signs {
			e.next()
			e.quote(string(sign))
		}
	}, ']')
}

func (e *encoder) layer(l *Layer) {
	e.row('{', func() {
		e.optional("thickness_mm", &l.ThicknessMM) // a 0 is a fault to be told, not a layer's way to have none
		e.text("hex", l.Color.String())
		e.text("band", l.Band.String())
		e.text("note", l.Note)
		if l.Edge != nil {
			e.edge("edge", l.Edge)
		}
	}, '}')
}

func (e *encoder) photo(p *Photo) {
	if p == nil {
		return
	}
	e.key("photo")
	e.photoRow(p)
}

func (e *encoder) photoRow(p *Photo) {
	e.row('{', func() {
		e.text("sha256", p.SHA256)
		e.optional("colour_doubt", &p.ColorDoubt)
		e.key("light")
		e.row('{', func() {
			e.optional("ev", &p.Light.EV)
			e.optional("ev_doubt", &p.Light.EVDoubt)
			e.optional("veil", &p.Light.Veil)
			e.optional("veil_doubt", &p.Light.VeilDoubt)
		}, '}')
		e.optional("scale_error", &p.ScaleError)
		e.edge("surface", &p.Surface)
		if p.Unreliable {
			e.truth("reliable", false)
		}
	}, '}')
}

func (e *encoder) edge(name string, edge *Edge) {
	e.key(name)
	e.row('{', func() {
		e.optional("error_mm", &edge.ErrorMM)
		e.optional("highest_mm", &edge.HighestMM)
		e.optional("lowest_mm", &edge.LowestMM)
	}, '}')
}

func (e *encoder) water(w *WaterTest) {
	e.row('{', func() {
		e.text("date", w.Date.String())
		e.text("time", w.Time)
		e.optional("ph", w.PH)
		e.optional("temperature_c", w.TemperatureC)
		e.optional("total_ammonia_mg_l", w.TotalAmmonia)
		e.optional("oxygen_mg_l", w.OxygenMGPerL)
	}, '}')
}

func (e *encoder) event(v *Event) {
	e.row('{', func() {
		e.text("date", v.Date.String())
		e.text("kind", string(v.Kind))
		e.optional("share", v.Share)
		e.optional("depth_mm", v.DepthMM)
		e.text("note", v.Note)
	}, '}')
}

// writeList writes a list that is not empty, an entry a line.
func writeList[Entry any](e *encoder, name string, list []Entry, write func(*Entry)) {
	if len(list) == 0 {
		return
	}
	e.key(name)
	e.begin('[')
	for i := range list {
		e.next()
		write(&list[i])
	}
	e.end(']')
}

// text writes a field that holds text, unless it is empty.
func (e *encoder) text(name, value string) {
	if value != "" {
		e.key(name)
		e.quote(value)
	}
}

// number writes a field that holds a number, unless it is 0: not given.
func (e *encoder) number(name string, value float64) {
	if value != 0 {
		e.optional(name, &value)
	}
}

// optional writes a field that holds a number, unless it is nil.
func (e *encoder) optional(name string, value *float64) {
	if value == nil {
		return
	}
	if math.IsNaN(*value) || math.IsInf(*value, 0) {
		e.fail(fmt.Errorf("found %s %v, want a number", name, *value))
		return
	}
	e.key(name)
	e.buf = jsontext.AppendFloat(e.buf, *value, 64)
}

// flag writes a field that holds true or false, unless it is nil.
func (e *encoder) flag(name string, value *bool) {
	if value != nil {
		e.truth(name, *value)
	}
}

func (e *encoder) truth(name string, value bool) {
	e.key(name)
	e.buf = strconv.AppendBool(e.buf, value)
}

func (e *encoder) quote(text string) {
	quoted, err := jsontext.AppendQuote(e.buf, text)
	if err != nil {
		e.fail(fmt.Errorf("found text %q, want UTF-8", text))
	}
	e.buf = quoted
}

func (e *encoder) fail(err error) {
	if e.err == nil {
		e.err = err
	}
}

func (e *encoder) key(name string) {
	e.next()
	e.buf = append(append(append(e.buf, '"'), name...), `": `...)
}

// next goes on to another field or entry.
func (e *encoder) next() {
	if !e.bare {
		e.buf = append(e.buf, ',')
	}
	switch {
	case !e.inRow:
		e.line()
	case !e.bare:
		e.buf = append(e.buf, ' ')
	}
	e.bare = false
}

func (e *encoder) begin(bracket byte) {
	e.buf = append(e.buf, bracket)
	e.indent++
	e.bare = true
}

func (e *encoder) end(bracket byte) {
	e.indent--
	if !e.inRow && !e.bare {
		e.line()
	}
	e.buf = append(e.buf, bracket)
	e.bare = false
}

// row writes an object or a list on one line, with all that is in it.
func (e *encoder) row(opening byte, fill func(), closing byte) {
	outside := e.inRow
	e.inRow = true
	e.begin(opening)
	fill()
	e.end(closing)
	e.inRow = outside
}

func (e *encoder) line() {
	e.buf = append(append(e.buf, '\n'), strings.Repeat("  ", e.indent)...)
}
