package records

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/table"
)

func (d *dialogue) prompt() string {
	switch d.at {
	case askStation:
		return fmt.Sprintf("Station%s [%s]", among(d.tank.Stations()), d.tank.UsualStation())
	case askDate:
		return fmt.Sprintf("Date, YYYY-MM-DD [%s]", d.Today())
	case askLayer:
		return d.layerPrompt()
	case askBand:
		return "Its band, if you are sure of it [leave it open]"
	case askLit:
		return fmt.Sprintf("Does light reach the glass there, yes or no [%s]", d.usualLit())
	case askSigns:
		return signsPrompt()
	case askDoubt:
		return d.doubtPrompt()
	}
	return "A note [none]"
}

func signsPrompt() string {
	signs := layers.Signs()
	half := len(signs) / 2
	return "Seen besides:\n  " + shell.Join(signs[:half], ", ") + ",\n  " + shell.Join(signs[half:], ", ") + " [none]"
}

// among lists the stations where there is a choice.
func among(stations []string) string {
	if len(stations) < 2 {
		return ""
	}
	return " (" + strings.Join(stations, ", ") + ")"
}

func (d *dialogue) layerPrompt() string {
	n := len(d.core.Layers)
	if n == 0 {
		return "Layer 1, thickness and colour, as in 18mm #6b4a2b"
	}
	prompt := fmt.Sprintf("Layer %d, from %s down", n+1, d.Units.Length(d.core.DepthMM()))
	if former, ok := d.former(); ok && n < len(former.Layers) {
		prompt += fmt.Sprintf(" (%s: %s)", former.Date, d.layerWords(former.Layers[n]))
	}
	return prompt + " [done]"
}

func (d *dialogue) layerWords(l layers.Layer) string {
	return strings.TrimSpace(d.Units.Length(l.ThicknessMM) + " " + l.Color.String() + " " + l.Band.String())
}

// take takes an answer to the question at hand into the core and says what is to be
// asked next.
func (d *dialogue) take(answer string, core *layers.Core) (next question, err error) {
	switch d.at {
	case askStation:
		if core.Station, err = layers.ParseName(cmp.Or(answer, d.tank.UsualStation())); err == nil {
			err = d.keyFault(*core)
		}
		return askDate, err
	case askDate:
		if core.Date, err = layers.ParseDate(cmp.Or(answer, d.Today().String())); err == nil {
			err = d.keyFault(*core)
		}
		return askLayer, err
	case askLayer:
		return d.takeLayer(answer, core)
	case askBand:
		if answer != "" {
			core.Layers = slices.Clone(core.Layers)
			core.Layers[len(core.Layers)-1].Band, err = palette.ParseBand(strings.ToLower(answer))
		}
		return askLayer, err
	case askLit:
		core.Lit, err = parseLit(cmp.Or(answer, d.usualLit()))
		return askSigns, err
	case askSigns:
		core.Signs, err = parseSigns(answer)
		return askNote, err
	}
	core.Note, err = layers.ParseNote(answer)
	return askDoubt, err
}

// keyFault says whether a core's station and date can't be those of a new one; it
// looks no further than what is known of them.
func (d *dialogue) keyFault(core layers.Core) error {
	switch {
	case core.Date > d.Today():
		return fmt.Errorf("found date %s, want %s (today) or earlier", core.Date, d.Today())
	case core.Date != 0 && core.Date < d.tank.SetUp:
		return fmt.Errorf("found date %s, want %s (the tank's set-up) or later", core.Date, d.tank.SetUp)
	case slices.ContainsFunc(d.tank.Cores, func(c layers.Core) bool { return c.Station == core.Station && c.Date == core.Date }):
		return fmt.Errorf("found %s in the logbook already, want another day, or 'panecore core amend'", CoreName(core))
	}
	return nil
}

// takeLayer takes one more layer, or the word that there is none.
func (d *dialogue) takeLayer(answer string, core *layers.Core) (question, error) {
	if answer == "" || answer == "done" {
		if len(core.Layers) == 0 {
			return 0, errors.New("found no layer, want one at least")
		}
		return askLit, nil
	}
	layer, err := layers.ParseLayer(answer, d.named)
	if err != nil {
		return 0, err
	}
	core.Layers = append(slices.Clip(core.Layers), layer)
	if layer.Band != palette.NoBand {
		return askLayer, nil
	}
	return askBand, nil
}

// showMeanings shows the lowest layer's colour and what it may mean.
func (d *dialogue) showMeanings(core layers.Core) error {
	color := core.Layers[len(core.Layers)-1].Color
	meanings := judge.Meanings(color, d.matcher)
	return d.DrawOn(d.Env.Stderr, func(w io.Writer, o table.Options) error { return table.WriteMeanings(w, color, meanings, o) })
}

// former is the last core of the station before the date.
func (d *dialogue) former() (layers.Core, bool) {
	return d.tank.CoreBefore(d.core.Station, d.core.Date)
}

// compare shows cores beside each other, with what their layers mean.
func (d *dialogue) compare(cores ...layers.Core) error {
	own, read := d.settings.Own(d.tank.ID), make([]reports.Core, len(cores))
	for i, core := range cores {
		read[i] = judge.ReadCore(d.tank, core, own, d.settings)
	}
	return d.DrawOn(d.Env.Stderr, func(w io.Writer, o table.Options) error { return table.WriteBeside(w, read, o) })
}

const notGiven = "not given"

// usualLit is whether light reached the glass at the former core, in words.
func (d *dialogue) usualLit() string {
	former, _ := d.former()
	return cmp.Or(layers.YesNo(former.Lit), notGiven)
}

func parseLit(text string) (*bool, error) {
	if text == notGiven {
		return nil, nil
	}
	return layers.ParseYesNo(strings.ToLower(text))
}

// parseSigns reads signs with commas or blanks between them.
func parseSigns(text string) (signs []layers.Sign, err error) {
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		if signs, err = addSign(signs, word); err != nil {
			return nil, err
		}
	}
	return signs, nil
}
