package demo

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"time"

	"panecore/cmd/internal/shell"
	"panecore/layers"
	"panecore/layers/logbook"
)

// InBook calls use with a logbook of the built-in records, which is removed at the end.
func InBook(ctx context.Context, s *shell.Shell, use func(*logbook.Book) error) error {
	folder, err := os.MkdirTemp("", "panecore-demo-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	book, err := logbook.Open(ctx, filepath.Join(folder, "logbook.db"), true)
	if err != nil {
		return err
	}
	if err = Fill(ctx, book, s.Env.Now()); err == nil {
		err = use(book)
	}
	if closed := book.Close(); err == nil {
		err = closed
	}
	return err
}

// photoTank is the vessel in the demo's photo, which is not in its records.
var photoTank = layers.Tank{ID: "sack-hoist", Name: "Sack hoist", Native: []layers.Native{photoNative}}

// Fill puts the demo's records and its photo into a logbook.
func Fill(ctx context.Context, book *logbook.Book, now time.Time) error {
	tanks, err := layers.Decode(bytes.NewReader(document), farDay)
	if err != nil {
		return err
	}
	newest := layers.Date(0)
	for _, tank := range tanks {
		for _, core := range tank.Cores {
			newest = max(newest, core.Date)
		}
	}
	if layers.DateOf(now) < newest { // the demo does not depend on the clock
		if now, err = time.Parse(time.DateOnly, newest.String()); err != nil {
			return err
		}
	}
	if _, err := book.Import(ctx, now, append(tanks, photoTank), false); err != nil {
		return err
	}
	r, err := readPhoto(layers.Core{Station: "front", Date: newest}, photoTank)
	if err != nil {
		return err
	}
	kept, err := r.Kept()
	if err != nil {
		return err
	}
	_, err = book.FileCore(ctx, now, photoTank.ID, r.Core, kept, r.Content, false)
	return err
}
