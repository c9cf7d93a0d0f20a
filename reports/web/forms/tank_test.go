package forms

import "testing"

func TestHandle_ofNames(t *testing.T) {
	for name, want := range map[string]string{"Mill race": "mill-race", " Löschteich № 2! ": "löschteich-2", "..": "", "a/b": "a-b"} {
		if got := handle(name); got != want {
			t.Errorf("%q: found %q, want %q", name, got, want)
		}
	}
}
