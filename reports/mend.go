package reports

import (
	"fmt"
	"strings"

	"panecore/layers"
)

// ChangesLayers reports whether the answer changes the thicknesses or the order of the core's layers.
func (m Mend) ChangesLayers() bool {
	switch m.Slip {
	case SlipTurnedOver, SlipDepths, SlipTenfold, SlipTenth:
		return true
	}
	return false
}

// Mended are layers as the answer has them, if it changes layers. Its error says why they can't be.
func (m Mend) Mended(list []layers.Layer) ([]layers.Layer, error) {
	if m.Layer < 0 || m.Layer >= len(list) {
		return nil, fmt.Errorf("found layer %d, want one of the core's %d", m.Layer+1, len(list))
	}
	switch m.Slip {
	case SlipTurnedOver:
		return layers.TurnedOver(list), nil
	case SlipDepths:
		return layers.FromDepths(list)
	}
	factor := 0.1
	if m.Slip == SlipTenth {
		factor = 10
	}
	scaled := layers.Scaled(list, factor)
	for i := range scaled {
		if m.Alone && i != m.Layer {
			scaled[i].ThicknessMM = list[i].ThicknessMM
		}
	}
	return scaled, nil
}

// Event is what, by the answer, was done before a reading and not entered; nil: nothing. The day
// before the reading is a guess that splits the record in the right place.
func (m Mend) Event(read layers.Date) *layers.Event {
	switch m.Slip {
	case SlipRemoval:
		return &layers.Event{Date: read - 1, Kind: layers.EventSiphon}
	case SlipTopUp:
		return &layers.Event{Date: read - 1, Kind: layers.EventTopUpSubstrate}
	}
	return nil
}

// Quoted writes an argument for a shell, in quotes only if it needs them.
func Quoted(argument string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r == '.' || r == '/' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
	}
	if strings.IndexFunc(argument, func(r rune) bool { return !plain(r) }) < 0 && !strings.HasPrefix(argument, "-") {
		return argument
	}
	return "'" + strings.ReplaceAll(argument, "'", `'\''`) + "'"
}
