package web

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// handRoutes are the addresses of readings by hand.
func (s *server) handRoutes() map[string]handler {
	return map[string]handler{
		"GET /tank/{id}/read":                          s.newCore,
		"POST /tank/{id}/read":                         s.addCore,
		"POST /tank/{id}/preview":                      s.preview,
		"GET /tank/{id}/core/{station}/{date}":         s.editCore,
		"POST /tank/{id}/core/{station}/{date}":        s.amendCore,
		"POST /tank/{id}/core/{station}/{date}/remove": s.removeCore,
	}
}

// hand is a core being typed.
type hand struct {
	*form
	tank   layers.Tank
	stored *layers.Core // the one that is amended; nil: a new one
}

// handView is the form of a core.
type handView struct {
	Form     *form
	Title    string
	Tank     string // its id
	Name     string
	Here     string // where the form goes
	Back     string
	Preview  string // the address that draws what is typed
	Draft    string // what the browser keeps the typed under
	Came     bool   // it came back from the server: what stands is what was typed
	Seen     string // fingerprint of the core as it was shown; empty: a new one
	Station  string // of the core that is amended
	Date     string
	Photo    bool
	Unit     string
	When     []field
	Rows     []handRow
	Blank    handRow // for rows that are added in the browser
	Swatches []swatch
	Signs    []option
	Note     field
	Former   bool // there is a core before it
	Drawn    previewView
	Save     string // the word on the button
	Clash    option // where the core in its way is amended; empty: none
}

// swatch is a colour at hand.
type swatch struct {
	Color palette.Color
	Words string
}

func (s *server) newCore(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	station := r.URL.Query().Get("station")
	if station == "" {
		station = nextStation(tank, s.Today())
	}
	typed := url.Values{"station": {station}, "date": {s.Today().String()}}
	h := hand{form: newForm(typed), tank: tank}
	rows := leastRows
	if former, ok := h.former(s.Today()); ok {
		typed.Set("lit", yesNo(former.Lit))
		rows = max(rows, len(former.Layers))
	}
	h.addRows(rows)
	return s.showHand(w, r, http.StatusOK, h)
}

// nextStation is where a tank is read next on a day: at a station that was not yet.
func nextStation(tank layers.Tank, day layers.Date) string {
	stations := stationsOf(tank)
	for _, station := range stations {
		if _, err := coreOf(tank, station, day.String()); err != nil {
			return station
		}
	}
	return append(stations, "front")[0]
}

func (s *server) addCore(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedHand(r)
	if err != nil {
		return err
	}
	if h.rearrange(h.text("do"), s.Today()) {
		return s.showHand(w, r, http.StatusOK, h)
	}
	core, rows := s.readCore(h)
	if !h.failed() {
		h.refuse(s.Store.AddCore(r.Context(), h.tank.ID, core), coreField(rows))
	}
	if h.failed() {
		return s.showHand(w, r, h.status, h)
	}
	say(w, r, addressOf(h.tank.ID), fmt.Sprintf("The reading of %s, %s is kept.", core.Station, core.Date))
	return nil
}

// postedHand is what was typed of a core.
func (s *server) postedHand(r *http.Request) (h hand, err error) {
	if h.form, err = postedForm(r); err != nil {
		return h, err
	}
	h.tank, err = s.Store.Tank(r.Context(), r.PathValue("id"))
	return h, err
}

// coreField finds the field that holds a part of a core; its layers come from rows.
func coreField(rows []int) func(path string) string {
	return func(path string) string {
		switch path {
		case "date", "station", "note":
			return path
		case "layers":
			return nthName("thickness", 0)
		}
		var i int
		var part string
		if _, err := fmt.Sscanf(path, "layers[%d].%s", &i, &part); err != nil || i >= len(rows) {
			return ""
		}
		return nthName(map[string]string{"thickness_mm": "thickness", "hex": "hex", "band": "band", "note": "layer_note"}[part], rows[i])
	}
}

// core is the core that an address names.
func (s *server) core(r *http.Request) (tank layers.Tank, core layers.Core, err error) {
	if tank, err = s.Store.Tank(r.Context(), r.PathValue("id")); err != nil {
		return tank, core, err
	}
	core, err = coreOf(tank, r.PathValue("station"), r.PathValue("date"))
	return tank, core, err
}

