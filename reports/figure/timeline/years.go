package timeline

import (
	"slices"

	"panecore/reports"
	"panecore/reports/figure/pen"
	"panecore/reports/words"
)

// Years draws the strips of a tank's photos side by side along time, all to one scale, a row for each station that has
// any, with the mulm's foot and the colour oxic depth as read over them. A core without a photo stands between them in its
// colours as read.
func Years(t reports.Timeline, strips []reports.Strip, o Options) *pen.Figure {
	shown := reports.Timeline{ID: t.ID, Name: t.Name, SetUp: t.SetUp, Events: t.Events}
	for _, s := range t.Stations {
		if !slices.ContainsFunc(strips, func(strip reports.Strip) bool { return strip.Station == s.Station }) {
			continue
		}
		s.Mulm, s.Front, s.Accumulation, s.FrontShift = nil, nil, nil, nil // the trends have a picture of their own
		shown.Stations = append(shown.Stations, s)
	}
	o.strips = strips
	return newPicture(shown, o).Figure
}

// stripOf is the strip of a core; nil: it has none.
func (l *picture) stripOf(core reports.Core) *reports.Strip {
	for i, s := range l.strips {
		if s.Station == core.Station && s.Date == core.Date {
			return &l.strips[i]
		}
	}
	return nil
}

// water is how much of it the strips show above the bed, mm.
func (l *picture) water() (most float64) {
	for _, s := range l.strips {
		most = max(most, s.AboveMM)
	}
	return most
}

func (l *picture) widestStrip() (most float64) {
	for _, s := range l.strips {
		most = max(most, s.WidthMM)
	}
	return most
}

// thinner is the share of their width that lines have: over strips less, which they would hide.
func (l *picture) thinner() float64 {
	if len(l.strips) > 0 {
		return overStrips
	}
	return 1
}

// showStrip shows the middle of a strip, as much of it as the core's place is wide, and marks what is doubtful about it.
func (l *picture) showStrip(r *stationRow, core reports.Core, s slot, strip reports.Strip) {
	width := min(s.right-s.left, strip.WidthMM*r.scale)
	seen := core.DepthMM()
	top, foot := r.y(-strip.AboveMM, seen), r.y(strip.DepthMM, seen)
	l.Raster((s.left+s.right-width)/2, top, width, foot-top, pen.Raster{Image: strip.Picture, Address: strip.Address})
	at := pen.At((s.left+s.right)/2, top+doubtClear)
	if !strip.Carded || !core.Reliable {
		l.Dots(pen.InkPaper, doubtClear, at)
	}
	if !strip.Carded {
		l.Dots(pen.InkWord, doubtSize, at)
		l.Dots(pen.InkPaper, doubtHollow, at)
	}
	if !core.Reliable {
		l.cross(at)
	}
}

// The marks of doubt on the water of strips, mm (assumptions).
const (
	doubtSize   = 0.5 // half of a mark
	doubtHollow = 0.3 // the radius of the paper within a ring
	doubtWidth  = 0.2
	doubtClear  = 0.8 // the radius of the paper under it
)

func (l *picture) cross(at pen.Point) {
	const r = 0.7 * doubtSize
	l.Lines(pen.Stroke{Ink: pen.InkLimit, Width: doubtWidth}, []pen.Point{pen.At(at.X-r, at.Y-r), pen.At(at.X+r, at.Y+r)}, []pen.Point{pen.At(at.X-r, at.Y+r), pen.At(at.X+r, at.Y-r)})
}

// stripKey says how the strips were made and what the marks on them mean.
func (l *picture) stripKey() string {
	text := "Strips of the photos, upright and to one scale, bed surfaces level, in the light that card and reading give; pale grey: outside the photo. " +
		"Lines: mulm foot and colour oxic depth as read."
	if l.Align == AlignFloor {
		text = "Strips of the photos, upright and to one scale, the lowest point seen is level. Lines: mulm top and colour oxic depth as read."
	}
	bare, tinted, unsure := 0, false, false
	for _, s := range l.record.Stations {
		for _, core := range s.Cores {
			strip := l.stripOf(core)
			switch {
			case strip == nil:
				bare++
			default:
				tinted, unsure = tinted || !strip.Carded, unsure || !core.Reliable
			}
		}
	}
	if bare > 0 {
		text += " Plain colours: " + words.Count(bare, "core") + " without a strip."
	}
	if tinted {
		text += " Ring: no grey card, so the tint is the camera's own and may not compare."
	}
	if unsure {
		text += " Cross: the reading is not reliable."
	}
	return text
}
