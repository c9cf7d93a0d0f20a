package photos

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/photo"
	"panecore/palette"
)

// addPickFlags adds the flags for what a keeper marks on a photo.
func addPickFlags(flags *pflag.FlagSet, picks *photo.Picks) {
	flags.Func("strip", "read this part of the pane: `X,Y,W,H` in pixels of the upright picture; it may begin in the water (default: found by itself)",
		shell.Parsed(&picks.Strip, parsePart))
	flags.Func("surface", "the bed surface is about at row `Y` (default: found by itself)", func(text string) error {
		n, err := numbers(text, 1, "a row of pixels, as in 435")
		if err == nil {
			picks.SurfaceY = &n[0]
		}
		return err
	})
	flags.Func("ruler", "two points one above the other on the ruler and the length between them: `X1,Y1,X2,Y2,LENGTH` (default: found by itself)",
		shell.Parsed(&picks.Ruler, parseRuler))
	addCardFlag(flags, &picks.Neutral)
	flags.Func("hide", fmt.Sprintf("leave out a disc before the bed, a stone, a snail or a root: `X,Y,R`; up to %d times", photo.MaxHidden), func(text string) error {
		n, err := numbers(text, 3, "the middle and the radius of a disc in pixels, X,Y,R, as in 980,612,25")
		if err == nil {
			picks.Hidden = append(picks.Hidden, photo.Disc{X: n[0], Y: n[1], R: n[2]})
		}
		return err
	})
}

// mostCards is how many grey cards may be marked (the project's definition).
const mostCards = 6

func addCardFlag(flags *pflag.FlagSet, cards *[]photo.Card) {
	usage := fmt.Sprintf("a grey or white card, and its reflectance or lightness where known: `X,Y,W,H[,18%%|L=66]`; up to %d times; or none", mostCards)
	flags.Func("neutral", usage, func(text string) error {
		if text == "none" {
			*cards = []photo.Card{}
			return nil
		}
		if len(*cards) == mostCards {
			return fmt.Errorf("found one more, %q, want at most %d", text, mostCards)
		}
		card, err := parseCard(text)
		*cards = append(*cards, card)
		return err
	})
}

// addLaidFlag adds the flag for the substrate's colour, for use without a tank.
func addLaidFlag(flags *pflag.FlagSet, native *[]layers.Native) {
	flags.Func("native", "the substrate as it was laid: `'#hex[,kind]'`; the kind is "+shell.Join(layers.Kinds(), ", ")+"; once for each",
		func(text string) error {
			laid, err := parseLaid(text)
			*native = append(*native, laid)
			return err
		})
}

// numbers reads count numbers separated by commas.
func numbers(text string, count int, want string) ([]float64, error) {
	parts := strings.Split(text, ",")
	if len(parts) != count {
		return nil, fmt.Errorf("found %q, want %s", text, want)
	}
	out := make([]float64, count)
	for i, part := range parts {
		number, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || math.IsNaN(number) || math.IsInf(number, 0) {
			return nil, fmt.Errorf("found %q, want %s", text, want)
		}
		out[i] = number
	}
	return out, nil
}

func parsePart(text string) (photo.Box, error) {
	n, err := numbers(text, 4, "a corner, a width and a height in pixels, X,Y,W,H, as in 412,300,220,760")
	if err != nil {
		return photo.Box{}, err
	}
	if n[2] <= 0 || n[3] <= 0 {
		return photo.Box{}, fmt.Errorf("found %q, want a width and a height above 0", text)
	}
	return photo.Box{X: n[0], Y: n[1], W: n[2], H: n[3]}, nil
}

func parseRuler(text string) (photo.Ruler, error) {
	const want = "two points in pixels and the length between them, X1,Y1,X2,Y2,LENGTH, as in 150,60,152,1040,100mm"
	at := strings.LastIndex(text, ",")
	if at < 0 {
		return photo.Ruler{}, fmt.Errorf("found %q, want %s", text, want)
	}
	n, err := numbers(text[:at], 4, want)
	if err != nil {
		return photo.Ruler{}, fmt.Errorf("found %q, want %s", text, want)
	}
	length, err := layers.ParseLength(text[at+1:])
	switch {
	case err != nil:
		return photo.Ruler{}, err
	case length <= 0:
		return photo.Ruler{}, fmt.Errorf("found length %q, want one above 0", text[at+1:])
	}
	return photo.Ruler{X1: n[0], Y1: n[1], X2: n[2], Y2: n[3], LengthMM: length}, nil
}

// parseCard reads a card's box and, if given, how light the card is.
func parseCard(text string) (card photo.Card, err error) {
	box, light := text, ""
	if parts := strings.Split(text, ","); len(parts) == 5 {
		box, light = strings.Join(parts[:4], ","), strings.TrimSpace(parts[4])
	}
	if card.Box, err = parsePart(box); err != nil {
		return card, err
	}
	if light != "" {
		card.Reflectance, err = layers.ParseReflectance(light)
	}
	return card, err
}

// parseLaid reads a substrate as it was laid, whose kind may be left out.
func parseLaid(text string) (n layers.Native, err error) {
	color, kind, hasKind := strings.Cut(text, ",")
	if n.Color, err = palette.ParseColor(strings.TrimSpace(color)); err != nil || !hasKind {
		return n, err
	}
	n.Kind, err = parseKind(strings.TrimSpace(kind))
	return n, err
}

func parseKind(text string) (layers.Kind, error) {
	for _, kind := range layers.Kinds() {
		if string(kind) == text {
			return kind, nil
		}
	}
	return "", fmt.Errorf("found kind %q, want %s", text, shell.Join(layers.Kinds(), ", "))
}

// ToMarks are picks as they are stored with a photo.
func ToMarks(p photo.Picks) layers.Marks {
	r := p.Ruler
	m := layers.Marks{Strip: sides(p.Strip), Surface: p.SurfaceY, Ruler: [5]float64{r.X1, r.Y1, r.X2, r.Y2, r.LengthMM}, Plane: (*[8]float64)(p.Plane)}
	for _, card := range p.Neutral {
		m.Neutral = append(m.Neutral, layers.GreyCard{Box: sides(card.Box), Reflectance: card.Reflectance})
	}
	for _, disc := range p.Hidden {
		m.Hidden = append(m.Hidden, [3]float64{disc.X, disc.Y, disc.R})
	}
	return m
}

// FromMarks are picks that were stored with a photo.
func FromMarks(m layers.Marks) photo.Picks {
	r := m.Ruler
	p := photo.Picks{Strip: box(m.Strip), SurfaceY: m.Surface, Ruler: photo.Ruler{X1: r[0], Y1: r[1], X2: r[2], Y2: r[3], LengthMM: r[4]}, Plane: (*photo.Plane)(m.Plane)}
	for _, card := range m.Neutral {
		p.Neutral = append(p.Neutral, photo.Card{Box: box(card.Box), Reflectance: card.Reflectance})
	}
	for _, disc := range m.Hidden {
		p.Hidden = append(p.Hidden, photo.Disc{X: disc[0], Y: disc[1], R: disc[2]})
	}
	return p
}

// DecodePicks reads picks as they are stored with a photo.
func DecodePicks(text []byte) (photo.Picks, error) {
	m, err := layers.DecodeMarks(text)
	return FromMarks(m), err
}

func sides(b photo.Box) [4]float64 { return [4]float64{b.X, b.Y, b.W, b.H} }

func box(sides [4]float64) photo.Box {
	return photo.Box{X: sides[0], Y: sides[1], W: sides[2], H: sides[3]}
}
