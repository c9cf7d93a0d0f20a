package figure

import (
	"strings"

	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// smallHeight is the height of a small picture, mm (assumption): a card's cores and their names.
const smallHeight = 40.0

// Small draws each tank's newest cores as a small picture, in the order given, all of one
// size and to one scale: the cores of [Overview] without words.
func Small(o reports.Overview, u layers.Units) []*pen.Figure {
	scale, width := overviewScale(o), 1.0
	for _, tank := range o.Tanks {
		width = max(width, coresWidth(tank))
	}
	list := make([]*pen.Figure, len(o.Tanks))
	for i, tank := range o.Tanks {
		v := overview{Figure: pen.NewFigure(words.TankName(tank.ID, tank.Name)+": the newest cores", width+1.5), Units: u, scale: scale}
		v.Height = smallHeight
		v.cores(tank, 0.5, 0.5)
		v.Desc = smallWords(tank, u)
		list[i] = v.Figure
	}
	return list
}

func smallWords(tank reports.OverviewLine, u layers.Units) string {
	if len(tank.Cores) == 0 {
		return "No core has been read."
	}
	m := words.Length(u)
	var parts []string
	for _, core := range tank.Cores {
		text := words.CoreTitle(core)
		for _, l := range core.Layers {
			text += ", " + l.Band.String() + " " + m.Value(l.Thickness) + " " + m.Unit
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ") + "."
}
