package cli_test

import (
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/programtest"
)

// What is no text in UTF-8 is the keeper's slip, and makes no logbook.
func TestTankAdd_notUTF8(t *testing.T) {
	book := filepath.Join(t.TempDir(), "log.db")
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": book})
	if code := w.Run("tank", "add", "bad\xff"); code != 2 || !strings.HasPrefix(w.Told.String(), "panecore: id: found bytes that are no UTF-8 text, want 1 to 80 characters, ") {
		t.Errorf("exit code %d, %q", code, w.Told.String())
	}
	if made, _ := filepath.Glob(book + "*"); made != nil {
		t.Errorf("made %q", made)
	}
}
