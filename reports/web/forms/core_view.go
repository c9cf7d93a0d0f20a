package forms

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

type coreView struct {
	Form     *Form
	Title    string
	Name     string // of the tank
	Here     string // where the form goes
	Back     string
	Preview  string // the address that draws what is typed
	Draft    string // the key of the browser's draft
	Came     bool   // the server returned it with what was typed
	Seen     string // fingerprint of the core as it was shown; empty: a new one
	Station  string // of the core to amend
	Date     string
	Photo    bool
	Kept     bool // its photo can be opened again
	Unit     string
	When     []field
	Rows     []coreRow
	Blank    coreRow // for rows that are added in the browser
	Swatches []swatch
	Signs    []option
	Note     field
	Former   bool // there is a core before it
	Asked    *asked
	Drawn    previewView
	Save     string // the word on the button
	Clash    option // where the core in its way is amended; empty: none
}

// swatch is a colour at hand.
type swatch struct {
	Color palette.Color
	Words string
}

// showCore shows the form of a core with what was typed.
func (s *Room) showCore(w http.ResponseWriter, r *http.Request, status int, h coreForm) error {
	settings, err := s.Settings(r)
	if err != nil {
		return err
	}
	at, name := site.TankAddress(h.tank.ID), cmp.Or(h.tank.Name, h.tank.ID)
	v := coreView{
		Form: h.Form, Title: "A reading by hand, " + name, Name: name, Back: at, Here: at + "/read", Preview: at + "/preview",
		Draft: at + "/read?station=" + url.QueryEscape(h.text("station")), Came: !site.ReadOnly(r), Seen: h.text("seen"), Unit: words.Plural(s.Units), Save: "Save this reading",
		When: h.whenFields(s.Today()), Rows: h.rows(), Blank: h.row(-1), Signs: h.signs(), Note: h.field("core", "note", "Note").kind("area"),
		Asked: h.asked, Drawn: s.drawn(h, settings),
	}
	if h.asked != nil && h.asked.Mark != "" {
		v.Drawn.Asked = "" // it is at the form's head
	}
	own := settings.Own(h.tank.ID)
	var before reports.Core
	if former, ok := h.former(h.day(s.Today())); ok {
		before, v.Former = judge.ReadCore(h.tank, former, own, settings), true
	}
	v.Swatches = swatches(h.tank, before, own)
	v.amends(h)
	if v.Photo {
		if _, v.Kept, err = s.Store.PicksOf(r.Context(), h.tank.ID, h.stored.Station, h.stored.Date); err != nil {
			return err
		}
	}
	if h.status == http.StatusConflict {
		v.clash(h)
	}
	return s.Show(w, r, status, "core", site.Frame{Title: v.Title, Script: "core.js", Style: "form.css core.css"}, v)
}

// amends makes the form that of the core to amend, if there is one.
func (v *coreView) amends(h coreForm) {
	if h.stored == nil {
		return
	}
	v.Station, v.Date = h.stored.Station, h.stored.Date.String()
	v.Title = fmt.Sprintf("Amend %s, %s, %s", v.Station, v.Date, v.Name)
	v.Here = site.CoreAddress(h.tank.ID, h.stored.Station, h.stored.Date)
	v.Draft = v.Here
	v.Photo, v.Save = h.stored.Photo != nil, "Save the change"
}

// clash says what is in the way of a core: another of its station and day, or a later change of
// the core to amend.
func (v *coreView) clash(h coreForm) {
	core, err := site.CoreOf(h.tank, h.text("station"), h.text("date"))
	itself := h.stored != nil && err == nil && core.Station == h.stored.Station && core.Date == h.stored.Date
	switch {
	case err == nil && !itself:
		title := words.Titled(core.Station, core.Date)
		h.rest = []string{"There is a core of " + title + " already: perhaps another window or a command saved it. " +
			"Nothing was saved, and what you typed is still here. Choose another station or day, or amend the one that is there."}
		v.Clash = option{Value: site.CoreAddress(h.tank.ID, core.Station, core.Date), Label: "Amend the core of " + title}
	case h.stored != nil:
		v.Save = "Replace it with mine"
	}
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
		add(n.Color, cmp.Or(n.Name, string(n.Kind))+", as laid")
	}
	return list
}
