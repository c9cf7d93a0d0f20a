package forms

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

// How many rows of layers a form has, at first (assumption: what most beds show) and at most.
const (
	leastRows = 4
	mostRows  = layers.MaxLayers
)

// rowFields are the fields of a row of layers, of which a form has as many as it has rows.
var rowFields = [...]string{"thickness", "hex", "band", "layer_note", "was"}

// typedRow is a row as it is typed. Was is the number of the layer that it showed at
// first; empty: none.
type typedRow struct{ thickness, hex, band, note, was string }

func addRow(typed url.Values, row typedRow) {
	for i, text := range [...]string{row.thickness, row.hex, row.band, row.note, row.was} {
		typed.Add(rowFields[i], text)
	}
}

// mostRows is how many rows are taken: as many as a core has that has more.
func (h coreForm) mostRows() int {
	if h.stored == nil {
		return mostRows
	}
	return max(mostRows, len(h.stored.Layers))
}

// typedRows are the rows as they are typed. A field that a row lacks is empty.
func (h coreForm) typedRows() []typedRow {
	rows := make([]typedRow, min(len(h.typed["thickness"]), h.mostRows()))
	for i := range rows {
		cell := func(name string) string {
			if i < len(h.typed[name]) {
				return tidy(h.typed[name][i])
			}
			return ""
		}
		rows[i] = typedRow{cell("thickness"), cell("hex"), cell("band"), cell("layer_note"), cell("was")}
	}
	return rows
}

func (h coreForm) setRows(rows []typedRow) {
	for _, name := range rowFields {
		h.typed.Del(name)
	}
	for _, row := range rows {
		addRow(h.typed, row)
	}
}

func (h coreForm) addRows(n int) {
	for range n {
		addRow(h.typed, typedRow{})
	}
}

func (t typedRow) empty() bool { return t.thickness+t.hex+t.band+t.note == "" }

// rearrange does what a button asks for that saves nothing, as browsers without scripts
// send it, and reports whether one did: "look", "add", "take", or "up", "down" and
// "remove" with the number of a row from 0, as in "up:2".
func (h coreForm) rearrange(do string, today layers.Date) bool {
	rows := h.typedRows()
	what, number, _ := strings.Cut(do, ":")
	i, err := strconv.Atoi(number)
	if err != nil || i < 0 || i >= len(rows) {
		i = -1
	}
	switch {
	case what == "look":
	case what == "add":
		rows = append(rows, typedRow{})
	case what == "take":
		rows = h.taken(today)
	case what == "known":
		if known := h.alike(); known != "" {
			h.typed.Set("station", known)
		}
	case what == "up" && i > 0:
		rows[i-1], rows[i] = rows[i], rows[i-1]
	case what == "down" && i >= 0 && i < len(rows)-1:
		rows[i+1], rows[i] = rows[i], rows[i+1]
	case what == "remove" && i >= 0:
		rows = slices.Delete(rows, i, i+1)
	default:
		return false
	}
	h.setRows(rows)
	return true
}

// taken are the rows as they are typed with the colours of the core before, and no empty ones
// below; those that are typed where there is none. A thickness that was typed first stays.
func (h coreForm) taken(today layers.Date) (rows []typedRow) {
	rows = h.typedRows()
	former, ok := h.former(h.day(today))
	if !ok {
		return rows
	}
	for i, l := range former.Layers {
		if i == len(rows) {
			rows = append(rows, typedRow{})
		}
		rows[i].hex = l.Color.String()
	}
	for len(rows) > 0 && rows[len(rows)-1].empty() {
		rows = rows[:len(rows)-1]
	}
	return rows
}

// day is the day that is typed, or today.
func (h coreForm) day(today layers.Date) layers.Date {
	if day, err := layers.ParseDate(h.text("date")); err == nil {
		return day
	}
	return today
}

// former is the last core of the station that is typed before a day.
func (h coreForm) former(day layers.Date) (layers.Core, bool) {
	return h.tank.CoreBefore(h.text("station"), day)
}

// alike is a station of other cores that differs from the typed one in the case of its letters
// only; empty: none does, or the typed one is theirs too.
func (h coreForm) alike() (known string) {
	station := h.text("station")
	for _, core := range h.tank.Cores {
		switch itself := h.stored != nil && core.Station == h.stored.Station && core.Date == h.stored.Date; {
		case itself:
		case core.Station == station:
			return ""
		case strings.EqualFold(core.Station, station):
			known = core.Station
		}
	}
	return known
}

