package jsonio

import "testing"

func TestPosition_after(t *testing.T) {
	whole := []byte("ab\nç\n\nxyz")
	for cut := range whole {
		got := position{}.after(whole[:cut]).after(whole[cut:])
		if want := (position{line: 3, column: 3}); got != want {
			t.Errorf("cut at %d: got %v, want %v", cut, got, want)
		}
	}
}