func coreOf(tank layers.Tank, station, date string) (layers.Core, error) {
	i := slices.IndexFunc(tank.Cores, func(c layers.Core) bool { return c.Station == station && c.Date.String() == date })
	if i < 0 {
		return layers.Core{}, Fault(ErrMissing, fmt.Errorf("found no core %s %s of tank %q, want one that the logbook holds", station, date, tank.ID))
	}
	return tank.Cores[i], nil
}

// coreMark is the fingerprint of a core.
func coreMark(core layers.Core) string {
	return fingerprint(layers.Tank{Cores: []layers.Core{core}})
}

func (s *server) editCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	return s.showHand(w, r, http.StatusOK, hand{newForm(s.coreTyped(core)), tank, &core})
}

// coreTyped are the fields of a core as its form holds them.
func (s *server) coreTyped(core layers.Core) url.Values {
	typed := url.Values{
		"station": {core.Station}, "date": {core.Date.String()}, "lit": {yesNo(core.Lit)}, "note": {core.Note}, "seen": {coreMark(core)},
	}
	for _, sign := range core.Signs {
		typed.Add("sign", string(sign))
	}
	for i, l := range core.Layers {
		addRow(typed, handTyped{
			thickness: lengthText(s.Units, l.ThicknessMM), hex: l.Color.String(), band: l.Band.String(), note: l.Note, was: fmt.Sprint(i),
		})
	}
	return typed
}

func (s *server) amendCore(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedHand(r)
	if err != nil {
		return err
	}
	s.amending.Lock()
	defer s.amending.Unlock()
	stored, err := coreOf(h.tank, r.PathValue("station"), r.PathValue("date"))
	if errors.Is(err, ErrMissing) && h.text("seen") != "" { // removed since the form was opened
		h.conflict("The core was removed elsewhere, in another window or by a command, since this form was opened. " +
			"Nothing was saved, and what you typed is still here. Saving again files it as a new reading.")
		h.typed.Del("seen")
		return s.showHand(w, r, h.status, h)
	}
	if err != nil {
		return err
	}
	h.stored = &stored
	if h.rearrange(h.text("do"), s.Today()) {
		return s.showHand(w, r, http.StatusOK, h)
	}
	core, rows := s.readCore(h)
	if now := coreMark(stored); !h.failed() && h.text("seen") != now {
		h.conflict("The core was changed elsewhere, in another window or by a command, since this form was opened. " +
			"Nothing was saved, and what you typed is still here, beside the core as it stands now (" + s.coreWords(stored) + "). Saving again puts yours in its place; the other is kept among the former values.")
		h.typed.Set("seen", now)
	}
	if !h.failed() && coreMark(core) == coreMark(stored) {
		say(w, r, addressOf(h.tank.ID)+"#readings", "Nothing was changed: the reading is as it was.")
		return nil
	}
	if !h.failed() {
		h.refuse(s.Store.AmendCore(r.Context(), h.tank.ID, stored.Station, stored.Date, core), coreField(rows))
	}
	if h.failed() {
		return s.showHand(w, r, h.status, h)
	}
	say(w, r, addressOf(h.tank.ID)+"#readings", amendedWords(stored, core))
	return nil
}

// coreWords tell a core in short.
func (s *server) coreWords(core layers.Core) string {
	parts := append([]string{s.layersWords(core)}, words.Signs(core)...)
	if core.Note != "" {
		parts = append(parts, "note: "+core.Note)
	}
	return strings.Join(parts, "; ")
}

// conflict notes that the record is no longer what the form showed.
func (f *form) conflict(what string) { f.status, f.rest = http.StatusConflict, append(f.rest, what) }

// amendedWords say that a core was amended, and how many edges went with it.
func amendedWords(former, core layers.Core) string {
	text := fmt.Sprintf("The reading of %s, %s is amended.", core.Station, core.Date)
	if gone := edgesOf(former) - edgesOf(core); gone == 1 {
		text += " One edge that was traced in the photo is no longer told: the layer's foot moved."
	} else if gone > 1 {
		text += fmt.Sprintf(" %d edges that were traced in the photo are no longer told: the layers' feet moved.", gone)
	}
	return text
}

