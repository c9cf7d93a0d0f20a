package forms

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"slices"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/judge"
	"panecore/reports/web/site"
	"panecore/reports/words"
)

// previewView is what a core that is being typed shows so far.
type previewView struct {
	Picture  template.HTML
	Meanings []meaning // of the rows that can be read
	Sums     []string  // what the core shows as a whole
	Asked    string    // what would be asked about the core before it is saved; empty: nothing
	Station  string    // as typed
	Alike    string    // a known station that it may be meant for; empty: none
	Waiting  []string  // the rows that can't
}

type meaning struct {
	Row   int // from 0
	Words string
}

// preview draws what is typed. It takes what the form would send.
func (s *Room) preview(w http.ResponseWriter, r *http.Request) error {
	h, err := s.postedCore(r)
	if err != nil {
		return err
	}
	settings, err := s.Settings(r)
	if err != nil {
		return err
	}
	if date := h.text("of_date"); date != "" {
		stored, err := site.CoreOf(h.tank, h.text("of_station"), date)
		switch {
		case err == nil:
			h.stored = &stored
		case !errors.Is(err, site.ErrMissing): // one that was removed is drawn as a new one
			return err
		}
	}
	return s.ShowPart(w, http.StatusOK, "preview", s.drawn(h, settings))
}

// drawn is what is typed next to the core before it or, if the form is out of date, next to the
// core as it is now.
func (s *Room) drawn(h coreForm, settings reports.Settings) previewView {
	typed := coreForm{Form: newForm(h.typed), tank: h.tank, stored: h.stored} // its complaints refuse nothing
	core, rows := s.readCore(typed)
	day, own := h.day(s.Today()), settings.Own(h.tank.ID)
	read := func(core layers.Core) reports.Core { return judge.ReadCore(h.tank, core, own, settings) }
	var columns []figure.Named
	switch former, ok := h.former(day); {
	case h.status == http.StatusConflict && h.stored != nil:
		columns = append(columns, figure.Named{Name: "as it is now", Core: read(*h.stored)})
	case ok:
		columns = append(columns, figure.Named{Name: words.Titled(former.Station, former.Date), Core: read(former)})
	}
	var found reports.Core
	if len(core.Layers) > 0 {
		core.Date = day
		found = read(core)
	}
	columns = append(columns, figure.Named{Name: "as typed", Core: found})
	v := previewView{Picture: site.Inline(figure.Beside("The core as typed", columns, s.Units)), Sums: s.sums(found), Station: h.text("station"), Alike: h.alike()}
	for i, l := range found.Layers {
		text := words.Band(l)
		if beside := words.Beside(l); beside != "" {
			text += ", " + beside
		}
		v.Meanings = append(v.Meanings, meaning{rows[i], text})
	}
	if typed.wholeAfter(core) {
		if q := s.Question(typed.others(), core, own); q != nil {
			v.Asked = q.Text
		}
	}
	for i, row := range typed.typedRows() {
		if row.empty() || slices.Contains(rows, i) {
			continue
		}
		for _, name := range rowFields {
			if complaint := typed.complaints[nthName(name, i)]; complaint != "" {
				v.Waiting = append(v.Waiting, fmt.Sprintf("Layer %d is not drawn yet: %s.", i+1, complaint))
				break
			}
		}
	}
	return v
}

// wholeAfter reports whether a core seems complete: one that is still being typed is unlike any
// other.
func (h coreForm) wholeAfter(core layers.Core) bool {
	former, ok := h.former(core.Date)
	return !h.Failed() && (ok && len(core.Layers) >= len(former.Layers) || !slices.ContainsFunc(h.typedRows(), typedRow.empty))
}

// sums say what a core shows as a whole.
func (s *Room) sums(core reports.Core) (lines []string) {
	length := words.Length(s.Units)
	if e := core.OxicDepth; e != nil {
		lines = append(lines, "Colour oxic depth "+length.Estimate(*e)+": "+words.Basis(*e))
	}
	if e := core.Mulm; e != nil {
		lines = append(lines, "Mulm "+length.Estimate(*e))
	}
	return lines
}
