package reader

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/site"
)

// What a page may send about one photo.
const (
	mostRequest = 256 << 10 // bytes (assumption: many times what the page sends)
	mostCards   = 6         // grey cards (the project's definition, as for the command)
	mostCuts    = layers.MaxLayers
)

// readRequest is what a keeper has marked, changed and noted of a photo. Lengths and
// reflectances are as typed.
type readRequest struct {
	Tank    string       `json:"tank"`
	Station string       `json:"station"`
	Date    string       `json:"date"`
	Picks   marks        `json:"picks"`
	Surface float64      `json:"surface_mm"`
	Bend    layers.Bend  `json:"surface_bend,omitempty"`
	Cuts    []cutRequest `json:"cuts,omitempty"` // none: as the program reads them

	Confirmed []string `json:"confirmed,omitempty"` // what a keeper has said yes to, of what question.About names

	Lit   *bool    `json:"lit,omitempty"`
	Signs []string `json:"signs,omitempty"`
	Note  string   `json:"note,omitempty"`
}

// marks are in pixels of the upright picture; those not made yet are left out.
type marks struct {
	Ruler   *rulerMark   `json:"ruler,omitempty"`
	Cards   []cardMark   `json:"cards,omitempty"`
	Strip   *[4]float64  `json:"strip,omitempty"` // left, top, width, height
	Surface *float64     `json:"surface,omitempty"`
	Hidden  [][3]float64 `json:"hidden,omitempty"` // discs not to be read
}

type rulerMark struct {
	From   [2]float64 `json:"from"`
	To     [2]float64 `json:"to"`
	Length string     `json:"length"` // between them, such as 70mm

	Plane *[8]float64 `json:"plane,omitempty"` // of the pane, where a tag gave the ruler
}

type cardMark struct {
	Box         [4]float64 `json:"box"`
	Reflectance string     `json:"reflectance,omitempty"` // such as 18% or L=66; empty: not known
}

type cutRequest struct {
	BottomMM float64     `json:"bottom_mm"`
	Band     string      `json:"band,omitempty"` // empty: as the program reads it
	Bend     layers.Bend `json:"bend,omitempty"` // of the lower edge
}

// A fieldError is an error in one field of the page.
type fieldError struct {
	error
	field string
}

func (e fieldError) Unwrap() []error { return []error{e.error, site.ErrInput} }

// inField adds an error's field; nil stays nil.
func inField(field string, err error) error {
	if err == nil {
		return nil
	}
	return fieldError{err, field}
}

// parseRequest decodes what a page sends, whose values are checked later.
func parseRequest[Request readRequest | saveRequest | nativeRequest | keptState](text []byte) (q Request, err error) {
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	err = decoder.Decode(&q)
	if _, end := decoder.Token(); err != nil || !errors.Is(end, io.EOF) {
		return q, site.WithKind(site.ErrInput, errors.New("found something that this page does not send: reload the page"))
	}
	return q, nil
}

// wanted lists the marks that are missing before the photo can be read.
func (m *marks) wanted() (list []string) {
	if m.Ruler == nil || m.Ruler.Length == "" {
		list = append(list, "ruler")
	}
	if m.Strip == nil {
		list = append(list, "strip")
	}
	return list
}

// typed parses what was typed with the marks: the ruler's length in millimetres, zero if there is
// none yet, and the reflectance of each card, zero if it is not known.
func (m *marks) typed() (mm float64, reflectances []float64, err error) {
	if m.Ruler != nil && m.Ruler.Length != "" {
		mm, err = layers.ParseLength(m.Ruler.Length)
		switch {
		case err != nil:
			return 0, nil, inField("length", err)
		case mm <= 0:
			return 0, nil, inField("length", fmt.Errorf("found length %q, want one above 0", m.Ruler.Length))
		}
	}
	if len(m.Cards) > mostCards {
		return 0, nil, site.WithKind(site.ErrInput, fmt.Errorf("found %d grey cards, want at most %d", len(m.Cards), mostCards))
	}
	reflectances = make([]float64, len(m.Cards))
	for i, card := range m.Cards {
		if card.Reflectance == "" {
			continue
		}
		if reflectances[i], err = layers.ParseReflectance(card.Reflectance); err != nil {
			return 0, nil, inField("reflectance-"+strconv.Itoa(i), err)
		}
	}
	return mm, reflectances, nil
}

