package reader

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/reports/web/site"
)

// Marks that were kept come back as they were made.
func TestMarks_keptAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := func(low, high int) float64 { return float64(rapid.IntRange(10*low, 10*high).Draw(t, "tenths")) / 10 }
		box := func() [4]float64 { return [4]float64{tenths(0, 4000), tenths(0, 3000), tenths(1, 500), tenths(1, 500)} }
		strip := box()
		m := marks{
			Ruler: &rulerMark{
				From: [2]float64{tenths(0, 4000), tenths(0, 3000)}, To: [2]float64{tenths(0, 4000), tenths(0, 3000)},
				Length: strconv.FormatFloat(tenths(1, 500), 'f', -1, 64) + "mm",
			},
			Strip: &strip,
		}
		if rapid.Bool().Draw(t, "surface") {
			y := tenths(0, 3000)
			m.Surface = &y
		}
		for range rapid.IntRange(0, mostCards).Draw(t, "cards") {
			m.Cards = append(m.Cards, cardMark{box(), rapid.SampledFrom([]string{"", "18%", "90%", "3.5%", "100%"}).Draw(t, "reflectance")})
		}
		whole, err := m.complete()
		if err != nil {
			t.Fatal(err)
		}
		kept, err := json.Marshal(whole)
		if err != nil {
			t.Fatal(err)
		}
		again, err := layers.DecodeMarks(kept)
		if back := shownMarks(again); err != nil || !cmp.Equal(m, back) {
			t.Fatalf("came back otherwise, error %v:\n%s", err, cmp.Diff(m, back))
		}
	})
}

// Marks of another program are an error, not a panic.
func TestDecodeMarks_refused(t *testing.T) {
	for _, text := range []string{"", "{", "[]", `{"strip":"x"}`, `{"ruler":1}`} {
		if _, err := layers.DecodeMarks([]byte(text)); err == nil {
			t.Errorf("took %q for marks", text)
		}
	}
}

// Whatever a page sends is taken as it stands or refused as bad input; what is taken means
// the same when it is written and read again, and never ends in a panic.
func FuzzReadRequest(f *testing.F) {
	whole, err := json.Marshal(readRequest{
		Tank: "sill-tray", Station: "front", Date: "2026-11-01", Note: "wiped the pane",
		Picks: marks{
			Ruler: &rulerMark{From: [2]float64{180, 90}, To: [2]float64{182, 790}, Length: "70mm"},
			Cards: []cardMark{{Box: [4]float64{1350, 650, 150, 95}, Reflectance: "18%"}},
			Strip: &[4]float64{600, 200, 400, 800},
		},
	})
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{
		string(whole), "{}", "", "null", "[]", `{"picks":null}`, `{"picks":{"strip":[1,2,3]}}`, `{"picks":{"strip":[1,2,3,4,5],"surface":-0}}`,
		`{"picks":{"ruler":{"from":[1,2],"to":[3],"length":"1e9mm"}},"surface_mm":1e308}`, `{"cuts":[{"bottom_mm":-1e308,"band":"rust"},{}],"lit":true}`,
		`{"signs":["gas-bubbles","\u0000"],"note":"\ud800","date":"0000-00-00"}`, `{"tank":"a","tank":"b"}`, `{} {}`, strings.Repeat(`{"picks":`, 50),
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		q, err := parseRequest[readRequest](text)
		if err != nil {
			if !errors.Is(err, site.ErrInput) {
				t.Errorf("refused as a failure of the program: %v", err)
			}
			return
		}
		again, err := json.Marshal(q)
		if err != nil {
			t.Fatalf("took what can't be written: %v", err)
		}
		back, err := parseRequest[readRequest](again)
		if err != nil || !cmp.Equal(q, back, cmpopts.EquateEmpty()) {
			t.Errorf("means something else when it is read again, error %v:\n%s", err, cmp.Diff(q, back))
		}
		for _, err := range []error{second(q.core()), second(q.cuts())} {
			if err != nil && !errors.Is(err, site.ErrInput) {
				t.Errorf("refused as a failure of the program: %v", err)
			}
		}
		if len(q.Picks.wanted()) > 0 {
			return
		}
		if _, err := q.Picks.complete(); err != nil && !errors.Is(err, site.ErrInput) {
			t.Errorf("refused as a failure of the program: %v", err)
		}
	})
}

func second[T any](_ T, err error) error { return err }
