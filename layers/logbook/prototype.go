package logbook

import (
	"context"
	"fmt"
	"strconv"
	"time"
	"unicode"
	"unicode/utf8"

	"panecore/layers"
	"panecore/palette"
)

// A Prototype is a colour that the keeper knows the meaning of and calls by name.
type Prototype struct {
	Tank   string // empty: it holds for every tank
	Name   string // a word of letters, digits, '-' and '_', see AddPrototype
	Band   palette.Band
	Color  palette.Color
	Spread float64 // root-mean-square CIEDE2000 difference from Color, MinSpread to MaxSpread
}

// The spreads that a prototype may have, CIEDE2000 units (assumptions: below the
// first two colours of one glass can't be told apart, above the second one
// prototype passes for most others).
const (
	MinSpread = 0.5
	MaxSpread = 20
)

const longestName = 80 // characters, as of every name in a document

// Prototypes lists the prototypes that hold for a tank, by name: its own, and those
// for every tank whose names it does not use itself. With an empty id it lists every
// prototype of the logbook, by name and tank.
func (b *Book) Prototypes(ctx context.Context, tank string) ([]Prototype, error) {
	const query = `
		SELECT name, band, hex, spread, tank FROM prototypes p
		WHERE until IS NULL AND (?1 = '' OR tank = ?1 OR tank IS NULL AND NOT EXISTS (
			SELECT 1 FROM prototypes own WHERE own.tank = ?1 AND own.name = p.name AND own.until IS NULL))
		ORDER BY name, tank`
	return viewed(ctx, b, func(r *reader) ([]Prototype, error) {
		if tank != "" {
			if _, _, err := r.setup(tank); err != nil {
				return nil, err
			}
		}
		return list(r, scanPrototype, query, tank)
	})
}

// AddPrototype adds a prototype under a name that is free for its tank. The name is
// a word of letters, digits, '-' and '_' that starts with a letter, has 80
// characters at most and is no band's own name.
func (b *Book) AddPrototype(ctx context.Context, at time.Time, p Prototype) error {
	return b.change(ctx, at, func(c *change) error {
		if faults := p.faults(); faults != nil {
			return faults
		}
		if p.Tank != "" {
			if _, _, err := c.setup(p.Tank); err != nil {
				return err
			}
		}
		return c.add(prototypes, tankOf(p.Tank), prototypeRow(p))
	})
}

// RemovePrototype removes the prototype that a tank has under a name; with an empty
// id, the one for every tank.
func (b *Book) RemovePrototype(ctx context.Context, at time.Time, tank, name string) error {
	return b.change(ctx, at, func(c *change) error {
		return c.remove(prototypes, tankOf(tank), []any{name})
	})
}

// tankOf is how a row names the tank that a prototype holds for.
func tankOf(id string) any {
	if id == "" {
		return nil
	}
	return id
}

// Called is what the prototype is called in messages.
func (p Prototype) Called() string { return prototypes.called(tankOf(p.Tank), []any{p.Name}) }

func (p Prototype) faults() (faults layers.Faults) {
	report := func(field, found, want string) {
		faults = append(faults, layers.Fault{Where: p.Called() + ", " + field, Found: found, Want: want})
	}
	if !isWord(p.Name) {
		report("name", strconv.Quote(p.Name), "a word of 1 to 80 letters, digits, '-' and '_' that starts with a letter")
	}
	if _, err := palette.ParseBand(p.Name); err == nil {
		report("name", "the band's name "+p.Name, "a name of its own")
	}
	if p.Band == palette.NoBand || p.Band == palette.Unknown {
		report("band", strconv.Quote(p.Band.String()), "a band that the colour means")
	}
	if !(p.Spread >= MinSpread && p.Spread <= MaxSpread) {
		report("spread", fmt.Sprint(p.Spread), fmt.Sprintf("a number from %v to %v", MinSpread, MaxSpread))
	}
	return faults
}

func isWord(name string) bool {
	for i, r := range name {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '-' && r != '_') {
			return false
		}
	}
	return name != "" && utf8.RuneCountInString(name) <= longestName && utf8.ValidString(name)
}
