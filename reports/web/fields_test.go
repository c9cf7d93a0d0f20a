package web

import (
	"html"
	"net/url"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
)

// Every field of a water test and an event is asked for by the page, kept as it was typed, and
// shown.
func TestFields_askedKeptShown(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	var test layers.WaterTest
	checkForm(t, p, "/tank/loft-jar/water", "water", &test, layers.WaterFields())
	var event layers.Event
	checkForm(t, p, "/tank/loft-jar/event", "event", &event, layers.EventFields())
	tank, _ := p.store.Tank(t.Context(), "loft-jar")
	checkHeld(t, tank.Water, test, layers.WaterFields())
	checkHeld(t, tank.Events, event, layers.EventFields())
}

// checkForm fills the form of a record, sends it, and looks for what it says.
func checkForm[R any](t *testing.T, p *testPage, to, of string, r *R, fields []layers.Field[R]) {
	t.Helper()
	page := p.get("/tank/loft-jar").Body.String()
	form := url.Values{}
	for _, f := range fields {
		if !strings.Contains(page, `id="`+of+"-"+f.Key()+`"`) {
			t.Errorf("the page has no field %s for %s", f.Key(), f.Name)
		}
		form.Set(f.Key(), typedInto(t, r, f))
	}
	shown := html.UnescapeString(p.follow(p.post(to, form)).Body.String())
	for _, f := range fields {
		text := strings.ReplaceAll(f.Said(r, layers.MM), "-", " ")
		if !strings.Contains(strings.ReplaceAll(strings.ReplaceAll(shown, "-", " "), "\u00a0", " "), text) {
			t.Errorf("the page does not show %q for %s", text, f.Name)
		}
	}
}

// typedInto is a text that a field takes.
func typedInto[R any](t *testing.T, r *R, f layers.Field[R]) string {
	for _, text := range slices.Concat(f.Choices, []string{"7,5", "2026-10-05", "07:30"}) {
		if f.Input == layers.InputClock && !strings.Contains(text, ":") || f.ParseIn(layers.MM, r, text) != nil {
			continue
		}
		return text
	}
	t.Errorf("found no text that field %s takes", f.Name)
	return ""
}

// checkHeld looks for a record among those kept.
func checkHeld[R any](t *testing.T, list []R, want R, fields []layers.Field[R]) {
	t.Helper()
	for _, r := range list {
		if !slices.ContainsFunc(fields, func(f layers.Field[R]) bool { return f.Plain(&r) != f.Plain(&want) }) {
			return
		}
	}
	t.Errorf("kept %+v, want %+v among them", list, want)
}

// The forms of a tank and of a core ask for every field that is typed in one piece.
func TestFields_askedForTankAndCore(t *testing.T) {
	p := newUnreadServer(t, layers.MM)
	checkAsked(t, p.get("/tank/new").Body.String(), "tank", layers.TankFields())
	checkAsked(t, p.get("/tank/loft-jar/read").Body.String(), "core", layers.CoreFields())
}

func checkAsked[R any](t *testing.T, page, of string, fields []layers.Field[R]) {
	t.Helper()
	for _, f := range fields {
		if f.Typed() && !strings.Contains(page, `name="`+f.Key()+`"`) {
			t.Errorf("the form of a %s has no field %s", of, f.Key())
		}
	}
}
