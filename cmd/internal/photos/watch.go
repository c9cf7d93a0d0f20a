package photos

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"panecore/cmd/internal/shell"
	"panecore/layers/logbook"
	"panecore/reports"
)

// watchPause is between two looks at a folder. A file that did not change from one to the next is taken for whole
// (assumption: a copy that pauses longer is one that failed).
const watchPause = time.Second

// pictureEndings are those of files that are taken for photos.
var pictureEndings = []string{".jpg", ".jpeg", ".heic", ".heif", ".png", ".webp", ".tif", ".tiff"}

// runPhotoWatch files the photos of a folder and those that arrive, until it is interrupted.
func runPhotoWatch(cmd *cobra.Command, s *shell.Shell, o photoOptions, folder string) error {
	if err := mayFileMany(cmd, s, o, nil); err != nil {
		return err
	}
	w := watch{folder: folder, seen: map[string]stamp{}, done: map[string]stamp{}}
	if _, err := w.whole(); err != nil {
		return shell.BadInput(folder, fmt.Errorf("found no folder that can be read, want one: %w", err))
	}
	ctx, stop := s.Env.Interrupted(cmd.Context())
	defer stop()
	return s.InBook(cmd.Context(), false, func(book *logbook.Book) error {
		f, err := newFiler(cmd, s, book, o)
		if err != nil {
			return err
		}
		s.Note("watching " + folder + "; Ctrl-C ends it")
		list, err := f.watch(ctx, w)
		if err != nil {
			return err
		}
		return f.sum(list)
	})
}

// watch files photos as they arrive until ctx ends. A photo that was changed is read again.
func (f *filer) watch(ctx context.Context, w watch) (list []reports.FiledPhoto, err error) {
	ticks := time.NewTicker(watchPause)
	defer ticks.Stop()
	for {
		select {
		case <-ctx.Done():
			return list, nil
		case <-ticks.C:
		}
		names, err := w.whole()
		if err != nil {
			return list, shell.BadInput(w.folder, err)
		}
		filed, err := f.fileAll(ctx, names)
		if err != nil && ctx.Err() == nil {
			return list, err
		}
		for _, p := range filed {
			list = slices.DeleteFunc(list, func(former reports.FiledPhoto) bool { return former.File == p.File })
			list = append(list, p)
		}
	}
}

// stamp tells whether a file changed.
type stamp struct {
	size int64
	at   time.Time
}

// watch is a folder being watched.
type watch struct {
	folder string
	seen   map[string]stamp // at the last look
	done   map[string]stamp // when they were given out
}

// whole are the photos that did not change since the last look and were not given out, in the order of their names.
func (w watch) whole() (names []string, err error) {
	entries, err := os.ReadDir(w.folder)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		name := filepath.Join(w.folder, e.Name())
		if !slices.Contains(pictureEndings, strings.ToLower(filepath.Ext(name))) || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		info, err := os.Stat(name)
		if errors.Is(err, os.ErrNotExist) || err == nil && !info.Mode().IsRegular() {
			continue
		}
		if err != nil {
			return nil, err
		}
		now := stamp{info.Size(), info.ModTime()}
		if w.seen[name] == now && w.done[name] != now {
			w.done[name] = now
			names = append(names, name)
		}
		w.seen[name] = now
	}
	return names, nil
}
