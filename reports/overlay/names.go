package overlay

import (
	"fmt"
	"image"

	"panecore/reports"
	"panecore/reports/figure/pen"
)

// layerPlates name the bed surface and the layers, from the top down.
func (s *sheet) layerPlates() []plate {
	list := []plate{s.plate("bed surface")}
	for _, l := range s.Core.Layers {
		p := s.plate(s.layerText(l))
		p.swatch = &l.Hex
		p.width += swatchSize + swatchGap
		list = append(list, p)
	}
	return list
}

func (s *sheet) layerText(l reports.Layer) string {
	u := s.Units
	text := fmt.Sprintf("%s to %s %s  %s", u.Number(l.TopMM), u.Number(l.BottomMM()), u, l.Band)
	if l.Doubtful() {
		second := l.Alternatives[0]
		text += fmt.Sprintf(" %.0f %%, or %s %.0f %%", 100*l.Probability, second.Band, 100*second.Probability)
	}
	return text
}

// leader is a line from a layer to its name.
type leader struct {
	plate           plate
	from, turn, end spot
}

// leaders lead from the strip's side to the names, in the order of depth, so that none
// crosses another however thin the layers are.
func (s *sheet) leaders() []leader {
	ends := s.edgeEnds()
	wanted := make([]float64, len(s.plates))
	wanted[0] = ends[0].y
	for i := range s.Core.Layers {
		wanted[i+1] = (ends[i].y + ends[i+1].y) / 2
	}
	places := pen.Apart(wanted, platePitch, sheetEdge+plateHeight/2, float64(s.img.Rect.Dy()-sheetEdge-plateHeight/2))
	out, side := 1.0, max(s.corners[1].x, s.corners[2].x)
	if !s.right {
		out, side = -1, min(s.corners[0].x, s.corners[3].x)
	}
	list := make([]leader, len(s.plates))
	for i, p := range s.plates {
		list[i] = leader{p, spot{ends[i].x, wanted[i]}, spot{side + out*stubLength, wanted[i]}, spot{side + out*leadLength, places[i]}}
	}
	return list
}

// names writes the names beside the strip.
func (s *sheet) names() {
	for _, l := range s.leaders() {
		stroke(s.img, []spot{l.from, l.turn, l.end}, lineWidth, inkLine)
		left := int(l.end.x)
		if !s.right {
			left -= l.plate.width
		}
		s.set(l.plate, image.Pt(left, int(l.end.y)-plateHeight/2))
	}
}

// edgeEnds are the ends of the edges on the side of the names.
func (s *sheet) edgeEnds() []spot {
	ends := make([]spot, len(s.Reading.Edges))
	for i, edge := range s.Reading.Edges {
		end := edge[0]
		if s.right {
			end = edge[len(edge)-1]
		}
		ends[i] = s.at(end)
	}
	return ends
}
