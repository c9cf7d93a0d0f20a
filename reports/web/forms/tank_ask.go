package forms

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/judge"
)

// unitMeant is the answer that the unit of a vessel's measures was mistaken.
const unitMeant = "unit"

// askTank is what to ask about the measures of a tank's vessel before it is saved, or what an
// answer changed; nil: nothing, or the keeper has just said that they are right. An answer holds
// only for the tank that the question was about.
func (s *Room) askTank(f *Form, former *layers.Vessel, tank layers.Tank) *asked {
	q := judge.AskVessel(tank.ID, former, tank.Vessel, s.Units)
	if f.Failed() || q == nil {
		return nil
	}
	mark, answer := setupMark(tank), ""
	if f.text("asked") == mark {
		answer = f.text("do")
	}
	switch {
	case answer == string(reports.SlipNone):
		return nil
	case answer == unitMeant && q.Meant != nil:
		s.setVessel(f.typed, *q.Meant)
		return &asked{Text: "The measures are corrected. Nothing is saved yet: check them, then save the tank."}
	}
	about := &asked{What: "tank", Text: q.Text, Mark: mark}
	if q.Meant != nil {
		about.Answers = append(about.Answers, option{Value: unitMeant, Label: q.Label})
	}
	about.Answers = append(about.Answers, option{Value: string(reports.SlipNone), Label: "It is right as it stands"})
	return about
}
