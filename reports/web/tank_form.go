package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"panecore/layers"
	"panecore/palette"
)

// tankFormView is the form of a tank.
type tankFormView struct {
	Form     *form
	New      bool
	Tank     string // its name
	Here     string // where the form goes
	Back     string
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
}

// nativeRow is a row of the native substrates.
type nativeRow struct {
	Number               int
	Color                palette.Color // zero: none was typed that can be read
	Hex, Thickness, Name field
	Kind                 field
}

// The rows of native substrates in a form (assumption: a bed has no more).
const (
	leastNative = 2
	mostNative  = 12
)

func (s *server) newTank(w http.ResponseWriter, r *http.Request) error {
	return s.showTankForm(w, r, http.StatusOK, layers.Tank{}, newForm(url.Values{}))
}

func (s *server) editTank(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	return s.showTankForm(w, r, http.StatusOK, tank, newForm(s.tankTyped(tank)))
}

// tankTyped are the fields of a tank as its form holds them.
func (s *server) tankTyped(t layers.Tank) url.Values {
	typed := url.Values{
		"name": {t.Name}, "set_up": {t.SetUp.String()}, "flow": {string(t.Flow)},
		"burrowers": {yesNo(t.Burrowers)}, "rooted": {yesNo(t.RootedPlants)}, "seen": {setupMark(t)},
	}
	if v := t.Vessel; v != nil {
		typed.Set("shape", string(v.Shape))
		typed.Set("length", lengthText(s.Units, v.LengthMM))
		typed.Set("width", lengthText(s.Units, v.WidthMM))
		typed.Set("diameter", lengthText(s.Units, v.DiameterMM))
		typed.Set("water_depth", lengthText(s.Units, v.WaterDepthMM))
	}
	for _, n := range t.Native {
		typed.Add("native_hex", n.Color.String())
		typed.Add("native_kind", string(n.Kind))
		typed.Add("native_thickness", lengthText(s.Units, n.ThicknessMM))
		typed.Add("native_name", n.Name)
	}
	for limit, value := range t.Limits {
		typed.Set("limit_"+limit.Rule().Name, plainNumber(value))
	}
	return typed
}

// setupMark is the fingerprint of what the form of a tank holds.
func setupMark(t layers.Tank) string {
	t.Cores, t.Water, t.Events = nil, nil, nil
	return fingerprint(t)
}

// showTankForm shows the form of a tank, a new one's where it has no id.
func (s *server) showTankForm(w http.ResponseWriter, r *http.Request, status int, tank layers.Tank, f *form) error {
	unit := s.Units.String()
	v := tankFormView{
		Form: f, New: tank.ID == "", Here: "/tank/new", Back: "/", Tank: tank.ID, Seen: f.text("seen"), Shape: f.text("shape"),
		First:    []field{f.field("tank", "name", "Name")},
		Box:      []field{f.field("tank", "length", "Length inside").decimal(unit), f.field("tank", "width", "Width inside").decimal(unit)},
		Cylinder: []field{f.field("tank", "diameter", "Diameter inside").decimal(unit)},
		Depth:    f.field("tank", "water_depth", "Water above the bed").decimal(unit),
		Living: []field{
			f.field("tank", "flow", "How the water moves").choosing(flowOptions()),
			f.field("tank", "burrowers", "Animals burrow in the bed").answering(),
			f.field("tank", "rooted", "Plants root in the bed").answering(),
		},
		Native: s.nativeRows(f), Limits: limitFields(f), Own: slices.ContainsFunc(layers.LimitRules(), func(rule layers.LimitRule) bool { return f.text("limit_"+rule.Name) != "" }),
	}
	title := "New tank"
	if v.New {
		v.First[0].Wanted = true
		v.First = append(v.First, f.field("tank", "id", "Short name").hint("one handy word for commands and addresses; made of the name if you leave it"))
	} else {
		v.Here, v.Back = addressOf(tank.ID)+"/edit", addressOf(tank.ID)
		title = "Edit " + tank.ID
	}
	v.First = append(v.First, f.field("tank", "set_up", "The bed was laid on").upTo(s.Today()))
	return s.show(w, r, status, "tank_form", frame{Title: title, Script: "tank_form.js", Style: "form.css tank_form.css"}, v)
}

func flowOptions() []option {
	options := spelt("not told", layers.Flows())
	for i := range options {
		if options[i].Value == string(layers.Livestock) {
			options[i].Label = "by animals only"
		}
	}
	return options
}

