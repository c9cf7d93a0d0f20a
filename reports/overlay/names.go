package overlay

import (
	"fmt"
	"image"

	"panecore/reports"
	"panecore/reports/figure/pen"
)

// layerPlates name the bed surface and the layers, from the top down.
func (v *canvas) layerPlates() []plate {
	list := []plate{v.plate("bed surface" + v.byHand(0, "set by hand"))}
	for i, l := range v.Core.Layers {
		p := v.plate(v.layerText(l) + v.byHand(i+1, "foot set by hand"))
		p.swatch = &l.Hex
		p.width += swatchSize + swatchGap
		list = append(list, p)
	}
	return list
}

// byHand is a note for an edge that the keeper moved; else empty.
func (v *canvas) byHand(edge int, note string) string {
	if v.moved(edge) {
		return ", " + note
	}
	return ""
}

func (v *canvas) layerText(l reports.Layer) string {
	u := v.Units
	text := fmt.Sprintf("%s to %s %s  %s", u.Number(l.TopMM), u.Number(l.BottomMM()), u, l.Band)
	if l.Doubtful() {
		second := l.Alternatives[0]
		text += fmt.Sprintf(" %.0f %%, or %s %.0f %%", 100*l.Probability, second.Band, 100*second.Probability)
	}
	if l.Labelled {
		text += ", named by hand"
	}
	return text
}

// leader is a line from a layer to its name.
type leader struct {
	plate           plate
	from, turn, end spot
}

// leaders lead from the strip to the names in the order of depth. None crosses another,
// however thin the layers are.
func (v *canvas) leaders() []leader {
	ends := v.edgeEnds()
	wanted := make([]float64, len(v.plates))
	wanted[0] = ends[0].y
	for i := range v.Core.Layers {
		wanted[i+1] = (ends[i].y + ends[i+1].y) / 2
	}
	places := pen.Apart(wanted, platePitch, canvasEdge+plateHeight/2, float64(v.img.Rect.Dy()-canvasEdge-plateHeight/2))
	out, side := 1.0, max(v.corners[1].x, v.corners[2].x)
	if !v.right {
		out, side = -1, min(v.corners[0].x, v.corners[3].x)
	}
	list := make([]leader, len(v.plates))
	for i, p := range v.plates {
		list[i] = leader{p, spot{ends[i].x, wanted[i]}, spot{side + out*stubLength, wanted[i]}, spot{side + out*leadLength, places[i]}}
	}
	return list
}

func (v *canvas) names() {
	for _, l := range v.leaders() {
		stroke(v.img, []spot{l.from, l.turn, l.end}, lineWidth, inkLine)
		left := int(l.end.x)
		if !v.right {
			left -= l.plate.width
		}
		v.set(l.plate, image.Pt(left, int(l.end.y)-plateHeight/2))
	}
}

// edgeEnds are the ends of the edges next to the names.
func (v *canvas) edgeEnds() []spot {
	ends := make([]spot, len(v.Reading.Edges))
	for i, edge := range v.Reading.Edges {
		end := edge[0]
		if v.right {
			end = edge[len(edge)-1]
		}
		ends[i] = v.at(end)
	}
	return ends
}
