package logbook

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// What follows turns values into rows and back: int64, float64, string or nil, as
// SQLite hands them back, so that two rows compare with ==. Only the row of a photo
// also has a []byte.

// A number or a flag that is not given is NULL.

func numberOrNull(value *float64) any {
	if value == nil {
		return nil
	}
	return *value
}

func lengthOrNull(mm float64) any {
	if mm == 0 {
		return nil
	}
	return mm
}

func truthOrNull(value *bool) any {
	if value == nil {
		return nil
	}
	return truth(*value)
}

func truth(value bool) int64 {
	if value {
		return 1
	}
	return 0
}

func setupRow(t layers.Tank, retired bool) []any {
	var v layers.Vessel
	if t.Vessel != nil {
		v = *t.Vessel
	}
	// The errors of a part are those of the whole document, which was written before.
	native, _ := layers.AppendNative(nil, t.Native)
	limits, _ := layers.AppendLimits(nil, t.Limits)
	return []any{truth(retired), t.Name, t.SetUp.String(), string(v.Shape), lengthOrNull(v.LengthMM), lengthOrNull(v.WidthMM),
		lengthOrNull(v.DiameterMM), lengthOrNull(v.WaterDepthMM), string(t.Flow), truthOrNull(t.Burrowers), truthOrNull(t.RootedPlants),
		string(native), string(limits)}
}

func coreRow(c layers.Core) []any {
	signs := make([]string, len(c.Signs))
	for i, sign := range c.Signs {
		signs[i] = string(sign)
	}
	column, _ := layers.AppendLayers(nil, c.Layers) // see setupRow
	var photo any
	if c.Photo != nil {
		text, _ := layers.AppendPhoto(nil, c.Photo)
		photo = string(text)
	}
	return []any{c.Date.String(), c.Station, truthOrNull(c.Lit), strings.Join(signs, " "), c.Note, truth(c.Sure), string(column), photo}
}

func waterRow(w layers.WaterTest) []any {
	return []any{w.Date.String(), w.Time, numberOrNull(w.PH), numberOrNull(w.TemperatureC), numberOrNull(w.TotalAmmonia), numberOrNull(w.OxygenMGPerL)}
}

func eventRow(e layers.Event) []any {
	return []any{e.Date.String(), string(e.Kind), numberOrNull(e.Share), numberOrNull(e.DepthMM), e.Note}
}

func prototypeRow(p Prototype) []any {
	return []any{p.Name, p.Band.String(), p.Color.String(), p.Spread}
}

func rowsOf[Entry any](list []Entry, row func(Entry) []any) [][]any {
	rows := make([][]any, len(list))
	for i, entry := range list {
		rows[i] = row(entry)
	}
	return rows
}

// optional scans a number or a flag that may be NULL.
type optional[T any] struct{ value **T }

func (o optional[T]) Scan(column any) error {
	var null sql.Null[T]
	if err := null.Scan(column); err != nil || !null.Valid {
		return err
	}
	*o.value = &null.V
	return nil
}

// date scans a date, which may be empty where it is no key.
type date struct{ value *layers.Date }

func (d date) Scan(column any) error {
	text, _ := column.(string)
	if text == "" {
		return nil
	}
	parsed, err := layers.ParseDate(text)
	if err != nil {
		return fault("date", text, "a day of the calendar as YYYY-MM-DD, "+layers.FirstDate.String()+" or later")
	}
	*d.value = parsed
	return nil
}

// fault is one value that a column should not hold.
func fault(where, found, want string) error {
	return layers.Faults{{Where: where, Found: strconv.Quote(found), Want: want}}
}

// The functions below read the row at hand; their errors name the entry's place.

func (r *reader) scanSetup(row *sql.Rows) (t layers.Tank, retired bool, err error) {
	var v layers.Vessel
	var native, limits sql.RawBytes
	var length, width, diameter, waterDepth sql.NullFloat64
	err = row.Scan(&retired, &t.Name, date{&t.SetUp}, &v.Shape, &length, &width, &diameter, &waterDepth,
		&t.Flow, optional[bool]{&t.Burrowers}, optional[bool]{&t.RootedPlants}, &native, &limits)
	if err != nil {
		return t, retired, err
	}
	if v.Shape != "" {
		v.LengthMM, v.WidthMM, v.DiameterMM, v.WaterDepthMM = length.Float64, width.Float64, diameter.Float64, waterDepth.Float64
		t.Vessel = &v
	}
	if t.Native, err = r.parts.Native(native); err != nil {
		return t, retired, within("native", err)
	}
	if t.Limits, err = r.parts.Limits(limits); err != nil {
		return t, retired, within("limits", err)
	}
	return t, retired, nil
}

// scanCore scans further columns behind those of a core.
func (r *reader) scanCore(row *sql.Rows, further ...any) (c layers.Core, err error) {
	var signs string
	var column, photo sql.RawBytes
	columns := append([]any{date{&c.Date}, &c.Station, optional[bool]{&c.Lit}, &signs, &c.Note, &c.Sure, &column, &photo}, further...)
	if err := row.Scan(columns...); err != nil {
		return c, err
	}
	for sign := range strings.FieldsSeq(signs) {
		c.Signs = append(c.Signs, layers.Sign(sign))
	}
	if c.Layers, err = r.parts.Layers(column); err != nil {
		return c, within(fmt.Sprintf("core %s %s, layers", c.Station, c.Date), err)
	}
	if photo != nil {
		c.Photo, err = r.parts.Photo(photo)
	}
	return c, within(fmt.Sprintf("core %s %s, photo", c.Station, c.Date), err)
}

func scanWater(row *sql.Rows) (w layers.WaterTest, err error) {
	err = row.Scan(date{&w.Date}, &w.Time, optional[float64]{&w.PH}, optional[float64]{&w.TemperatureC},
		optional[float64]{&w.TotalAmmonia}, optional[float64]{&w.OxygenMGPerL})
	return w, err
}

func scanEvent(row *sql.Rows) (e layers.Event, err error) {
	err = row.Scan(date{&e.Date}, &e.Kind, optional[float64]{&e.Share}, optional[float64]{&e.DepthMM}, &e.Note)
	return e, err
}

// scanPrototype scans the tank behind the other columns.
func scanPrototype(row *sql.Rows) (p Prototype, err error) {
	var tank sql.NullString
	var band, hex string
	if err := row.Scan(&p.Name, &band, &hex, &p.Spread, &tank); err != nil {
		return p, err
	}
	p.Tank = tank.String
	if p.Band, err = palette.ParseBand(band); err != nil {
		return p, fault(p.called()+", band", band, "a band's name")
	}
	if p.Color, err = palette.ParseColor(hex); err != nil {
		return p, fault(p.called()+", hex", hex, "'#' and six hexadecimal digits")
	}
	return p, nil
}

// within puts the place of err before what it says of places within; nil stays nil.
func within(place string, err error) error {
	if faults, ok := errors.AsType[layers.Faults](err); ok {
		placed := slices.Clone(faults)
		for i, fault := range faults {
			switch {
			case fault.Where == "document": // the whole of the place
				placed[i].Where = place
			case strings.HasPrefix(fault.Where, "["): // an entry of the list
				placed[i].Where = place + fault.Where
			default:
				placed[i].Where = place + ", " + fault.Where
			}
		}
		return placed
	}
	if err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	return nil
}
