package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"time"

	"panecore/layers"
	"panecore/layers/logbook"
)

// inDemoBook has a logbook of the built-in records used, which is removed at the end.
func (s *shell) inDemoBook(ctx context.Context, use func(*logbook.Book) error) error {
	folder, err := os.MkdirTemp("", "panecore-demo-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	book, err := logbook.Open(ctx, filepath.Join(folder, "logbook.db"), true)
	if err != nil {
		return err
	}
	if err = fillDemoBook(ctx, book, s.env.Now()); err == nil {
		err = use(book)
	}
	if closed := book.Close(); err == nil {
		err = closed
	}
	return err
}

// demoPhotoTank is the vessel of the demo's photo, which its records don't have.
var demoPhotoTank = layers.Tank{ID: "sack-hoist", Name: "Sack hoist", Native: []layers.Native{photoNative}}

// fillDemoBook puts the demo's records and its photo into a logbook.
func fillDemoBook(ctx context.Context, book *logbook.Book, now time.Time) error {
	tanks, err := layers.Decode(bytes.NewReader(demoLogbook), demoToday)
	if err != nil {
		return err
	}
	newest := layers.Date(0)
	for _, tank := range tanks {
		for _, core := range tank.Cores {
			newest = max(newest, core.Date)
		}
	}
	if layers.DateOf(now) < newest { // the demo heeds no clock
		if now, err = time.Parse(time.DateOnly, newest.String()); err != nil {
			return err
		}
	}
	if _, err := book.Import(ctx, now, append(tanks, demoPhotoTank), false); err != nil {
		return err
	}
	r, err := readDemoPhoto(layers.Core{Station: "front", Date: newest}, demoPhotoTank)
	if err != nil {
		return err
	}
	kept, err := r.kept()
	if err != nil {
		return err
	}
	_, err = book.FileCore(ctx, now, demoPhotoTank.ID, r.core, kept, r.content, false)
	return err
}