// nativeRows are the substrates as they were typed and one row more.
func (s *server) nativeRows(f *form) (rows []nativeRow) {
	count := min(max(leastNative, len(f.typed["native_hex"])+1), mostNative)
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
func (f *form) nth(i int, name, label string) field {
	v := field{ID: fmt.Sprintf("%s-%d", name, i+1), Name: name, Label: label, Kind: "text", Fault: f.faults[nthName(name, i)]}
	if i >= 0 && i < len(f.typed[name]) {
		v.Value = f.typed[name][i]
	}
	return v
}

// nthName is how a form knows the faults of one of several fields of a name.
func nthName(name string, i int) string { return name + "." + strconv.Itoa(i) }

func limitFields(f *form) (list []field) {
	for _, rule := range layers.LimitRules() {
		list = append(list, f.field("tank", "limit_"+rule.Name, strings.ToUpper(rule.Rule[:1])+rule.Rule[1:]).keys("decimal").
			hint(fmt.Sprintf("%s, %s to %s; else %s: %s", rule.Unit, plainNumber(rule.Min), plainNumber(rule.Max), plainNumber(rule.Default), rule.Source)))
	}
	return list
}

func (s *server) addTank(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	f.want("name", "a name for the tank")
	tank := s.readTank(f, layers.Tank{ID: f.text("id")})
	if tank.ID == "" {
		tank.ID = handle(tank.Name)
	}
	if !f.failed() {
		f.refuse(s.Store.AddTank(r.Context(), tank), tankField)
	}
	if f.status == http.StatusConflict {
		f.rest, f.faults["id"] = nil, fmt.Sprintf("found a tank of the short name %s already, want another one", tank.ID)
	}
	if f.failed() {
		return s.showTankForm(w, r, f.status, layers.Tank{}, f)
	}
	say(w, r, addressOf(tank.ID), tank.Name+" is kept. Read its first core: by a photo, or by hand.")
	return nil
}

// handle makes an id of a name: its letters and digits in small, joined by dashes.
func handle(name string) string {
	parts := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.Join(parts, "-")
}

func (s *server) amendTank(w http.ResponseWriter, r *http.Request) error {
	f, err := postedForm(r)
	if err != nil {
		return err
	}
	s.amending.Lock()
	defer s.amending.Unlock()
	former, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	tank := s.readTank(f, former)
	if now := setupMark(former); !f.failed() && f.text("seen") != now {
		f.status = http.StatusConflict
		f.rest = append(f.rest, "The tank was changed elsewhere, in another window or by a command, since this form was opened. "+
			"Nothing was saved, and what you typed is still here. Saving again puts it in the place of the other.")
		f.typed.Set("seen", now)
	}
	if !f.failed() {
		f.refuse(s.Store.EditTank(r.Context(), tank), tankField)
	}
	if f.failed() {
		return s.showTankForm(w, r, f.status, former, f)
	}
	say(w, r, addressOf(tank.ID), "The tank is amended.")
	return nil
}

// readTank puts what was typed on a tank. What stands as it was shown stays as it was.
func (s *server) readTank(f *form, tank layers.Tank) layers.Tank {
	tank.Name = read(f, "name", layers.ParseName)
	tank.SetUp = read(f, "set_up", layers.ParseDate)
	tank.Flow = read(f, "flow", chosen(layers.Flows()))
	tank.Burrowers = readOptional(f, "burrowers", parseYesNo)
	tank.RootedPlants = readOptional(f, "rooted", parseYesNo)
	tank.Vessel = s.readVessel(f, tank.Vessel)
	tank.Native = s.readNative(f, tank.Native)
	tank.Limits = readLimits(f)
	return tank
}

func (s *server) readVessel(f *form, former *layers.Vessel) *layers.Vessel {
	if former == nil {
		former = &layers.Vessel{}
	}
	v := layers.Vessel{Shape: read(f, "shape", chosen([]layers.Shape{layers.Box, layers.Cylinder}))}
	switch v.Shape {
	case "":
		return nil
	case layers.Box:
		v.LengthMM = f.size("length", s.Units, former.LengthMM)
		v.WidthMM = f.size("width", s.Units, former.WidthMM)
	case layers.Cylinder:
		v.DiameterMM = f.size("diameter", s.Units, former.DiameterMM)
	}
	v.WaterDepthMM = f.size("water_depth", s.Units, former.WaterDepthMM)
	return &v
}

// size reads a length that must be there.
func (f *form) size(name string, u layers.Units, was float64) float64 {
	f.want(name, "a length, as in 600"+u.String())
	if was != 0 && f.text(name) == lengthText(u, was) {
		return was
	}
	return read(f, name, sizeParser(u))
}

// readNative reads the rows of substrates in which anything was typed.
func (s *server) readNative(f *form, former []layers.Native) (list []layers.Native) {
	rows := len(f.typed["native_hex"])
	if rows > mostNative {
		f.rest, f.status = append(f.rest, fmt.Sprintf("found %d substrates, want at most %d", rows, mostNative)), http.StatusUnprocessableEntity
		return nil
	}
	for i := range rows {
		cell := func(name string) string { return tidy(f.nth(i, name, "").Value) }
		if cell("native_hex")+cell("native_kind")+cell("native_thickness")+cell("native_name") == "" {
			continue
		}
		n := layers.Native{Name: cell("native_name")}
		var err error
		n.Color, err = palette.ParseColor(cell("native_hex"))
		f.fault(nthName("native_hex", i), err)
		n.Kind, err = chosen(layers.Kinds())(cell("native_kind"))
		f.fault(nthName("native_kind", i), err)
		if n.Name != "" {
			_, err = layers.ParseName(n.Name)
			f.fault(nthName("native_name", i), err)
		}
		switch text := cell("native_thickness"); {
		case text == "":
		case i < len(former) && text == lengthText(s.Units, former[i].ThicknessMM):
			n.ThicknessMM = former[i].ThicknessMM
		default:
			n.ThicknessMM, err = sizeParser(s.Units)(text)
			f.fault(nthName("native_thickness", i), err)
		}
		list = append(list, n)
	}
	return list
}

func readLimits(f *form) (limits layers.Limits) {
	for i, rule := range layers.LimitRules() {
		name := "limit_" + rule.Name
		value := readOptional(f, name, parseNumber)
		switch {
		case value == nil:
			continue
		case *value < rule.Min || *value > rule.Max:
			f.fault(name, fmt.Errorf("found %s, want %s to %s %s", f.text(name), plainNumber(rule.Min), plainNumber(rule.Max), rule.Unit))
		}
		if limits == nil {
			limits = layers.Limits{}
		}
		limits[layers.Limit(i)] = *value
	}
	return limits
}

// tankField is the field that holds a part of a tank.
func tankField(path string) string {
	switch path {
	case "name", "id", "set_up", "flow":
		return path
	case "vessel.length_mm":
		return "length"
	case "vessel.width_mm":
		return "width"
	case "vessel.diameter_mm":
		return "diameter"
	case "vessel.water_depth_mm":
		return "water_depth"
	}
	return ""
}
