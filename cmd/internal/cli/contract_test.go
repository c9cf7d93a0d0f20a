package cli_test

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"panecore/cmd/internal/programtest"
)

// TestInterpret_contract: the example of the project's contract, testdata/contract.json,
// gives findings with every field of the contract's example of findings. Where an
// estimate can't be made from it, null stands for all its fields, and a notice says why.
func TestInterpret_contract(t *testing.T) {
	w := programtest.NewWorld(nil)
	if code := w.Run("interpret", "--json", "../../../testdata/contract.json"); code != 0 {
		t.Fatal(code, w.Told.String())
	}
	var got, want any
	example, err := os.ReadFile("../../../testdata/contract_findings.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []struct {
		json []byte
		into *any
	}{{w.Printed.Bytes(), &got}, {example, &want}} {
		if err := json.Unmarshal(text.json, text.into); err != nil {
			t.Fatal(err)
		}
	}
	hasFields(t, "findings", got, want)
}

// hasFields fails where got lacks a field of want; lists are compared by their first
// entry, and an empty list or a null stands for any.
func hasFields(t *testing.T, at string, got, want any) {
	t.Helper()
	switch want := want.(type) {
	case map[string]any:
		if got == nil {
			return
		}
		object, ok := got.(map[string]any)
		if !ok {
			t.Errorf("%s is %v, want an object", at, got)
			return
		}
		for name, value := range want {
			if _, ok := object[name]; !ok {
				t.Errorf("%s lacks %q", at, name)
				continue
			}
			hasFields(t, at+"."+name, object[name], value)
		}
	case []any:
		list, ok := got.([]any)
		if !ok {
			t.Errorf("%s is %v, want a list", at, got)
		} else if len(list) > 0 {
			hasFields(t, at+"[0]", list[0], want[0])
		}
	default:
		if got != nil && want != nil && fmt.Sprintf("%T", got) != fmt.Sprintf("%T", want) {
			t.Errorf("%s is a %T, want a %T", at, got, want)
		}
	}
}
