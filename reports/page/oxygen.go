package page

import (
	"panecore/layers"
	"panecore/reports"
	"panecore/reports/figure"
	"panecore/reports/words"
)

// oxygen is the oxygen profile in words and numbers.
type oxygen struct {
	Picture picture
	Text    string // about the bottom in the dark, and saturation
	Numbers []number
	Helps   []help
}

// help is what a remedy would do at the bottom.
type help struct {
	Name         string
	Bottom, Gain number
}

func newOxygen(x *reports.OxygenProfile, u layers.Units) *oxygen {
	if x == nil {
		return nil
	}
	m, length := words.Oxygen(), words.Length(u)
	v := &oxygen{
		Picture: newPicture(figure.Oxygen(*x, u)),
		Text:    words.OxygenVerdict(*x) + " " + words.Saturation(*x),
		Numbers: []number{newNumber("bottom of the water, in the dark", x.Bottom(), m)},
	}
	if least, most := x.Dawn.Oxygen, x.Dusk.Oxygen; least != nil && most != nil && *least == *most {
		v.Numbers = append(v.Numbers, newNumber("all day", least, m))
	} else {
		v.Numbers = append(v.Numbers,
			newNumber("least of the day, at "+words.Clock(x.Dawn.Hour), least, m),
			newNumber("most of the day, at "+words.Clock(x.Dusk.Hour), most, m))
	}
	v.Numbers = append(v.Numbers,
		newNumber("depth of water that holds oxygen", x.OxicWater, length),
		newNumber("oxygen ends in the bed at", x.Penetration, length))
	for _, h := range x.Helps {
		if h.Bottom != nil && h.Gain != nil {
			v.Helps = append(v.Helps, help{h.Name, newNumber(h.Name, h.Bottom, m), newNumber(h.Name, h.Gain, m)})
		}
	}
	return v
}
