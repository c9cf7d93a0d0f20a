package infer

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/stats"
)

// History is every core of the tank by date, drawn concurrently.
func (o *Outlook) History(s reports.Settings) []reports.Core {
	cores := make([]reports.Core, len(o.Readings))
	workers := runtime.GOMAXPROCS(0)
	var crew sync.WaitGroup
	for first := range workers {
		crew.Go(func() {
			var draws coreDraws
			for i := first; i < len(cores); i += workers {
				cores[i] = draws.alone(o.Readings[i], o.Tank.ID, s)
			}
		})
	}
	crew.Wait()
	return cores
}

// ReadAlone reads a core of the tank by itself, with draws of its own.
func (l *Lessons) ReadAlone(core layers.Core, s reports.Settings) reports.Core {
	var draws coreDraws
	return draws.alone(newReading(core, l.Matcher(core)), l.tank.ID, s)
}

// alone draws a reading by itself.
func (c *coreDraws) alone(r *Reading, tank string, s reports.Settings) reports.Core {
	r.Match = r.matcher.Match(r.column)
	c.begin()
	d := newDrawer(r, tank, s.Seed)
	for n := range s.Draws {
		c.add(d.draw(n))
	}
	return c.core(r)
}

// core is a reading with its draws taken together.
func (c *coreDraws) core(r *Reading) reports.Core {
	mulm := stats.Spread(c.mulm)
	mulm.AtLeast = 2*c.toEnd > len(c.mulm)
	core := reports.Core{
		Station:   r.Core.Station,
		Date:      r.Core.Date,
		Layers:    r.layers(),
		Mulm:      mulm.Rounded(reports.LengthDigits),
		OxicDepth: oxicDepth(c.oxic, c.basis).Rounded(reports.LengthDigits),
		BlackTop:  blackTop(c.top, len(c.mulm)),
		BlackZone: stats.Spread(c.black).Rounded(reports.LengthDigits),
		Reliable:  !r.Unreliable(),
		Signs:     r.Core.Signs,
		Note:      r.Core.Note,
	}
	if photo := r.Core.Photo; photo != nil {
		surface := reliefOf(photo.Surface)
		core.Surface, core.Photo = &surface, photo.SHA256
	}
	return core
}

// leastAlternative is the least probability at which another band is listed (assumption).
const leastAlternative = 0.01

// layers are the reading's layers with their names.
func (r *Reading) layers() []reports.Layer {
	list := make([]reports.Layer, len(r.Core.Layers))
	scale := 0.0
	if r.Core.Photo != nil {
		scale = r.Core.Photo.ScaleError
	}
	for i, layer := range r.Core.Layers {
		half := stats.Z90 * math.Hypot(math.Hypot(r.errors[i], r.errors[i+1]), scale*layer.ThicknessMM)
		l := reports.Layer{
			TopMM:        reports.Round(r.Edges[i], reports.LengthDigits),
			Thickness:    *reports.Estimate{Value: layer.ThicknessMM, Low: max(0, layer.ThicknessMM-half), High: layer.ThicknessMM + half}.Rounded(reports.LengthDigits),
			Hex:          layer.Color,
			Band:         r.Names[i],
			Probability:  reports.Round(r.Match.Probability(i, r.Names[i]), reports.ShareDigits),
			Labelled:     layer.Band != palette.NoBand,
			Alternatives: []reports.Alternative{},
		}
		if layer.Edge != nil {
			edge := reliefOf(*layer.Edge)
			l.Edge = &edge
		}
		for _, band := range palette.Bands() {
			if p := r.Match.Probability(i, band); band != l.Band && p >= leastAlternative {
				l.Alternatives = append(l.Alternatives, reports.Alternative{Band: band, Probability: reports.Round(p, reports.ShareDigits)})
			}
		}
		slices.SortStableFunc(l.Alternatives, func(a, b reports.Alternative) int { return cmp.Compare(b.Probability, a.Probability) })
		list[i] = l
	}
	return list
}

func reliefOf(e layers.Edge) reports.Relief {
	return reports.Relief{ErrorMM: reports.Round(e.ErrorMM, reports.LengthDigits), HighestMM: reports.Round(e.HighestMM, reports.LengthDigits), LowestMM: reports.Round(e.LowestMM, reports.LengthDigits)}
}
