package forms

import (
	"slices"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/words"
)

// coreRow is a row of layers as it is shown.
type coreRow struct {
	Index                      int
	Thickness, Hex, Band, Note field
	Was                        string
	Picked                     string // what the colour picker shows
}

func (h coreForm) rows() (rows []coreRow) {
	for i := range h.typedRows() {
		rows = append(rows, h.row(i))
	}
	return rows
}

// row is the row of an index; -1 is an empty one.
func (h coreForm) row(i int) coreRow {
	row := coreRow{
		Index:     i,
		Thickness: h.nth(i, "thickness", "Thickness"),
		Hex:       h.nth(i, "hex", "Colour"),
		Band:      h.nth(i, "band", "What it is").choosing(bandOptions()),
		Note:      h.nth(i, "layer_note", "Note"),
		Was:       h.nth(i, "was", "").Value,
		Picked:    "#808080",
	}
	if color, err := readColor(row.Hex.Value); err == nil {
		row.Picked = color.String()
	}
	return row
}

func bandOptions() []option {
	options := []option{{Value: "", Label: "as read"}}
	for _, band := range palette.Bands() {
		options = append(options, option{Value: band.String(), Label: band.String()})
	}
	return options
}

func (h coreForm) whenFields(today layers.Date) []field {
	var stations []option
	for _, station := range h.tank.Stations() {
		stations = append(stations, option{Value: station})
	}
	return []field{
		h.field("core", "station", "Station, the marked place").offering(stations).exact().wanted(),
		h.field("core", "date", "Day").upTo(today).wanted(),
		h.field("core", "lit", "Light reaches the glass there").answering(),
	}
}

func (h coreForm) signs() (list []option) {
	for _, sign := range layers.Signs() {
		list = append(list, option{Value: string(sign), Label: words.Spaced(sign), Chosen: slices.Contains(h.typed["sign"], string(sign))})
	}
	return list
}
