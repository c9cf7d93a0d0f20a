package tag_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"pgregory.net/rapid"

	"panecore/layers"
	"panecore/layers/tag"
)

func TestText_examples(t *testing.T) {
	for want, given := range map[string]tag.Tag{
		"PANECORE:1/KETTLE/FRONT/40":                  {Tank: "kettle", Station: "front", SizeMM: 40},
		"PANECORE:1/T-1.B/LEFT%20PANE/39.5":           {Tank: "t-1.b", Station: "left pane", SizeMM: 39.5},
		"PANECORE:1/%4BETTLE/A%2FB%3B/25":             {Tank: "Kettle", Station: "a/b;", SizeMM: 25},
		"PANECORE:1/%C3%BCFER/%E6%B0%B4%E6%A7%BD/100": {Tank: "üfer", Station: "水槽", SizeMM: 100},
	} {
		if got := given.Text(); got != want {
			t.Errorf("found %q, want %q", got, want)
		}
	}
}

func TestParse_refuses(t *testing.T) {
	for _, text := range []string{
		"", "PANECORE:1/KETTLE/FRONT", "PANECORE:2/KETTLE/FRONT/40", "panecore:1/kettle/front/40", "PANECORE:1/kettle/FRONT/40",
		"PANECORE:1//FRONT/40", "PANECORE:1/KETTLE/FRONT/40/1", "PANECORE:1/KETTLE/FRONT/040", "PANECORE:1/KETTLE/FRONT/40.05",
		"PANECORE:1/KETTLE/FRONT/NaN", "PANECORE:1/KETTLE/FRONT/5", "PANECORE:1/KETTLE/FRONT/400", "PANECORE:1/%41%4/F/40",
		"PANECORE:1/%61/FRONT/40", "PANECORE:1/%FF/FRONT/40", "PANECORE:1/%20A/FRONT/40", "HTTPS://EXAMPLE.ORG/A/B/40",
	} {
		if got, err := tag.Parse(text); err == nil || !strings.Contains(err.Error(), "found ") || strings.ContainsAny(err.Error(), "\n\r") {
			t.Errorf("%q: found %v, %v, want it refused in one line", text, got, err)
		}
	}
}

func anyTag() *rapid.Generator[tag.Tag] {
	name := rapid.String().Filter(func(s string) bool { _, err := layers.ParseName(s); return err == nil })
	return rapid.Custom(func(t *rapid.T) tag.Tag {
		return tag.Tag{
			Tank: name.Draw(t, "tank"), Station: name.Draw(t, "station"),
			SizeMM: float64(rapid.IntRange(10*tag.LeastSize, 10*tag.GreatestSize).Draw(t, "tenths")) / 10,
		}
	})
}

// What a code holds is read again by another program's decoder as the same tag.
func TestCode_readAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := anyTag().Draw(t, "tag")
		code, err := tag.NewCode(want)
		if err != nil {
			if len(want.Text()) < 150 {
				t.Fatalf("%q: found %v, want a code", want.Text(), err)
			}
			return
		}
		grid := make([][]bool, code.Side)
		for y := range grid {
			for x := range code.Side {
				grid[y] = append(grid[y], code.Black(x, y))
			}
		}
		read, err := decoder.NewDecoder().DecodeBoolMapWithoutHint(grid)
		if err != nil {
			t.Fatal(err)
		}
		got, err := tag.Parse(read.GetText())
		if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%v, %s", err, diff)
		}
	})
}

func TestParsePlace(t *testing.T) {
	if tank, station, err := tag.ParsePlace("a/b/front"); tank != "a/b" || station != "front" || err != nil {
		t.Errorf("found %q, %q, %v", tank, station, err)
	}
	for _, text := range []string{"", "kettle", "/front", "kettle/", " a/b", "a/b "} {
		if _, _, err := tag.ParsePlace(text); err == nil || !strings.HasPrefix(err.Error(), "found ") {
			t.Errorf("%q: found %v, want it refused", text, err)
		}
	}
}

// Whatever a code in a photo says is taken as a tag that writes the same text, or refused in one line.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"PANECORE:1/KETTLE/FRONT/40", "PANECORE:1/%4BETTLE/A%2FB/39.5", "PANECORE:1///", "PANECORE:1/%/%4/%GG", "PANECORE:1/A/B/1E2", "",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := tag.Parse(text)
		switch {
		case err != nil && strings.ContainsAny(err.Error(), "\n\r"):
			t.Errorf("%q: refused as %q", text, err)
		case err == nil && got.Text() != text:
			t.Errorf("%q: taken as %v, which writes %q", text, got, got.Text())
		}
	})
}
