package page_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"panecore/palette"
	"panecore/reports/page"
)

// themes are the inks of the page by their names: on a bright screen, on a dark one, and
// on paper.
func themes(t *testing.T) map[string]map[string]palette.Color {
	t.Helper()
	style := stylePattern.FindString(written(t, page.Report{Record: recordOf(demoTank(t, "sill-tray"))}))
	read := func(base map[string]palette.Color, from string) map[string]palette.Color {
		_, rest, ok := strings.Cut(style, from)
		if !ok {
			t.Fatalf("the style has no %q", from)
		}
		_, rest, _ = strings.Cut(rest, ":root {")
		block, _, _ := strings.Cut(rest, "}")
		inks := map[string]palette.Color{}
		for name, color := range base {
			inks[name] = color
		}
		for _, m := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]+);`).FindAllStringSubmatch(block, -1) {
			digits := m[2][1:]
			if len(digits) == 3 {
				digits = strings.Repeat(digits[:1], 2) + strings.Repeat(digits[1:2], 2) + strings.Repeat(digits[2:], 2)
			}
			n, err := strconv.ParseUint(digits, 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			inks[m[1]] = palette.Color{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}
		}
		return inks
	}
	bright := read(nil, "<style>")
	return map[string]map[string]palette.Color{
		"bright": bright,
		"dark":   read(nil, "@media screen and (prefers-color-scheme: dark)"),
		"paper":  read(bright, "@media print"),
	}
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(a, b palette.Color) float64 {
	luminance := func(c palette.Color) (sum float64) {
		for i, part := range [...]uint8{c.R, c.G, c.B} {
			s := float64(part) / 255
			if s <= 0.04045 {
				s /= 12.92
			} else {
				s = math.Pow((s+0.055)/1.055, 2.4)
			}
			sum += [...]float64{0.2126, 0.7152, 0.0722}[i] * s
		}
		return sum
	}
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// The examples are those of the definition: black on white, and the lightest grey on white
// that passes for text (WebAIM's figure, from memory).
func TestContrast(t *testing.T) {
	white := palette.Color{R: 0xff, G: 0xff, B: 0xff}
	if c := contrast(palette.Color{}, white); math.Abs(c-21) > 1e-9 {
		t.Errorf("black on white: %v, want 21", c)
	}
	if c := contrast(palette.Color{R: 0x76, G: 0x76, B: 0x76}, white); math.Abs(c-4.54) > 0.005 {
		t.Errorf("#767676 on white: %v, want 4.54", c)
	}
}

// WCAG 2.2: 4.5 for words (1.4.3), 3 for lines that something hangs on (1.4.11).
func TestWrite_contrast(t *testing.T) {
	for name, inks := range themes(t) {
		for _, ground := range []string{"ground", "water"} {
			for _, role := range []string{"word", "soft", "oxic", "mulm", "limit"} {
				if c := contrast(inks[role], inks[ground]); c < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f", name, role, ground, c)
				}
			}
		}
		if c := contrast(inks["rule"], inks["ground"]); c < 3 {
			t.Errorf("%s: rule on ground has a contrast of %.2f", name, c)
		}
	}
}

// Every ink of the pictures follows the page, and no colour that was read does.
func TestWrite_inksFollow(t *testing.T) {
	everyTank(t, func(t *testing.T, r page.Report, text string) {
		style := stylePattern.FindString(text)
		known := strings.Fields("paper word soft hair water oxic mulm limit") // as figure names its inks
		for _, m := range regexp.MustCompile(`class="[fs]-([a-z]+)"`).FindAllStringSubmatch(text, -1) {
			if !slices.Contains(known, m[1]) {
				t.Errorf("the style does not know the ink %q", m[1])
			}
		}
		for _, role := range known {
			ink := strings.Replace(role, "paper", "ground", 1)
			for _, rule := range []string{".f-" + role + " { fill: var(--" + ink + "); }", ".s-" + role + " { stroke: var(--" + ink + "); }"} {
				if !strings.Contains(style, rule) {
					t.Errorf("the style has no %q", rule)
				}
			}
		}
		for _, core := range r.Record.Tank.Cores {
			for _, l := range core.Layers {
				if !strings.Contains(text, `fill="`+l.Hex.String()+`"/>`) || !strings.Contains(text, `style="background:`+l.Hex.String()+`"`) {
					t.Errorf("%s is not shown as it was read", l.Hex)
				}
			}
		}
	})
}

// A picture keeps its size in print: the page is told the millimetres that it is drawn in.
func TestWrite_trueSize(t *testing.T) {
	everyTank(t, func(t *testing.T, _ page.Report, text string) {
		pictures := regexp.MustCompile(`<div style="--mm:([0-9.]+)"><svg xmlns="[^"]*" viewBox="0 0 ([0-9.]+) `).FindAllStringSubmatch(text, -1)
		if len(pictures) != strings.Count(text, "<svg") {
			t.Errorf("%d of %d pictures have a size", len(pictures), strings.Count(text, "<svg"))
		}
		const sheet = 215.9 - 2*17 // of Letter between the margins, mm; A4 leaves 176
		for _, m := range pictures {
			if wide, err := strconv.ParseFloat(m[2], 64); m[1] != m[2] || err != nil || wide > min(sheet, 210-2*17) {
				t.Errorf("a picture of %s mm is given %s mm", m[2], m[1])
			}
		}
	})
}
