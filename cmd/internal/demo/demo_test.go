package demo

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/layers"
)

func TestDemoLogbook_canonical(t *testing.T) {
	var written bytes.Buffer
	if err := layers.Encode(&written, demoTanks(t)); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(document), written.String()); diff != "" {
		t.Errorf("the demo's logbook is not as Encode writes it (-file +written):\n%s", diff)
	}
}

// The help promises five vessels, read at two stations a month over two years.
func TestDemoLogbook_asPromised(t *testing.T) {
	tanks := demoTanks(t)
	if len(tanks) != 5 {
		t.Errorf("found %d vessels, want 5", len(tanks))
	}
	for _, tank := range tanks {
		stations := map[string][]layers.Date{}
		for _, core := range tank.Cores {
			stations[core.Station] = append(stations[core.Station], core.Date)
		}
		if len(stations) != 2 {
			t.Errorf("%s: found %d stations, want 2", tank.ID, len(stations))
		}
		for station, dates := range stations {
			if months := dates[0].Months(dates[len(dates)-1]); months < 24 || float64(len(dates)) < months {
				t.Errorf("%s, %s: %d readings in %.1f months, want one a month over 24 or more", tank.ID, station, len(dates), months)
			}
		}
	}
}

func demoTanks(t *testing.T) []layers.Tank {
	t.Helper()
	tanks, err := layers.Decode(bytes.NewReader(document), farDay)
	if err != nil {
		t.Fatal(err)
	}
	return tanks
}
