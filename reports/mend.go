package reports

import (
	"fmt"
	"strings"

	"panecore/layers"
)

// ChangesLayers reports whether the answer puts a core right by other thicknesses or another
// order of its layers.
func (m Mend) ChangesLayers() bool {
	switch m.Slip {
	case SlipTurnedOver, SlipDepths, SlipTenfold, SlipTenth:
		return true
	}
	return false
}

// Mended are layers as the answer has them, where it changes layers. Its error says what in
// them can't be so.
func (m Mend) Mended(list []layers.Layer) ([]layers.Layer, error) {
	if m.Layer < 0 || m.Layer >= len(list) {
		return nil, fmt.Errorf("found layer %d, want one of the %d that the core has", m.Layer+1, len(list))
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

// Event is what the answer says was done before a reading and not entered, nil where it says
// nothing of the kind. The day before is a guess that breaks the record where it is broken.
func (m Mend) Event(read layers.Date) *layers.Event {
	switch m.Slip {
	case SlipRemoval:
		return &layers.Event{Date: read - 1, Kind: layers.EventSiphon}
	case SlipTopUp:
		return &layers.Event{Date: read - 1, Kind: layers.EventTopUpSubstrate}
	}
	return nil
}

// Quoted is an argument of a command as a shell takes it: as it is where that can't mislead one.
func Quoted(argument string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r == '.' || r == '/' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z'
	}
	if strings.IndexFunc(argument, func(r rune) bool { return !plain(r) }) < 0 && !strings.HasPrefix(argument, "-") {
		return argument
	}
	return "'" + strings.ReplaceAll(argument, "'", `'\''`) + "'"
}
