package table

import (
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
)

// Whatever a keeper typed is printed as text, fits the line, and stays within the
// signs that the terminal has.
func TestWriteRecords_hostileText(t *testing.T) {
	const hostile = "a\x1b[31m\u202ered\nline – and a note that is much longer than any line of a terminal has room for"
	quarter := 0.25
	for name, write := range map[string]func(w io.Writer, o Options) error{
		"tanks": func(w io.Writer, o Options) error {
			return WriteTanks(w, []TankEntry{{ID: "kettle", Name: hostile, Cores: 12, Newest: layers.FirstDate, Retired: true}}, o)
		},
		"tank": func(w io.Writer, o Options) error {
			return WriteTank(w, layers.Tank{ID: hostile, Native: []layers.Native{{Name: hostile, Kind: layers.Sand}}}, true, o)
		},
		"events": func(w io.Writer, o Options) error {
			return WriteEvents(w, []layers.Event{{Date: layers.FirstDate, Kind: layers.EventTopUpSubstrate, Share: &quarter, Note: hostile}}, o)
		},
		"own bands": func(w io.Writer, o Options) error {
			return WriteOwnBands(w, []OwnPrototype{{Tank: hostile, Name: "mulm1", Band: palette.MulmLight, Spread: 5}}, o)
		},
		"lessons": func(w io.Writer, o Options) error {
			return WriteLessons(w, reports.Lessons{
				Colors: []reports.LearnedColor{{Band: palette.MulmLight, Station: hostile, Date: layers.FirstDate}},
				Lights: []reports.LearnedLight{{Station: hostile, Photos: 2}},
			}, o)
		},
	} {
		for _, width := range []int{40, 60, 80, 100} {
			var page strings.Builder
			if err := write(&page, Options{Width: width, ASCII: true}); err != nil {
				t.Fatal(err)
			}
			if strings.ContainsFunc(page.String(), func(r rune) bool { return r != '\n' && (r < ' ' || r > '~') }) {
				t.Errorf("%s at %d columns: found other signs than ASCII in %q", name, width, page.String())
			}
			if !strings.Contains(page.String(), "red") {
				t.Errorf("%s at %d columns: lacks the text:\n%s", name, width, page.String())
			}
			for line := range strings.Lines(page.String()) {
				if ansi.StringWidth(strings.TrimSuffix(line, "\n")) > width {
					t.Errorf("%s at %d columns: %q is wider", name, width, line)
				}
			}
		}
	}
}

// Nothing written down is said, not left blank.
func TestWriteRecords_none(t *testing.T) {
	var page strings.Builder
	o := Options{Width: 60}
	for _, err := range []error{WriteTanks(&page, nil, o), WriteWater(&page, nil, o), WriteEvents(&page, nil, o), WriteOwnBands(&page, nil, o)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if want := "no tanks in this logbook\nno water tests of this tank\nno events of this tank\n"; page.String() != want {
		t.Errorf("got %q, want %q", page.String(), want)
	}
}
