package words

import (
	"slices"
	"strings"
	"testing"
)

func TestWrap_fits(t *testing.T) {
	fits := func(line string) bool { return len(line) <= 7 }
	got := Wrap(strings.Fields("a bed of fine gravels too"), " ", fits)
	if want := []string{"a bed", "of fine", "gravels", "too"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Wrap([]string{"overlong word", "a"}, " ", fits); !slices.Equal(got, []string{"overlong word", "a"}) {
		t.Errorf("a word that fits no line: got %q", got)
	}
	if got := Wrap(nil, " ", fits); got != nil {
		t.Errorf("no words: got %q", got)
	}
}
