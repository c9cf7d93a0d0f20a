package forms

import (
	"cmp"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/site"
)

type tankFormView struct {
	Form     *Form
	New      bool
	Name     string
	Here     string // where the form goes
	Back     string
	Came     bool   // the server returned it with what was typed
	Seen     string // fingerprint of the tank as it was shown
	First    []field
	Shape    string // box, cylinder or empty
	Box      []field
	Cylinder []field
	Depth    field
	Living   []field
	Native   []nativeRow
	Limits   []field
	Own      bool // the tank has a limit of its own
	Asked    *asked
}

// nativeRow is a row of the native substrates.
type nativeRow struct {
	Number               int
	Color                palette.Color // zero: none was typed that can be read
	Hex, Thickness, Name field
	Kind                 field
}

// The rows of native substrates in a form (assumptions: what most beds have, and more than
// any).
const (
	leastNative = 2
	mostNative  = 100
)

func (s *Room) newTank(w http.ResponseWriter, r *http.Request) error {
	return s.showTankForm(w, r, http.StatusOK, layers.Tank{}, newForm(url.Values{}), nil)
}

func (s *Room) editTank(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return s.showTankForm(w, r, http.StatusOK, tank, newForm(s.tankTyped(tank)), nil)
}

// tankTyped are the fields of a tank as its form holds them.
func (s *Room) tankTyped(t layers.Tank) url.Values {
	typed := url.Values{"seen": {setupMark(t)}}
	for _, r := range tankFields() {
		typed.Set(r.Key(), r.Text(&t, s.Units))
	}
	if t.Vessel != nil {
		s.setVessel(typed, *t.Vessel)
	}
	for _, n := range t.Native {
		typed.Add("native_hex", n.Color.String())
		typed.Add("native_kind", string(n.Kind))
		typed.Add("native_thickness", lengthText(s.Units, n.ThicknessMM))
		typed.Add("native_name", n.Name)
	}
	for limit, value := range t.Limits {
		typed.Set(limitName(limit), limitText(limit, value))
	}
	return typed
}

// setVessel puts a vessel into the fields of a tank.
func (s *Room) setVessel(typed url.Values, v layers.Vessel) {
	typed.Set("shape", string(v.Shape))
	typed.Set("length", lengthText(s.Units, v.LengthMM))
	typed.Set("width", lengthText(s.Units, v.WidthMM))
	typed.Set("diameter", lengthText(s.Units, v.DiameterMM))
	typed.Set("water_depth", lengthText(s.Units, v.WaterDepthMM))
}

// setupMark is the fingerprint of what the form of a tank holds.
func setupMark(t layers.Tank) string {
	t.Cores, t.Water, t.Events = nil, nil, nil
	return site.Fingerprint(t)
}

// showTankForm shows the form of a tank, a new one's where it has no id; about: what is asked.
func (s *Room) showTankForm(w http.ResponseWriter, r *http.Request, status int, tank layers.Tank, f *Form, about *asked) error {
	v := tankFormView{
		Form: f, Asked: about, New: tank.ID == "", Name: cmp.Or(tank.Name, tank.ID), Here: "/tank/new", Back: "/", Came: !site.ReadOnly(r), Seen: f.text("seen"), Shape: f.text("shape"),
		Living: living(fieldsOf(f, "tank", tankFields()[2:], s.Units, s.Today())),
		Native: s.nativeRows(f), Limits: limitFields(f),
	}
	v.Own = slices.ContainsFunc(v.Limits, func(limit field) bool { return limit.Value != "" })
	v.measures(f, s.Units)
	first := fieldsOf(f, "tank", tankFields()[:2], s.Units, s.Today())
	title, name, setUp := "New tank", first[0], first[1]
	if v.New {
		id := f.field("tank", "id", "Short name").hint("one handy word for commands and addresses; made of the name if you leave it").exact()
		v.First = []field{name.wanted().focused(!v.Came), id, setUp}
	} else {
		v.Here, v.Back, v.First = site.TankAddress(tank.ID)+"/edit", site.TankAddress(tank.ID), []field{name, setUp}
		title = "Edit " + v.Name
	}
	return s.Show(w, r, status, "tank_form", site.Frame{Title: title, Script: "tank_form.js", Style: "form.css tank_form.css"}, v)
}