// complete are the marks to read a photo by. None may be missing.
func (m *marks) complete() (k layers.Marks, err error) {
	mm, reflectances, err := m.typed()
	if err != nil {
		return k, err
	}
	if err := checkBox("strip", *m.Strip); err != nil {
		return k, err
	}
	r := m.Ruler
	k = layers.Marks{Strip: *m.Strip, Surface: m.Surface, Hidden: m.Hidden, Ruler: [5]float64{r.From[0], r.From[1], r.To[0], r.To[1], mm}, Plane: r.Plane}
	for i, card := range m.Cards {
		if err := checkBox(fmt.Sprint("grey card ", i+1), card.Box); err != nil {
			return k, err
		}
		k.Neutral = append(k.Neutral, layers.GreyCard{Box: card.Box, Reflectance: reflectances[i]})
	}
	return k, nil
}

// checkBox refuses an empty box.
func checkBox(name string, box [4]float64) error {
	if box[2] > 0 && box[3] > 0 {
		return nil
	}
	return site.WithKind(site.ErrInput, fmt.Errorf("found the %s %g wide and %g high, want a width and a height above 0", name, box[2], box[3]))
}

// shownMarks converts marks for the page.
func shownMarks(k layers.Marks) marks {
	r := k.Ruler
	m := marks{
		Ruler: &rulerMark{From: [2]float64{r[0], r[1]}, To: [2]float64{r[2], r[3]}, Length: strconv.FormatFloat(r[4], 'f', -1, 64) + "mm", Plane: k.Plane},
		Strip: &k.Strip, Surface: k.Surface, Hidden: k.Hidden,
	}
	for _, card := range k.Neutral {
		mark := cardMark{Box: card.Box}
		if card.Reflectance > 0 {
			mark.Reflectance = strconv.FormatFloat(100*card.Reflectance, 'g', reflectanceDigits, 64) + "%"
		}
		m.Cards = append(m.Cards, mark)
	}
	return m
}

// reflectanceDigits are more than a card is known to, and few enough to hide the rounding error
// of 100*0.18.
const reflectanceDigits = 6

// core is what is noted besides the layers. Only saving needs all of it.
func (q *readRequest) core() (core layers.Core, err error) {
	core.Lit = q.Lit
	if q.Station != "" {
		if core.Station, err = layers.ParseName(q.Station); err != nil {
			return core, inField("station", err)
		}
	}
	if q.Date != "" {
		if core.Date, err = layers.ParseDate(q.Date); err != nil {
			return core, inField("date", err)
		}
	}
	if q.Note != "" {
		if core.Note, err = layers.ParseNote(q.Note); err != nil {
			return core, inField("note", err)
		}
	}
	for _, name := range q.Signs {
		sign, err := layers.ParseSign(name)
		if err != nil {
			return core, inField("signs", err)
		}
		core.Signs = append(core.Signs, sign)
	}
	return core, nil
}

// cuts are the layers as the keeper has them.
func (q *readRequest) cuts() (list []Cut, err error) {
	if len(q.Cuts) > mostCuts {
		return nil, site.WithKind(site.ErrInput, fmt.Errorf("found %d layers, want at most %d", len(q.Cuts), mostCuts))
	}
	for _, c := range q.Cuts {
		cut := Cut{BottomMM: c.BottomMM, Bend: c.Bend}
		if c.Band != "" {
			if cut.Band, err = palette.ParseBand(c.Band); err != nil {
				return nil, site.WithKind(site.ErrInput, err)
			}
		}
		list = append(list, cut)
	}
	return list, nil
}
