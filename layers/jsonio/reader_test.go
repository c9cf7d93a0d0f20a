package jsonio

import (
	"errors"
	"strings"
	"testing"
)

// anyNumber is a range without ends.
type anyNumber struct{}

func (anyNumber) Holds(float64) bool { return true }

func (anyNumber) String() string { return "a number" }

// FuzzReader reads what it can of any text; every fault is one line with what is wanted.
func FuzzReader(f *testing.F) {
	for _, seed := range []string{`{"a": [1, -0.5e1], "b": "\u00e4", "c": true}`, `{"a": [`, `{"a": "x", "a": []}`, "\ufeff{}", `[`, `{"aa": {}} 1`} {
		f.Add(seed)
	}
	fields := Fields{Required: 1, Names: []string{"a", "b", "c"}}
	f.Fuzz(func(t *testing.T, text string) {
		r := NewReader(strings.NewReader(text), "an object", func(steps []string) (names, rest []string) { return nil, steps })
		for o := r.Object(&fields); r.Next(&o); {
			switch o.At {
			case 0:
				if r.List() {
					for r.More() {
						r.Number(anyNumber{})
					}
				}
			case 1:
				Choose(r, []string{"x", "y"})
			case 2:
				r.Flag()
			}
		}
		r.End()
		var faults Faults
		if err := r.Err(); err != nil && !errors.As(err, &faults) {
			t.Fatalf("found %v, want faults", err)
		}
		for _, fault := range faults {
			if strings.ContainsAny(fault.Error(), "\n\r") || fault.Want == "" && !strings.HasPrefix(fault.Found, "further") {
				t.Errorf("found %q, want one line that says what is wanted", fault.Error())
			}
		}
	})
}
