package serve

import (
	"archive/zip"
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"panecore/layers/logbook"
)

// zipDay is the time of every file in a ZIP, the earliest possible (PKWARE APPNOTE.TXT 4.4.6), so
// that the same logbook gives the same bytes.
var zipDay = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

// zipBackup writes a checked copy of the logbook and its photos as a ZIP, with a note on photos
// that could not be copied. Nothing is written until the copy is complete.
func zipBackup(ctx context.Context, book *logbook.Book, w io.Writer) error {
	folder, err := os.MkdirTemp("", "panecore-backup-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	copied, err := book.Backup(ctx, filepath.Join(folder, "logbook.db"))
	if err != nil {
		return err
	}
	if copied.Lost > 0 {
		lost := fmt.Sprintf("Photos that are missing or changed are not in this copy: %d. 'panecore check' shows which.\n", copied.Lost)
		if err := os.WriteFile(filepath.Join(folder, "photos-missing.txt"), []byte(lost), 0o600); err != nil {
			return err
		}
	}
	packed := zip.NewWriter(w)
	err = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error { // in the order of names
		if err == nil {
			err = ctx.Err()
		}
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(folder, path)
		if err != nil {
			return err
		}
		return packFile(packed, filepath.ToSlash(name), path)
	})
	if err != nil {
		return err
	}
	return packed.Close()
}

// packFile adds a file. Photos are already compressed.
func packFile(packed *zip.Writer, name, path string) error {
	method := zip.Store
	if filepath.Ext(name) == ".db" {
		method = zip.Deflate
	}
	to, err := packed.CreateHeader(&zip.FileHeader{Name: name, Method: method, Modified: zipDay})
	if err != nil {
		return err
	}
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = io.Copy(to, file)
	return err
}
