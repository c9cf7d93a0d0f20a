package qr

import (
	"fmt"
	"strings"
	"testing"
)

const address = "http://192.168.100.100:65535/?key=ABCDEFGHIJKLMNOPQRSTUVWXYZ"

func encoded(t *testing.T, text string) Code {
	t.Helper()
	c, err := Encode(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Three corners bear the squares by which a reader finds the code, the fourth none (ISO/IEC 18004,
// 5.3.2), and the size is one of a version's (5.3.1.1).
func TestEncode_findable(t *testing.T) {
	c := encoded(t, address)
	if (c.Size()-17)%4 != 0 || c.Side() != c.Size()+8 {
		t.Fatalf("size %d, with its margin %d", c.Size(), c.Side())
	}
	finder := func(left, top int) bool {
		for y := range 7 {
			for x := range 7 {
				ring := max(max(x-3, 3-x), max(y-3, 3-y)) // from the middle
				if c.Dark(left+x, top+y) != (ring != 2) {
					return false
				}
			}
		}
		return true
	}
	far := c.Size() - 7
	if !finder(0, 0) || !finder(far, 0) || !finder(0, far) || finder(far, far) {
		t.Error("the corners are not those of a code")
	}
}

// What page and terminal show are the modules, in a margin that is light.
func TestCode_drawnAsItIs(t *testing.T) {
	c := encoded(t, address)
	drawn := make([][]bool, c.Side()) // dark
	for y := range drawn {
		drawn[y] = make([]bool, c.Side())
	}
	for part := range strings.SplitSeq(strings.TrimSuffix(c.Path(), "z"), "z") {
		var x, y, width, back int
		if _, err := fmt.Sscanf(part, "M%d %dh%dv1h-%d", &x, &y, &width, &back); err != nil || back != width {
			t.Fatalf("%q: %v", part, err)
		}
		for i := range width {
			drawn[y][x+i] = true
		}
	}
	lines := strings.Split(strings.TrimSuffix(c.Blocks(), "\n"), "\n")
	if len(lines) != (c.Side()+1)/2 || c.Side() > 80 {
		t.Fatalf("%d lines of %d columns", len(lines), c.Side())
	}
	light := map[rune][2]bool{'█': {true, true}, '▀': {true, false}, '▄': {false, true}, ' ': {}}
	for y := range c.Side() {
		line := []rune(strings.TrimSuffix(strings.TrimPrefix(lines[y/2], whiteOnBlack), asBefore))
		if len(line) != c.Side() {
			t.Fatalf("line %d has %d columns", y/2, len(line))
		}
		for x := range c.Side() {
			want := c.Dark(x-Quiet, y-Quiet)
			if drawn[y][x] != want || light[line[x]][y%2] == want {
				t.Errorf("module %d, %d is dark: %v, on the page %v, block %c", x, y, want, drawn[y][x], line[x])
			}
		}
	}
}

func TestEncode_bounds(t *testing.T) {
	encoded(t, "")
	encoded(t, strings.Repeat("x", 2331))
	if _, err := Encode(strings.Repeat("x", 2332)); err == nil || err.Error() != "found 2332 bytes for a QR code, want 2331 or fewer" {
		t.Error(err)
	}
}
