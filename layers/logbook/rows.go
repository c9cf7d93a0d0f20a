package logbook

import (
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"panecore/layers"
	"panecore/palette"
)

func prototypeRow(p Prototype) []any {
	return []any{p.Name, p.Band.String(), p.Color.String(), p.Spread}
}

// fault is one value that a column should not hold.
func fault(where, found, want string) error {
	return layers.Faults{{Where: where, Found: strconv.Quote(found), Want: want}}
}

// scanPrototype scans the tank behind the other columns.
func scanPrototype(row *sql.Rows) (p Prototype, err error) {
	var tank sql.NullString
	var band, hex string
	if err := row.Scan(&p.Name, &band, &hex, &p.Spread, &tank); err != nil {
		return p, err
	}
	p.Tank = tank.String
	if p.Band, err = palette.ParseBand(band); err != nil {
		return p, fault(p.Called()+", band", band, "a band's name")
	}
	if p.Color, err = palette.ParseColor(hex); err != nil {
		return p, fault(p.Called()+", hex", hex, "'#' and six hexadecimal digits")
	}
	return p, nil
}

// within puts the place of err before what it says of places within; nil stays nil.
func within(place string, err error) error {
	if faults, ok := errors.AsType[layers.Faults](err); ok {
		placed := slices.Clone(faults)
		for i, fault := range faults {
			switch {
			case fault.Where == "document": // the whole of the place
				placed[i].Where = place
			case strings.HasPrefix(fault.Where, "["): // an entry of the list
				placed[i].Where = place + fault.Where
			default:
				placed[i].Where = place + ", " + fault.Where
			}
		}
		return placed
	}
	if err != nil {
		return fmt.Errorf("%s: %w", place, err)
	}
	return nil
}
