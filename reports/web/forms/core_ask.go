package forms

import (
	"math"
	"net/http"
	"slices"
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/web/site"
)

// asked is at the head of a form that came back: a question and its answers, or what one of them
// changed.
type asked struct {
	What    string // the form is of
	Text    string
	Answers []option // what a button sends, and its words
	Mark    string   // fingerprint of the record that is asked about
}

// ask puts the question that a core raises at its form's head, unless the keeper has just answered
// it: that the core is right, which is noted in it, or that an event is missing, which is
// returned. An answer holds only for the core that the question was about.
func (s *Room) ask(r *http.Request, h *coreForm, core *layers.Core) (event *layers.Event, err error) {
	if h.Failed() {
		return nil, nil
	}
	own, err := s.Store.Own(r.Context())
	if err != nil {
		return nil, err
	}
	mark, answer := site.CoreMark(*core), ""
	if h.text("asked") == mark {
		answer = h.text("do")
	}
	if answer == string(reports.SlipNone) {
		core.Sure = true
		return nil, nil
	}
	event = (reports.Mend{Slip: reports.Slip(answer)}).Event(core.Date)
	if event != nil && holdsEvent(h.tank, *event) { // it was sent twice
		return event, nil
	}
	q := s.Question(h.others(), *core, own(h.tank.ID))
	if q == nil { // where an event was missing, another window has entered it
		return nil, nil
	}
	if event != nil && site.Offers(q, answer) {
		return event, nil
	}
	h.asked = &asked{What: "reading", Text: q.Text, Answers: formAnswers(q), Mark: mark}
	return nil, nil
}

// others is the tank without the core to amend.
func (h coreForm) others() layers.Tank {
	tank := h.tank
	if h.stored != nil {
		tank.Cores = slices.DeleteFunc(slices.Clone(tank.Cores), func(c layers.Core) bool {
			return c.Station == h.stored.Station && c.Date == h.stored.Date
		})
	}
	return tank
}

// formAnswers are the answers to a question that a form of the core can give by a button.
func formAnswers(q *reports.Question) (list []option) {
	for _, m := range q.Mends {
		if m.Slip != reports.SlipElsewhere { // the form itself is how that is mended
			list = append(list, option{Value: site.AnswerText(m), Label: m.Label})
		}
	}
	return list
}

// rearranged does what a button asks for that saves nothing, and reports whether one did.
func (s *Room) rearranged(h *coreForm) bool {
	do := h.text("do")
	return s.mendRows(h, do) || h.rearrange(do, s.Today())
}

// mendRows puts the rows right where a button says what slip they have, and reports whether
// one does.
func (s *Room) mendRows(h *coreForm, do string) bool {
	m, err := parseAnswer(do)
	if err != nil || !m.ChangesLayers() {
		return false
	}
	list, rows := s.readLayers(*h)
	if h.Failed() || len(list) == 0 {
		return true
	}
	mended, err := m.Mended(list)
	if err != nil {
		h.refuse(site.WithKind(site.ErrInput, err), func(string) string { return "" })
		return true
	}
	typed := h.typedRows()
	if m.Slip == reports.SlipTurnedOver {
		slices.Reverse(rows)
		slices.Reverse(list)
	}
	var after []typedRow
	for i, l := range mended {
		row := typed[rows[i]]
		if l.ThicknessMM != list[i].ThicknessMM {
			row.thickness = exactText(s.Units, l.ThicknessMM)
		}
		after = append(after, row)
	}
	h.setRows(after)
	words := mendedWords(m)
	h.asked = &asked{Text: strings.ToUpper(words[:1]) + words[1:] + ". Nothing is saved yet: check the layers and the drawing, then save the reading."}
	return true
}

// exactText is a length as a field holds it that was worked out from typed ones, to a
// millionth of the unit, so that nothing of them is lost.
func exactText(u layers.Units, mm float64) string {
	const fine = 1e6
	return plainNumber(math.Round(fine*u.Of(mm)) / fine)
}
