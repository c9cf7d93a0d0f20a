package table

import (
	"fmt"
	"io"
	"math"

	"panecore/reports"
	"panecore/reports/words"
)

// WritePhoto draws a core that was read from a photo, says how it was read and what to do
// next. Its errors are those of w.
func WritePhoto(w io.Writer, file string, read reports.PhotoCore, next []string, o Options) error {
	p := newPage(o)
	p.text(0, photoTitle(file, read.Core))
	if !read.Reliable {
		p.text(0, "Not reliable: the layers may differ from what is listed here. The warnings say why.")
	}
	if w := read.Photo.Water; w != nil {
		p.text(0, fmt.Sprintf("Not sure yet: %s. If they are water above the bed, read it again with --surface %g.", words.TopWater(p.Units, *w), w.Surface))
	}
	p.line()
	p.single(read.Core)
	p.heading("How it was read")
	p.howRead(read.Photo)
	p.section("Found by itself: check it on the overlay", p.found(read.Photo.Found))
	p.section("Doubtful layers", p.doubtful(read.Layers))
	p.section("Warnings", read.Photo.Warnings)
	p.section("Next", next)
	return p.write(w)
}

// photoTitle is a photo's name, and of which station and day it is where that is known.
func photoTitle(file string, core reports.Core) string {
	switch {
	case core.Date == 0 && core.Station == "":
		return file
	case core.Date == 0:
		return file + ": " + core.Station
	}
	return file + ": " + words.CoreTitle(core)
}

// howRead writes scale, light, glare and how the surface was traced, a line each.
func (p *page) howRead(how reports.Photo) {
	p.line("  scale    ", words.Number(how.PxPerMM, 2), " px per mm, rolled by ", words.Number(math.Abs(how.RollDegrees), 1), " degrees")
	p.item(2, "light    ", lightWords(how.Correction))
	if how.TaughtBy != nil {
		p.item(2, "names    ", words.TaughtBy(*how.TaughtBy))
	}
	p.line("  glare    ", fmt.Sprintf("%d %% of the strip masked", words.Hundred(how.GlareShare)))
	p.item(2, "surface  ", p.surface(how.Surface))
}

func lightWords(c reports.Correction) string {
	text := "no grey card: the colours are the camera's own"
	if c.Cards > 0 {
		cards := "grey card"
		if c.Cards > 1 {
			cards = fmt.Sprint(c.Cards, " grey cards")
		}
		text = fmt.Sprintf("%s: red × %s, green × %s, blue × %s", cards, words.Number(c.Gain[0], 2), words.Number(c.Gain[1], 2), words.Number(c.Gain[2], 2))
	}
	return text + fmt.Sprintf("; exposure solved: %s stops, give or take %s", stops(c.ExposureEV), words.Number(c.ExposureDoubt, 2))
}

// found lists the marks that no keeper set.
func (p *page) found(list []reports.FoundMark) (lines []string) {
	for _, m := range list {
		doubt := ""
		if m.Doubtful {
			doubt = ", doubtful"
		}
		lines = append(lines, fmt.Sprintf("%s (%d %% sure%s): %s", m.Mark, words.Hundred(m.Confidence), doubt, m.Note))
	}
	return lines
}

// doubtful lists the layers of which two names should be shown.
func (p *page) doubtful(list []reports.Layer) (lines []string) {
	for _, l := range list {
		if l.Doubtful() {
			second := l.Alternatives[0]
			lines = append(lines, fmt.Sprintf("from %s to %s %s: %s %d %%, or %s %d %%", words.OnRuler(p.Units, l.TopMM), words.OnRuler(p.Units, l.BottomMM()),
				p.Units, l.Band, words.Hundred(l.Probability), second.Band, words.Hundred(second.Probability)))
		}
	}
	return lines
}

// WriteSwatch shows a colour of a photo and what it may mean by itself. Its errors are
// those of w.
func WriteSwatch(w io.Writer, s reports.Swatch, o Options) error {
	p := newPage(o)
	p.meanings(s.Hex, s.Bands)
	p.text(gridIndent, fmt.Sprintf("L* %s, a* %s, b* %s; its grains differ from it by %s CIEDE2000; %d %% left out as glare",
		words.Number(s.Lab[0], 1), words.Signed(s.Lab[1], 1), words.Signed(s.Lab[2], 1), words.Number(s.Spread, 1), words.Hundred(s.MaskedShare)))
	p.section("Warnings", s.Warnings)
	return p.write(w)
}

// stops writes an exposure with its sign.
func stops(ev float64) string {
	if ev > 0 {
		return "+" + words.Number(ev, 2)
	}
	return words.Signed(ev, 2)
}