func edgesOf(core layers.Core) (n int) {
	for _, l := range core.Layers {
		if l.Edge != nil {
			n++
		}
	}
	return n
}

func (s *server) removeCore(w http.ResponseWriter, r *http.Request) error {
	tank, core, err := s.core(r)
	if err != nil {
		return err
	}
	if err := s.Store.RemoveCore(r.Context(), tank.ID, core.Station, core.Date); err != nil {
		return err
	}
	say(w, r, addressOf(tank.ID)+"#readings", fmt.Sprintf("The reading of %s, %s is removed.", core.Station, core.Date))
	return nil
}

// showHand shows the form of a core with what was typed.
func (s *server) showHand(w http.ResponseWriter, r *http.Request, status int, h hand) error {
	settings, err := s.settings(r)
	if err != nil {
		return err
	}
	name := cmp.Or(h.tank.Name, h.tank.ID)
	v := handView{
		Form: h.form, Title: "A reading by hand, " + name, Tank: h.tank.ID, Name: name, Back: addressOf(h.tank.ID),
		Here: addressOf(h.tank.ID) + "/read", Preview: addressOf(h.tank.ID) + "/preview", Draft: "core " + h.tank.ID,
		Came: !readOnly(r), Seen: h.text("seen"), Unit: words.Plural(s.Units), Save: "Keep this reading",
		When:  h.whenFields(s.Today()),
		Rows:  h.rows(),
		Blank: h.row(-1),
		Signs: h.signs(), Note: h.field("core", "note", "Note").kind("area"),
		Drawn: s.drawn(h, settings),
	}
	day := s.Today()
	if date, err := layers.ParseDate(h.text("date")); err == nil {
		day = date
	}
	former, ok := h.former(day)
	v.Former = ok
	own := settings.Own(h.tank.ID)
	v.Swatches = swatches(h.tank, reports.ReadCore(h.tank, former, own, settings), own)
	if h.stored != nil {
		v.Title = fmt.Sprintf("Amend %s, %s, %s", h.stored.Station, h.stored.Date, name)
		v.Here, v.Station, v.Date = coreAddress(h.tank.ID, h.stored.Station, h.stored.Date), h.stored.Station, h.stored.Date.String()
		v.Draft, v.Photo, v.Save = v.Draft+" "+h.stored.Station+" "+v.Date, h.stored.Photo != nil, "Keep the change"
	}
	if h.status == http.StatusConflict {
		v.clash(h)
	}
	return s.show(w, r, status, "hand", frame{Title: v.Title, Script: "hand.js", Style: "form.css hand.css"}, v)
}

// clash says what stands in the way of a core.
func (v *handView) clash(h hand) {
	core, err := coreOf(h.tank, h.text("station"), h.text("date"))
	if err != nil || h.stored != nil && core.Station == h.stored.Station && core.Date == h.stored.Date {
		if h.stored != nil {
			v.Save = "Put mine in its place"
		}
		return
	}
	title := words.Titled(core.Station, core.Date)
	h.form.rest = []string{"There is a core of " + title + " already: perhaps another window or a command filed it. " +
		"Nothing was saved, and what you typed is still here. Choose another station or day, or amend the one that is there."}
	v.Clash = option{Value: coreAddress(h.tank.ID, core.Station, core.Date), Label: "Amend the core of " + title}
}

// swatches are the colours at hand: those of the core before, the keeper's own and the
// substrates as they were laid, each once.
func swatches(tank layers.Tank, former reports.Core, own []palette.Prototype) (list []swatch) {
	add := func(c palette.Color, words string) {
		if !slices.ContainsFunc(list, func(s swatch) bool { return s.Color == c }) {
			list = append(list, swatch{c, words})
		}
	}
	for _, l := range former.Layers {
		add(l.Hex, l.Band.String()+", last time")
	}
	for _, p := range own {
		add(p.Color, p.Band.String()+", your own")
	}
	for _, n := range tank.Native {
		name := n.Name
		if name == "" {
			name = string(n.Kind)
		}
		add(n.Color, name+", as laid")
	}
	return list
}