// measures adds the fields of a vessel. Its shape says which count.
func (v *tankFormView) measures(f *Form, u layers.Units) {
	measure := func(name, label string) field { return f.field("tank", name, label).decimal(u.String()) }
	v.Box = []field{measure("length", "Length inside"), measure("width", "Width inside")}
	v.Cylinder = []field{measure("diameter", "Diameter inside")}
	v.Depth = measure("water_depth", "Water above the bed")
}

// living are the fields of what lives in a tank and moves its water.
func living(fields []field) []field {
	for _, v := range fields {
		for i := range v.Options {
			if v.Options[i].Value == string(layers.Livestock) {
				v.Options[i].Label = "by animals only"
			}
		}
	}
	return fields
}

// nativeRows are the substrates as they were typed and one row more.
func (s *Room) nativeRows(f *Form) (rows []nativeRow) {
	typed := len(f.typed["native_hex"])
	for typed > 0 && f.emptyNative(typed-1) { // a form that comes back brings its empty rows
		typed--
	}
	count := min(max(leastNative, typed+1), mostNative)
	for i := range count {
		row := nativeRow{
			Number:    i + 1,
			Hex:       f.nth(i, "native_hex", "Colour"),
			Kind:      f.nth(i, "native_kind", "What it is").choosing(spelt("choose", layers.Kinds())),
			Thickness: f.nth(i, "native_thickness", "Thickness").decimal(s.Units.String()),
			Name:      f.nth(i, "native_name", "Its name"),
		}
		row.Color, _ = palette.ParseColor(row.Hex.Value)
		rows = append(rows, row)
	}
	return rows
}

// nth shows a field of which a form has several, the one at an index.
func (f *Form) nth(i int, name, label string) field {
	v := field{ID: fmt.Sprintf("%s-%d", name, i+1), Name: name, Label: label, Kind: "text", Complaint: f.complaints[nthName(name, i)]}
	if i >= 0 && i < len(f.typed[name]) {
		v.Value = f.typed[name][i]
	}
	return v
}

// nthName is how a form knows the complaint about one of several fields of a name.
func nthName(name string, i int) string { return name + "." + strconv.Itoa(i) }

func (s *Room) addTank(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	f.want("name", "a name for the tank")
	tank := s.readTank(f, layers.Tank{ID: f.text("id")})
	if tank.ID == "" {
		tank.ID = handle(tank.Name)
	}
	if slices.Contains(unreachable[:], tank.ID) {
		f.complain("id", fmt.Errorf("found %q, which can't be an address, want another short name", tank.ID))
	}
	if about := s.askTank(f, nil, tank); about != nil {
		return s.showTankForm(w, r, http.StatusOK, layers.Tank{}, f, about)
	}
	if !f.Failed() {
		err := s.Store.AddTank(r.Context(), tank)
		if stored, missing := s.Store.Tank(r.Context(), tank.ID); errors.Is(err, site.ErrTaken) && missing == nil && setupMark(stored) == setupMark(tank) {
			err = nil // it was sent twice
		}
		f.refuse(err, tankField)
	}
	if f.status == http.StatusConflict {
		f.rest, f.complaints["id"] = nil, fmt.Sprintf("found a tank with the short name %s already, want another one", tank.ID)
	}
	if f.Failed() {
		return s.showTankForm(w, r, f.status, layers.Tank{}, f, nil)
	}
	site.Say(w, r, site.TankAddress(tank.ID), tank.Name+" is saved. Read its first core from a photo or by hand.")
	return nil
}

// unreachable are the ids whose addresses a browser or this page takes for others.
var unreachable = [...]string{"new", ".", ".."}

// handle makes an id of a name: its letters and digits in small, joined by dashes.
func handle(name string) string {
	parts := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.Join(parts, "-")
}

func (s *Room) amendTank(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	former, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	tank := s.readTank(f, former)
	if now := setupMark(former); !f.Failed() && f.text("seen") != now && setupMark(tank) != now { // else it was sent twice
		f.conflict("The tank was changed", ". Saving again puts it in the place of the other.")
		f.typed.Set("seen", now)
	}
	if about := s.askTank(f, former.Vessel, tank); about != nil {
		return s.showTankForm(w, r, http.StatusOK, former, f, about)
	}
	if !f.Failed() {
		f.refuse(s.Store.EditTank(r.Context(), tank), tankField)
	}
	if f.Failed() {
		return s.showTankForm(w, r, f.status, former, f, nil)
	}
	site.Say(w, r, site.TankAddress(tank.ID), "The tank is amended.")
	return nil
}
