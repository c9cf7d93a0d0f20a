package table

import (
	"strings"
	"testing"

	"panecore/reports"
	"panecore/reports/judge"
)

func TestWriteAmmonia_golden(t *testing.T) {
	over, err := judge.ReadAmmonia(1, 8, 25)
	if err != nil {
		t.Fatal(err)
	}
	under, err := judge.ReadAmmonia(0.25, 6.5, 22.5)
	if err != nil {
		t.Fatal(err)
	}
	for name, test := range map[string]struct {
		ammonia reports.Ammonia
		options Options
	}{
		"ammonia_over_80.txt":        {over, Options{Width: 80}},
		"ammonia_under_60_ascii.txt": {under, Options{Width: 60, ASCII: true}},
	} {
		var b strings.Builder
		if err := WriteAmmonia(&b, test.ammonia, test.options); err != nil {
			t.Fatal(err)
		}
		golden(t, name, b.String())
	}
}
