package cli

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"panecore/layers"
	"panecore/layers/photo"
	"panecore/palette"
)

// addPickFlags adds what a keeper marks on a photo.
func addPickFlags(flags *pflag.FlagSet, o *photoOptions) {
	flags.SortFlags = false
	flags.Func("strip", "read this part of the pane: `X,Y,W,H` in pixels of the upright picture", parsed(&o.picks.Strip, parsePart))
	flags.Func("ruler", "two points of the ruler and the length between them: `X1,Y1,X2,Y2,LENGTH`", parsed(&o.picks.Ruler, parseRuler))
	flags.Func("surface", "the bed surface, roughly, at row `Y` (default: the strip's top)", func(text string) error {
		y, err := parseNumber(text)
		o.picks.SurfaceY = &y
		return err
	})
	flags.Func("neutral", "a grey or white card: `X,Y,W,H[,18%|L=66]`; may be repeated", func(text string) error {
		card, err := parseCard(text)
		o.picks.Neutral = append(o.picks.Neutral, card)
		return err
	})
	flags.Func("native", "the substrate as it was laid: `'#hex[,kind]'`; may be repeated", func(text string) error {
		native, err := parseLaid(text)
		o.native = append(o.native, native)
		return err
	})
}

// numbers reads count numbers with commas between them.
func numbers(text string, count int, want string) ([]float64, error) {
	parts := strings.Split(text, ",")
	if len(parts) != count {
		return nil, fmt.Errorf("found %q, want %s", text, want)
	}
	out := make([]float64, count)
	for i, part := range parts {
		number, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return nil, fmt.Errorf("found %q, want %s", text, want)
		}
		out[i] = number
	}
	return out, nil
}

const wantBox = "four numbers of pixels, X,Y,W,H, as in 412,300,220,760"

func parsePart(text string) (photo.Box, error) {
	n, err := numbers(text, 4, wantBox)
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
		return photo.Ruler{}, err
	}
	length, err := layers.ParseLength(text[at+1:])
	if err != nil {
		return photo.Ruler{}, err
	}
	return photo.Ruler{X1: n[0], Y1: n[1], X2: n[2], Y2: n[3], LengthMM: length}, nil
}

func parseCard(text string) (photo.Card, error) {
	var card photo.Card
	parts := strings.Split(text, ",")
	if len(parts) == 5 {
		value := strings.TrimSpace(parts[4])
		if percent, ok := strings.CutSuffix(value, "%"); ok {
			y, err := strconv.ParseFloat(percent, 64)
			if err != nil || y <= 0 || y > 100 {
				return card, fmt.Errorf("found %q, want the card's reflectance above 0 to 100 %%, as in 18%%", value)
			}
			card.Reflectance = y / 100
		} else if lightness, ok := strings.CutPrefix(value, "L="); ok {
			l, err := strconv.ParseFloat(lightness, 64)
			if err != nil || l <= 0 || l > 100 {
				return card, fmt.Errorf("found %q, want the card's lightness above 0 to 100, as in L=66", value)
			}
			card.Reflectance = palette.Lab{L: l}.Linear().Luminance()
		} else {
			return card, fmt.Errorf("found %q, want the card's reflectance as in 18%%, or its lightness as in L=66", value)
		}
		text = strings.Join(parts[:4], ",")
	}
	box, err := parsePart(text)
	card.Box = box
	return card, err
}

// parseLaid reads a substrate as it was laid, whose kind may be left out.
func parseLaid(text string) (n layers.Native, err error) {
	if strings.Contains(text, ",") {
		return parseNative(text)
	}
	n.Color, err = palette.ParseColor(text)
	return n, err
}