// readCore is the core that is typed, and the row that each of its layers is typed in.
func (s *Room) readCore(h coreForm) (core layers.Core, rows []int) {
	h.want("station", "the name of a marked place, as in front")
	h.want("date", "a day")
	core.Station = read(h.Form, "station", layers.ParseName)
	core.Date = read(h.Form, "date", layers.ParseDate)
	core.Lit = read(h.Form, "lit", layers.ParseYesNo)
	core.Note = read(h.Form, "note", layers.ParseNote)
	if h.stored != nil && sameText(core.Note, h.stored.Note) {
		core.Note = h.stored.Note
	}
	core.Signs = h.readSigns()
	if n, most := len(h.typed["thickness"]), h.mostRows(); n > most {
		h.status, h.rest = http.StatusUnprocessableEntity, append(h.rest, fmt.Sprintf("found %d layers, want at most %d", n, most))
	}
	if h.stored != nil {
		core.Photo = h.stored.Photo
	}
	core.Layers, rows = s.readLayers(h)
	core.Sure = h.stored != nil && core.StaysSure(*h.stored)
	if len(rows) == 0 {
		h.complain(nthName("thickness", 0), errors.New("found no layer, want one at least: its thickness and its colour"))
	}
	return core, rows
}

// readSigns are the signs that are ticked. Where they are those that stood, they stay in
// their order.
func (h coreForm) readSigns() (seen []layers.Sign) {
	for _, sign := range layers.Signs() {
		if slices.Contains(h.typed["sign"], string(sign)) {
			seen = append(seen, sign)
		}
	}
	if h.stored != nil && slices.Equal(slices.Sorted(slices.Values(seen)), slices.Sorted(slices.Values(h.stored.Signs))) {
		return h.stored.Signs
	}
	return seen
}

// readLayers are the layers of the rows in which anything is typed, and those rows. A
// layer that can't be read is left out, and its row has the complaint.
func (s *Room) readLayers(h coreForm) (list []layers.Layer, rows []int) {
	depth := 0.0
	for i, typed := range h.typedRows() {
		if typed.empty() {
			continue
		}
		before := len(h.complaints)
		l := s.readLayer(h, i, typed)
		if len(h.complaints) > before {
			continue
		}
		depth += l.ThicknessMM
		l.Edge = h.edgeAt(typed, depth)
		list, rows = append(list, l), append(rows, i)
	}
	return list, rows
}

func (s *Room) readLayer(h coreForm, i int, typed typedRow) (l layers.Layer) {
	var err error
	l.ThicknessMM, err = s.readThickness(h, typed)
	h.complain(nthName("thickness", i), err)
	l.Color, err = readColor(typed.hex)
	h.complain(nthName("hex", i), err)
	if typed.band != "" {
		l.Band, err = palette.ParseBand(typed.band)
		h.complain(nthName("band", i), err)
	}
	l.Note, err = layers.ParseNote(typed.note)
	h.complain(nthName("layer_note", i), err)
	if was := h.was(typed); was != nil && sameText(l.Note, was.Note) {
		l.Note = was.Note
	}
	return l
}

// sameText reports whether texts are the same except for what fields of a form do not keep:
// blanks at the ends and the ends of lines.
func sameText(a, b string) bool {
	bare := strings.NewReplacer("\r", "", "\n", "")
	return bare.Replace(tidy(a)) == bare.Replace(tidy(b))
}

// readThickness reads a layer's thickness, mm. One that stands as it was shown is what it
// was, to the last digit.
func (s *Room) readThickness(h coreForm, typed typedRow) (mm float64, err error) {
	if was := h.was(typed); was != nil && typed.thickness == lengthText(s.Units, was.ThicknessMM) {
		return was.ThicknessMM, nil
	}
	if typed.thickness == "" {
		return 0, fmt.Errorf("found nothing, want the layer's thickness, as in 18%s", s.Units)
	}
	if mm, err = inUnit(s.Units, layers.ParseLength)(typed.thickness); err != nil {
		return 0, err
	}
	l, err := layers.ParseLayer(plainNumber(mm)+"mm #000000", noColors) // for its range
	return l.ThicknessMM, err
}

func noColors(string) (palette.Color, bool) { return palette.Color{}, false }

// readColor reads a colour, with or without its '#'.
func readColor(text string) (palette.Color, error) {
	const digits = 6
	if len(text) == digits {
		text = "#" + text
	}
	if text == "" {
		return palette.Color{}, errors.New("found no colour, want '#' and six hexadecimal digits, as in #8b5e3c")
	}
	return palette.ParseColor(text)
}

// was is the layer that a row showed at first; nil: none.
func (h coreForm) was(typed typedRow) *layers.Layer {
	i, err := strconv.Atoi(typed.was)
	if h.stored == nil || err != nil || i < 0 || i >= len(h.stored.Layers) {
		return nil
	}
	return &h.stored.Layers[i]
}

// edgeAt is the edge that was traced at a layer's foot, if the foot is still where it was.
func (h coreForm) edgeAt(typed typedRow, depth float64) *layers.Edge {
	was := h.was(typed)
	if was == nil || was.Edge == nil {
		return nil
	}
	i, _ := strconv.Atoi(typed.was)
	foot := layers.Core{Layers: h.stored.Layers[:i+1]}.DepthMM()
	const moved = 1e-6 // mm, as finely as a length is typed
	if foot-depth > moved || depth-foot > moved {
		return nil
	}
	return was.Edge
}
