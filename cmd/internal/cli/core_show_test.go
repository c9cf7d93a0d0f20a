package cli_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"panecore/cmd/internal/programtest"
)

// One core drawn by itself says what the report of its tank says of it.
func TestRunCoreShow_asReported(t *testing.T) {
	environ := askedBook(t)
	show, report := programtest.NewWorld(environ), programtest.NewWorld(environ)
	if show.Run("core", "show", "kettle", "--json") != 0 || report.Run("report", "kettle", "--json") != 0 {
		t.Fatal(&show.Told, &report.Told)
	}
	var core any
	var findings struct{ Tanks []struct{ Cores []any } }
	if err := json.Unmarshal(show.Printed.Bytes(), &core); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(report.Printed.Bytes(), &findings); err != nil {
		t.Fatal(err)
	}
	if want := findings.Tanks[0].Cores[0]; !reflect.DeepEqual(core, want) {
		t.Errorf("shown %v\nreported %v", core, want)
	}
}
