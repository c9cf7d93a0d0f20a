package cli_test

import (
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
)

// A swatch's colour, typed into a core, is told to mean what the swatch was.
func TestRunSwatch_asTyped(t *testing.T) {
	k := newKeeper(t)
	k.run(0, "tank", "add", "hall", "--native", "#d5c8a5,sand")
	for _, at := range []string{"700,540,300,60", "700,400,300,60", "700,650,300,60"} { // rust, sand, black
		k.run(0, "swatch", filepath.Join(programtest.Photos, "sand.jpg"), "--tank", "hall", "--at", at, "--neutral", "1359,651,154,95,L=66")
		told, _, _ := strings.Cut(k.stdout, "  L*")
		hex, _, found := strings.Cut(strings.TrimSpace(told), " by itself may mean ")
		if !found {
			t.Fatalf("told %q", k.stdout)
		}
		k.answer = "front\n2026-05-01\n12mm " + hex + "\n"
		k.run(2, "core", "add", "hall") // the answers end before the core does
		if !strings.Contains(k.stderr, told) {
			t.Errorf("swatch: %q\ncore: %q", told, k.stderr)
		}
	}
}
