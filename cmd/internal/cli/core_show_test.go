package cli_test

import (
	"encoding/json"
	"reflect"
	"testing"
)

// One core drawn by itself says what the report of its tank says of it.
func TestRunCoreShow_asReported(t *testing.T) {
	environ := askedBook(t)
	show, report := newWorld(environ), newWorld(environ)
	if show.run("core", "show", "kettle", "--json") != 0 || report.run("report", "kettle", "--json") != 0 {
		t.Fatal(&show.stderr, &report.stderr)
	}
	var core any
	var findings struct{ Tanks []struct{ Cores []any } }
	if err := json.Unmarshal(show.stdout.Bytes(), &core); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(report.stdout.Bytes(), &findings); err != nil {
		t.Fatal(err)
	}
	if want := findings.Tanks[0].Cores[0]; !reflect.DeepEqual(core, want) {
		t.Errorf("shown %v\nreported %v", core, want)
	}
}
