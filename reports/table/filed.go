package table

import (
	"fmt"
	"io"
	"strings"

	"panecore/reports"
)

// WriteFiled draws what became of many photos, and how many of each. Its errors are those of w.
func WriteFiled(w io.Writer, list []reports.FiledPhoto, o Options) error {
	p := newPage(o)
	g := grid{columns: []column{left("photo"), left(""), left("tank"), left("station"), left("date"), left("why")}, text: 5}
	counts := map[reports.Filed]int{}
	for _, f := range list {
		counts[f.Outcome]++
		date := ""
		if f.Date != 0 {
			date = f.Date.String()
		}
		g.rows = append(g.rows, []string{p.plain(f.File), string(f.Outcome), p.plain(f.Tank), p.plain(f.Station), date, strings.Join(f.Why, "; ")})
	}
	p.listed("no photos", g)
	p.line()
	p.text(0, filedWords(counts))
	return p.write(w)
}

// filedWords is a sum in one line.
func filedWords(counts map[reports.Filed]int) string {
	text := fmt.Sprintf("%d filed, %d doubtful, %d refused", counts[reports.FiledNew], counts[reports.FiledDoubtful], counts[reports.FiledNot])
	if known := counts[reports.FiledBefore]; known > 0 {
		text += fmt.Sprintf("; the logbook already had %d", known)
	}
	return text + "."
}
