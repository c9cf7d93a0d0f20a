package cli_test

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
	"panecore/layers"
)

// takenBy says by what else than a flag of its own a command takes a field: an argument, or flags
// that take more than one text.
var takenBy = map[string]map[string]string{
	"tank add": {
		"id": "TANK", "vessel": "--box", "native": "--native", "limits": "--limit",
		"cores": "", "water": "", "events": "", // commands of their own
	},
	"core add": {
		"station": "--station", "date": "--date", "lit": "--lit", "signs": "--sign", "note": "--note", "sure": "--sure", "layers": "LAYER...",
		"photo": "", // what a photo leaves in doubt is not typed: the command photo files it
	},
	"water add": {},
	"event add": {"kind": "KIND"},
}

func checkTaken[R any](k *keeper, command string, fields []layers.Field[R]) {
	k.Helper()
	k.run(0, append(strings.Fields(command), "--help")...)
	taken := takenBy[command]
	for _, f := range fields {
		by, told := taken[f.Name]
		switch {
		case !told && f.Flag == "":
			k.Errorf("%s: field %s has no flag, and nothing says how else it is taken", command, f.Name)
		case told && f.Flag != "":
			k.Errorf("%s: field %s has the flag --%s, want no exception for it", command, f.Name, f.Flag)
		case !told:
			by = "--" + f.Flag
		}
		if !strings.Contains(k.stdout, by) {
			k.Errorf("%s --help does not tell %s, which takes field %s", command, by, f.Name)
		}
	}
}

func TestFields_haveFlags(t *testing.T) {
	k := newKeeper(t)
	checkTaken(k, "tank add", layers.TankFields())
	checkTaken(k, "core add", layers.CoreFields())
	checkTaken(k, "water add", layers.WaterFields())
	checkTaken(k, "event add", layers.EventFields())
}

// typed fills the fields that have flags with values that differ from nothing, and says how they
// are typed.
func typed[R any](t *testing.T, r *R, fields []layers.Field[R]) (flags []string) {
	for _, f := range fields {
		if f.Flag == "" {
			continue
		}
		for _, text := range slices.Concat(f.Choices, []string{"7,5", "25%", "20,5C", "20mm", "2026-10-05", "07:30"}) {
			if f.Input == layers.InputClock && !strings.Contains(text, ":") || f.Parse(r, text) != nil {
				continue
			}
			flags = append(flags, "--"+f.Flag, text)
			break
		}
		if !f.Given(r) {
			t.Errorf("found no text that field %s takes", f.Name)
		}
	}
	return flags
}

// shows reports every field that an output does not show.
func shows[R any](t *testing.T, output, where string, r *R, fields []layers.Field[R]) {
	for _, f := range fields {
		if f.Flag == "" {
			continue
		}
		if text := f.Text(r, layers.MM); !strings.Contains(output, text) {
			t.Errorf("%s shows no %s, want %q in\n%s", where, f.Name, text, output)
		}
	}
}

// Every field is typed, stored, shown, exported and imported.
func TestFields_typedToShown(t *testing.T) {
	k := newKeeper(t)
	tank := layers.Tank{ID: "kettle"}
	k.run(0, append([]string{"tank", "add", "kettle"}, typed(t, &tank, layers.TankFields())...)...)
	var test layers.WaterTest
	k.run(0, append([]string{"water", "add", "kettle"}, typed(t, &test, layers.WaterFields())...)...)
	event := layers.Event{Kind: layers.EventSiphon}
	k.run(0, append([]string{"event", "add", "kettle", "siphon"}, typed(t, &event, layers.EventFields())...)...)

	k.run(0, "tank", "show", "kettle")
	shows(t, k.stdout, "tank show", &tank, layers.TankFields())
	k.run(0, "water", "list", "kettle")
	shows(t, k.stdout, "water list", &test, layers.WaterFields())
	k.run(0, "event", "list", "kettle")
	shows(t, k.stdout, "event list", &event, layers.EventFields())
	k.run(0, "report", "kettle", "--format", "html")
	_, report, _ := strings.Cut(k.stdout, `id="water"`)
	shows(t, report, "the report page", &test, layers.WaterFields())
	shows(t, strings.ReplaceAll(report, "&nbsp;", " "), "the report page", &event, layers.EventFields())

	k.run(0, "export")
	document := k.stdout
	tank.Water, tank.Events = []layers.WaterTest{test}, []layers.Event{event}
	exported, err := layers.Decode(strings.NewReader(document), layers.DateOf(programtest.NewWorld(nil).Now()))
	if err != nil || !reflect.DeepEqual(exported, []layers.Tank{tank}) {
		t.Errorf("exported %+v, %v, want %+v", exported, err, tank)
	}
	file := filepath.Join(t.TempDir(), "exported.json")
	if err := os.WriteFile(file, []byte(document), 0o600); err != nil {
		t.Fatal(err)
	}
	other := newKeeper(t)
	other.run(0, "import", file)
	other.run(0, "export")
	if other.stdout != document {
		t.Errorf("imported\n%s\nwant\n%s", other.stdout, document)
	}
}
