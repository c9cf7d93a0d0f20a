package shell

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// Who may not read a file may not read what takes its place.
func TestWriteFile_keepsTheMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no modes there")
	}
	path := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(path, []byte("former"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(path, true, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the mode is %v, %v", info.Mode(), err)
	}
}

// What can't be written is told by the name that it was to have.
func TestWriteFile_tellsTheName(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "closed")
	if err := os.Mkdir(folder, 0o500); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "report.html")
	err := WriteFile(path, false, []byte("new"))
	if err == nil {
		t.Skip("who runs this may write anywhere")
	}
	if !strings.Contains(err.Error(), path) || strings.Contains(err.Error(), ".panecore-") {
		t.Errorf("told %q", err)
	}
}
