package forms

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/web/site"
)

// parseAnswer reads an answer that a button sends.
func parseAnswer(text string) (m reports.Mend, err error) {
	slip, layer, alone := strings.Cut(text, ":")
	m.Slip, m.Alone = reports.Slip(slip), alone
	if !alone {
		return m, nil
	}
	layer, band, named := strings.Cut(layer, ":")
	if m.Layer, err = strconv.Atoi(layer); err == nil && named {
		m.Alone = false
		m.Band, err = palette.ParseBand(band)
	}
	if err != nil {
		err = site.WithKind(site.ErrInput, fmt.Errorf("found the answer %q, want one that the page offers: %w", text, err))
	}
	return m, err
}

func mendedWords(m reports.Mend) string {
	switch {
	case m.Slip == reports.SlipTurnedOver:
		return "the layers are turned over"
	case m.Slip == reports.SlipDepths:
		return "the thicknesses are the differences of the depths"
	case m.Slip == reports.SlipTenth:
		return "every layer is ten times as thick"
	case m.Alone:
		return fmt.Sprintf("layer %d is a tenth as thick", m.Layer+1)
	}
	return "every layer is a tenth as thick"
}

func holdsEvent(tank layers.Tank, event layers.Event) bool {
	return slices.ContainsFunc(tank.Events, func(e layers.Event) bool { return reflect.DeepEqual(e, event) })
}
