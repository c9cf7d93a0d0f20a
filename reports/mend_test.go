package reports_test

import (
	"strings"
	"testing"

	"panecore/reports"
)

// An argument stands as it is where a shell takes every letter for itself, and in single quotes where it
// does not: a quote mark of its own closes them, stands escaped and opens them again.
func TestQuoted(t *testing.T) {
	const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./"
	for letter := ' '; letter < 0x7f; letter++ {
		argument := "x" + string(letter)
		want := "'" + argument + "'"
		switch {
		case strings.ContainsRune(plain, letter):
			want = argument
		case letter == '\'':
			want = `'x'\'''`
		}
		if got := reports.Quoted(argument); got != want {
			t.Errorf("%s is quoted as %s, want %s", argument, got, want)
		}
	}
	for argument, want := range map[string]string{"-rf": "'-rf'", "a-b": "a-b", "größe": "'größe'", "a b": "'a b'", "it's": `'it'\''s'`} {
		if got := reports.Quoted(argument); got != want {
			t.Errorf("%s is quoted as %s, want %s", argument, got, want)
		}
	}
}
