package layers

import (
	"encoding/csv"
	"io"
	"strconv"
)

// WriteCSV writes every layer of every core as a row of comma-separated values in
// UTF-8 (RFC 4180), the layers of a core numbered from 1 at the bed surface.
// Lengths are mm. What a photo leaves in doubt is not in it. Its error is that of w.
func WriteCSV(w io.Writer, tanks []Tank) error {
	rows := csv.NewWriter(w) // it keeps its first error to the end
	rows.UseCRLF = true
	heading := []string{"tank", "station", "date", "layer", "top_mm"}
	for _, f := range layerTable.fields {
		if f.Typed() {
			heading = append(heading, f.Name)
		}
	}
	rows.Write(heading)
	for _, tank := range tanks {
		for _, core := range tank.Cores {
			top := 0.0
			for i, l := range core.Layers {
				row := []string{tank.ID, core.Station, core.Date.String(), strconv.Itoa(i + 1), format(settled(top))}
				for _, f := range layerTable.fields {
					if f.Typed() {
						row = append(row, f.Plain(&l))
					}
				}
				rows.Write(row)
				top += l.ThicknessMM
			}
		}
	}
	rows.Flush()
	return rows.Error()
}
