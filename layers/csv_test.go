package layers

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWriteCSV(t *testing.T) {
	tank := contractTank()
	tank.ID = `the "kettle", left`
	tank.Cores[0].Layers[0].ThicknessMM = 0.1
	tank.Cores[0].Layers[1].ThicknessMM = 0.2
	tank.Cores[0].Layers = append(tank.Cores[0].Layers, Layer{ThicknessMM: 30, Note: "ragged\nedge"})
	var table bytes.Buffer
	if err := WriteCSV(&table, []Tank{tank, {ID: "bare"}}); err != nil {
		t.Fatal(err)
	}
	const want = "tank,station,date,layer,top_mm,thickness_mm,hex,band,note\r\n" +
		"\"the \"\"kettle\"\", left\",front,2026-11-01,1,0,0.1,#8b5e3c,,\r\n" +
		"\"the \"\"kettle\"\", left\",front,2026-11-01,2,0.1,0.2,#b4552a,rust,\r\n" +
		"\"the \"\"kettle\"\", left\",front,2026-11-01,3,0.3,30,#000000,,\"ragged\r\nedge\"\r\n"
	if table.String() != want {
		t.Errorf("got\n%s\nwant\n%s", &table, want)
	}
}

func TestWriteCSV_writerFails(t *testing.T) {
	if err := WriteCSV(full{}, []Tank{contractTank()}); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("got %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// The columns of a layer, cut out of the table of a whole logbook, are a table that
// ReadSheet takes.
func TestWriteCSV_asSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		core := rapid.Custom(anyCore).Draw(t, "core")
		for i := range core.Layers {
			core.Layers[i].Note = strings.TrimSpace(core.Layers[i].Note)
			core.Layers[i].Edge = nil // a table has no place for it
		}
		var table, cut bytes.Buffer
		if err := WriteCSV(&table, []Tank{{ID: "kettle", Cores: []Core{core}}}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&table).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for i, cell := range row[5:] {
				fmt.Fprint(&cut, []string{"", ";", ";", ";"}[i], `"`, strings.ReplaceAll(cell, `"`, `""`), `"`)
			}
			cut.WriteByte('\n')
		}
		if got, err := ReadSheet(&cut, swatches); err != nil || !reflect.DeepEqual(got, core.Layers) {
			t.Fatalf("got %+v, %v, want %+v", got, err, core.Layers)
		}
	})
}
