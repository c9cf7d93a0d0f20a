package forms

import (
	"fmt"
	"html/template"
	"math"
	"net/http"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// partField asks for the result of a rehearsal alone, to be put into the page that is open.
const partField = "part"

type rehearseView struct {
	ID, Name string
	Here     string // the page's address
	Form     *Form
	Method   reports.Method
	Percent  int  // of the floor
	DepthMM  int  // below the bed surface
	Deepest  int  // mm
	Inches   bool // the slider's words
	Shown    string
	Result   *rehearsalView // nil: Lacking or the form says why
	Lacking  string         // what it needs first
	Mend     option         // where to add what is missing
}

// rehearsalView is what a rehearsal comes to.
type rehearsalView struct {
	reports.Rehearsal
	Verdict string
	Picture template.HTML
}

func (s *Room) rehearse(w http.ResponseWriter, r *http.Request) error {
	tank, err := s.Store.Tank(r.Context(), r.PathValue("id"))
	if err != nil {
		return err
	}
	settings, err := s.Settings(r)
	if err != nil {
		return err
	}
	v := s.rehearseView(tank, newForm(r.URL.Query()), settings)
	status := http.StatusOK
	switch {
	case v.Form.Failed():
		status = v.Form.status
	default:
		v.result(tank, settings)
	}
	if v.Form.text(partField) != "" {
		return s.ShowPart(w, status, "rehearsal", v)
	}
	return s.Show(w, r, status, "rehearse", site.Frame{Title: "Rehearse: " + words.TankName(tank.ID, tank.Name), Script: "rehearse.js", Style: "form.css rehearse.css"}, v)
}

// rehearseView is the page before anything is rehearsed.
func (s *Room) rehearseView(tank layers.Tank, f *Form, settings reports.Settings) rehearseView {
	v := rehearseView{ID: tank.ID, Name: words.TankName(tank.ID, tank.Name), Here: site.TankAddress(tank.ID) + "/rehearse", Form: f, Inches: s.Units == layers.Inches}
	v.Method, v.Percent, v.DepthMM = reports.MethodSiphon, 100*reports.DefaultFloorShare, reports.DefaultSiphonMM
	if f.text("method") != "" {
		v.Method = read(f, "method", chosen([]reports.Method{reports.MethodStir, reports.MethodSiphon}))
	}
	if v.Method == reports.MethodStir {
		depth, _ := tank.Limits.Of(layers.LimitStirDepth)
		v.DepthMM = int(depth)
	}
	v.Deepest = int(judge.DeepestMM(tank, settings))
	v.DepthMM = min(v.DepthMM, v.Deepest)
	if f.text("share") != "" {
		v.Percent = read(f, "share", wholeFrom(5, 100, "%"))
	}
	if f.text("to") != "" {
		v.DepthMM = read(f, "to", wholeFrom(1, max(1, v.Deepest), "mm"))
	}
	v.Shown = s.Units.Length(float64(v.DepthMM))
	return v
}

func wholeFrom(low, high int, unit string) func(string) (int, error) {
	return func(text string) (int, error) {
		x, err := layers.ParseNumber(text)
		if err != nil || x != math.Trunc(x) || x < float64(low) || x > float64(high) {
			return low, fmt.Errorf("found %q, want a whole number from %d to %d %s", text, low, high, unit)
		}
		return int(x), nil
	}
}

func (v *rehearseView) result(tank layers.Tank, settings reports.Settings) {
	rehearsal, err := judge.Rehearse(tank, settings, v.Method, float64(v.Percent)/100, float64(v.DepthMM))
	if err != nil {
		at := site.TankAddress(tank.ID)
		switch {
		case len(tank.Cores) == 0:
			v.Lacking, v.Mend = "a core that has been read", option{at + "/read", "Read the first core", false}
		case tank.Vessel == nil:
			v.Lacking, v.Mend = "the vessel's measurements", option{at + "/edit", "Add the vessel's measurements", false}
		default:
			v.Lacking, v.Mend = "a water temperature of the last 90 days", option{at + "#water", "Enter a water test", false}
		}
		return
	}
	v.Result = &rehearsalView{rehearsal, words.RehearsalVerdict(rehearsal, settings.Units), site.Inline(figure.Rehearsal(rehearsal, settings.Units))}
}
