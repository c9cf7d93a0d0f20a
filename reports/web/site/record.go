package site

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/url"
	"slices"

	"panecore/layers"
	"panecore/reports/words"
)

// TankAddress is the path of a tank's page.
func TankAddress(tank string) string { return "/tank/" + url.PathEscape(tank) }

// CoreAddress is the path of a core's own page.
func CoreAddress(tank, station string, date layers.Date) string {
	return TankAddress(tank) + "/core/" + url.PathEscape(station) + "/" + date.String()
}

// Fingerprint tells a record from every other. A form carries that of what it shows, so that it
// does not overwrite what another window has changed since.
func Fingerprint(tank layers.Tank) string {
	var document bytes.Buffer
	if err := layers.Encode(&document, []layers.Tank{tank}); err != nil {
		return "" // no document can hold it, so it is not from the store
	}
	sum := sha256.Sum256(document.Bytes())
	return hex.EncodeToString(sum[:16])
}

// CoreMark is the fingerprint of a core.
func CoreMark(core layers.Core) string {
	return Fingerprint(layers.Tank{Cores: []layers.Core{core}})
}

// CoreOf is a tank's core of a station and day; the error is ErrMissing if it has none.
func CoreOf(tank layers.Tank, station, date string) (layers.Core, error) {
	i := slices.IndexFunc(tank.Cores, func(c layers.Core) bool { return c.Station == station && c.Date.String() == date })
	if i < 0 {
		return layers.Core{}, WithKind(ErrMissing, fmt.Errorf("found no core %s %s of tank %q, want one in the logbook", station, date, tank.ID))
	}
	return tank.Cores[i], nil
}

// LayersWords give a core's layers and depth: "3 layers, 80 mm".
func (s *Site) LayersWords(core layers.Core) string {
	return words.Count(len(core.Layers), "layer") + ", " + s.Units.Length(core.DepthMM())
}

// Folded is a list that shows the newest rows; the rest can be unfolded.
type Folded[Row any] struct{ Newest, Older []Row }

// mostShown is how many rows are shown unfolded (assumption: two stations over three months).
const mostShown = 6

// Fold puts the newest rows first and folds the rest away.
func Fold[Row any](rows []Row) Folded[Row] {
	slices.Reverse(rows)
	n := min(mostShown, len(rows))
	return Folded[Row]{rows[:n], rows[n:]}
}
