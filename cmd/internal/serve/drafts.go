package serve

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"panecore/cmd/internal/shell"
	"panecore/reports/web/reader"
)

// The endings of a draft's files: its photo, and what is marked on it.
const (
	draftPhoto = ".photo"
	draftState = ".json"
)

// mostDraftFile is the size of the largest file that is read, bytes (assumption: larger than any
// photo that the page takes).
const mostDraftFile = 128 << 20

// draftFolder is a folder beside the logbook that keeps the photos which were not saved yet.
type draftFolder struct {
	path string
	note func(string)
}

// All reads what is kept, and removes what a program that was stopped has left half done.
func (f draftFolder) All() (list []reader.KeptDraft) {
	entries, err := os.ReadDir(f.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		f.note(err.Error())
	}
	used := map[string]time.Time{}
	for _, entry := range entries {
		id, isPhoto := strings.CutSuffix(entry.Name(), draftPhoto)
		state := strings.TrimSuffix(entry.Name(), draftState)
		switch {
		case strings.HasPrefix(entry.Name(), "."), !isPhoto && !shell.IsThere(f.file(state, draftPhoto)):
			os.Remove(filepath.Join(f.path, entry.Name()))
		case isPhoto:
			photo, err := f.read(id, draftPhoto)
			if err != nil {
				f.Spoilt(id, err)
				continue
			}
			marked, err := f.read(id, draftState)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				f.Spoilt(id, err)
			}
			list = append(list, reader.KeptDraft{ID: id, Content: photo, State: marked})
			used[id] = f.used(id)
		}
	}
	slices.SortStableFunc(list, func(a, b reader.KeptDraft) int {
		return cmp.Or(used[a.ID].Compare(used[b.ID]), strings.Compare(a.ID, b.ID))
	})
	return list
}

// used is when a draft was last sent or marked.
func (f draftFolder) used(id string) (last time.Time) {
	for _, ending := range []string{draftPhoto, draftState} {
		if info, err := os.Stat(f.file(id, ending)); err == nil && info.ModTime().After(last) {
			last = info.ModTime()
		}
	}
	return last
}

func (f draftFolder) read(id, ending string) ([]byte, error) {
	info, err := os.Stat(f.file(id, ending))
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > mostDraftFile:
		return nil, errors.New("found something other than a file of panecore's")
	}
	return os.ReadFile(f.file(id, ending))
}

func (f draftFolder) KeepPhoto(id string, content []byte) { f.keep(id, draftPhoto, content) }
func (f draftFolder) KeepState(id string, state []byte)   { f.keep(id, draftState, state) }

func (f draftFolder) keep(id, ending string, content []byte) {
	if err := shell.WritePrivate(f.file(id, ending), content); err != nil {
		f.Spoilt(id, err)
	}
}

// Drop removes a draft, its photo last: what is left of one that is stopped in between is a draft
// still.
func (f draftFolder) Drop(id string) {
	for _, ending := range []string{draftState, draftPhoto} {
		if err := os.Remove(f.file(id, ending)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			f.Spoilt(id, err)
		}
	}
}

// Spoilt tells that a draft could not be kept, read or removed.
func (f draftFolder) Spoilt(id string, why error) {
	f.note("unsaved photo " + f.file(id, draftPhoto) + ": " + why.Error())
}

func (f draftFolder) file(id, ending string) string { return filepath.Join(f.path, id+ending) }
