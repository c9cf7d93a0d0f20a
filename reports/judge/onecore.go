package judge

import (
	"cmp"
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/infer"
	"panecore/reports/rules"
)

// ReadCore says what one core of a tank shows, by itself: its bands, mulm and colour oxic
// depth, each with its doubt.
func ReadCore(tank layers.Tank, core layers.Core, own []palette.Prototype, s reports.Settings) reports.Core {
	return infer.Learn(tank, own).ReadAlone(core, s)
}

// ReadPhotoCore is ReadCore for a core read from a photo of the tank that the lessons are of. What the core itself
// knows of the photo is filled into how, and what taught it.
func ReadPhotoCore(lessons *infer.Lessons, core layers.Core, how reports.Photo, s reports.Settings) reports.PhotoCore {
	read := lessons.ReadAlone(core, s)
	how.TaughtBy = lessons.TaughtBy(core)
	how.Surface, how.SHA256 = *read.Surface, read.Photo
	how.Edges = make([]reports.Relief, len(read.Layers))
	for i, l := range read.Layers {
		how.Edges[i] = *l.Edge
	}
	return reports.PhotoCore{Core: read, Photo: roundedPhoto(how)}
}

// Learn is what the keeper's names of layers in a tank's photos teach, for ReadPhotoCore.
func Learn(tank layers.Tank, own []palette.Prototype) *infer.Lessons { return infer.Learn(tank, own) }

// Lessons lists what a tank's photos teach about its next one.
func Lessons(tank layers.Tank, own []palette.Prototype) reports.Lessons {
	list := Learn(tank, own).List()
	for i := range list.Colors {
		list.Colors[i].Spread = reports.Round(list.Colors[i].Spread, labDigits)
	}
	for i := range list.Lights {
		l := &list.Lights[i]
		l.ExposureEV, l.ExposureDoubt = reports.Round(l.ExposureEV, stopDigits), reports.Round(l.ExposureDoubt, stopDigits)
	}
	return list
}

// The decimals of how a photo was read.
const (
	scaleDigits = 3 // px/mm
	angleDigits = 2 // degrees
	stopDigits  = 2 // photographic stops
	pixelDigits = 1 // of a picture
)

func roundedPhoto(p reports.Photo) reports.Photo {
	p.PxPerMM, p.RollDegrees, p.GlareShare = reports.Round(p.PxPerMM, scaleDigits), reports.Round(p.RollDegrees, angleDigits), reports.Round(p.GlareShare, reports.ShareDigits)
	c := &p.Correction
	for i := range c.Gain {
		c.Gain[i] = reports.Round(c.Gain[i], reports.ShareDigits)
	}
	c.ExposureEV, c.ExposureDoubt, c.Veil = reports.Round(c.ExposureEV, stopDigits), reports.Round(c.ExposureDoubt, stopDigits), reports.Round(c.Veil, reports.ShareDigits)
	lines := make([]reports.Line, len(p.Lines))
	for i, l := range p.Lines {
		lines[i] = reports.Line{Confidence: reports.Round(l.Confidence, reports.ShareDigits), Pixels: make([][2]float64, len(l.Pixels))}
		for j, at := range l.Pixels {
			lines[i].Pixels[j] = [2]float64{reports.Round(at[0], pixelDigits), reports.Round(at[1], pixelDigits)}
		}
	}
	p.Lines = lines
	if p.Warnings == nil {
		p.Warnings = []string{}
	}
	return p
}

// Ask lists what the keeper should be asked about a core of a tank, filed or not yet. It is empty
// if the core fits the record or the keeper has said that it is right.
func Ask(tank layers.Tank, core layers.Core, own []palette.Prototype, s reports.Settings) []reports.Question {
	others := make([]layers.Core, 0, len(tank.Cores)+1)
	for _, c := range tank.Cores {
		if c.Station != core.Station || c.Date != core.Date {
			others = append(others, c)
		}
	}
	tank.Cores = append(others, core)
	s.AsOf, s.Own = core.Date, func(string) []palette.Prototype { return own }
	c := rules.NewCase(infer.NewOutlook(tank, s), nil)
	for _, r := range c.Readings {
		if r.Core.Station == core.Station && r.Core.Date == core.Date && r.Doubted() {
			return []reports.Question{c.SlipQuestion(r)}
		}
	}
	return []reports.Question{}
}

// AskVessel is what the keeper should be asked about the measures of a tank's vessel, where they
// are not those of the former one; nil: nothing.
func AskVessel(id string, former *layers.Vessel, v *layers.Vessel, u layers.Units) *reports.VesselQuestion {
	if v == nil {
		return nil
	}
	return rules.AskVessel(id, former, *v, u)
}

// NameSwatch adds format, Lab and bands to a swatch that has the rest. The bands are those of a
// typed colour.
func NameSwatch(s reports.Swatch, matcher *palette.Matcher) reports.Swatch {
	s.Format, s.Bands = reports.SwatchFormat, Meanings(s.Hex, matcher)
	lab := s.Hex.Lab()
	s.Lab = [3]float64{reports.Round(lab.L, labDigits), reports.Round(lab.A, labDigits), reports.Round(lab.B, labDigits)}
	s.Spread, s.MaskedShare = reports.Round(s.Spread, labDigits), reports.Round(s.MaskedShare, reports.ShareDigits)
	for i := range s.Gain {
		s.Gain[i] = reports.Round(s.Gain[i], reports.ShareDigits)
	}
	if s.Warnings == nil {
		s.Warnings = []string{}
	}
	return s
}

// mostMeanings is how many bands are listed for a colour (the project's definition).
const mostMeanings = 3

// Meanings are the likeliest bands of a typed colour by itself, each once, with its likeliest kind.
func Meanings(color palette.Color, matcher *palette.Matcher) []reports.Meaning {
	var list []reports.Meaning
	for _, m := range matcher.Meanings(color.Lab(), palette.DoubtTyped) {
		at := slices.IndexFunc(list, func(other reports.Meaning) bool { return other.Band == m.Band })
		if at < 0 {
			list = append(list, reports.Meaning{Band: m.Band, Kind: m.Kind, Probability: m.Probability})
		} else {
			list[at].Probability += m.Probability
		}
	}
	slices.SortStableFunc(list, func(a, b reports.Meaning) int { return cmp.Compare(b.Probability, a.Probability) })
	list = list[:mostMeanings]
	for i := range list {
		list[i].Probability = reports.Round(list[i].Probability, reports.ShareDigits)
	}
	return list
}

// labDigits are the decimals of CIELAB and CIEDE2000 figures.
const labDigits = 2
