package photos

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/shell"
	"panecore/layers/photo"
)

func TestParseCard_reflectance(t *testing.T) {
	box := photo.Box{X: 10, Y: 20, W: 30.5, H: 40}
	for text, want := range map[string]float64{
		"10,20,30.5,40":        0,
		"10,20,30.5,40,18%":    0.18,
		"10,20,30.5,40, L=100": 1,
		// CIE 15:2004: Y = ((L* + 16)/116)³, for L* = 66 that is 0.3532
		"10, 20, 30.5, 40,L=66": 0.3532,
		// and below L* = 8: Y = L*/903.3
		"10,20,30.5,40,L=5": 0.005535,
	} {
		card, err := parseCard(text)
		if err != nil || card.Box != box || math.Abs(card.Reflectance-want) > 5e-5 {
			t.Errorf("%q: got %v, %v, want reflectance %g", text, card, err, want)
		}
	}
}

func TestPicks_keptAsMarked(t *testing.T) {
	surface := 435.5
	for name, picks := range map[string]photo.Picks{
		"all": {
			Strip: photo.Box{X: 1, Y: 2.5, W: 3, H: 4}, SurfaceY: &surface, Ruler: photo.Ruler{X1: 5, Y1: 6, X2: 7, Y2: 8, LengthMM: 90},
			Neutral: []photo.Card{{Box: photo.Box{X: 9, Y: 10, W: 11, H: 12}, Reflectance: 0.18}, {Box: photo.Box{X: 13, Y: 14, W: 15, H: 16}}},
		},
		"by a tag":     {Strip: photo.Box{W: 1, H: 1}, Ruler: photo.Ruler{Y2: 100, LengthMM: 10}, Plane: &photo.Plane{4, 0.5, 100, -0.5, 4, 200, 1e-4, 2e-4}},
		"what must be": {Strip: photo.Box{W: 1, H: 1}, Ruler: photo.Ruler{Y2: 100, LengthMM: 10}},
	} {
		kept, err := json.Marshal(ToMarks(picks))
		if err != nil {
			t.Fatal(err)
		}
		again, err := DecodePicks(kept)
		if diff := cmp.Diff(picks, again); err != nil || diff != "" {
			t.Errorf("%s: %v, %s", name, err, diff)
		}
	}
}

// Whatever is typed as a pick is taken within its range or refused in one line.
func FuzzPicks(f *testing.F) {
	for _, text := range []string{
		"1,2,3,4", "1,2,-3,4", "1,2,3", "1,2,3,4,18%", "1,2,3,4,L=66", "1,2,3,4,0%", "1,2,3,4,L=", "152,60,152,1040,100mm",
		"1,2,3,4,4in", "1,2,3,4,-5mm", "NaN,1,1,1", "1e400,1,1,1", "Inf,1,1,1,1mm", "#d9cba6", "#d9cba6,sand", "#d9cba6,sandy", "", ",,,", "\n",
		`{"strip":[1,2,3,4]}`, `{"strip":[1]}`,
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		box, boxErr := parsePart(text)
		if boxErr == nil && !(box.W > 0 && box.H > 0) {
			t.Errorf("%q: took %v", text, box)
		}
		ruler, rulerErr := parseRuler(text)
		if rulerErr == nil && !(ruler.LengthMM > 0) {
			t.Errorf("%q: took %v", text, ruler)
		}
		card, cardErr := parseCard(text)
		if cardErr == nil && !(card.Reflectance >= 0 && card.Reflectance <= 1) {
			t.Errorf("%q: took %v", text, card)
		}
		_, laidErr := parseLaid(text)
		_, nameErr := shell.ParseFileName(text)
		_, keptErr := DecodePicks([]byte(text))
		for _, err := range []error{boxErr, rulerErr, cardErr, laidErr, nameErr, keptErr} {
			if err != nil && (strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "found ")) {
				t.Errorf("%q: refused as %q", text, err)
			}
		}
	})
}
