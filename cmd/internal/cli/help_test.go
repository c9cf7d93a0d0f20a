package cli_test

import (
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
)

// Help is read on every terminal: 80 columns, ASCII.
func TestHelp_fitsAnyTerminal(t *testing.T) {
	for _, words := range []string{
		"", "demo", "interpret", "bands", "bands list", "ammonia", "completion", "help", "logbook", "exit-codes", "photo", "swatch", "photos", "limits", "method",
		"bands add", "bands remove", "tank", "tank add", "tank list", "tank show", "tank edit", "tank retire",
		"water", "water add", "water list", "water remove", "event", "event add", "event list", "event remove",
		"core", "core add", "core list", "core show", "core amend", "core remove",
		"undo", "import", "export", "backup", "check", "sheet", "report", "timeline", "overview", "oxygen", "rehearse",
		"serve", "device", "device list", "device add", "device revoke",
	} {
		w := programtest.NewWorld(nil)
		if code := w.Run(append([]string{"help"}, strings.Fields(words)...)...); code != 0 {
			t.Fatalf("help %s: exit code %d: %s", words, code, &w.Told)
		}
		for line := range strings.Lines(w.Printed.String()) {
			if len(line) > 80+len("\n") || strings.ContainsFunc(line, func(r rune) bool { return r > 126 }) {
				t.Errorf("help %s: %q is longer than 80 columns or not ASCII", words, line)
			}
		}
	}
}
