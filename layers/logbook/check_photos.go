package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// unkept remarks the standing cores that were read from a photo kept elsewhere.
func (r *reader) unkept() (remarks []Problem, err error) {
	const query = `
		SELECT tank, date, station FROM cores
		WHERE until IS NULL AND photo ->> 'sha256' IS NOT NULL AND NOT EXISTS (
			SELECT 1 FROM photos p WHERE p.tank = cores.tank AND p.date = cores.date AND p.station = cores.station AND p.until IS NULL)
		ORDER BY tank, date, station`
	places, err := list(r, scanPhotoKey, query)
	for _, where := range places {
		remarks = append(remarks, Problem{where, "nothing kept of it here", "harmless: the core stands without it; read the photo again to keep it"})
	}
	return remarks, err
}

// scanPhotoKey words the place of a photo.
func scanPhotoKey(row *sql.Rows) (where string, err error) {
	var tank, date, station string
	err = row.Scan(&tank, &date, &station)
	return photoPlace(tank, date, station), err
}

func photoPlace(tank, date, station string) string {
	return nameOf(tank) + ", " + cores.of([]any{date, station}) + ", photo"
}

// A keptPhoto is a file that belongs to a core that stands or stood.
type keptPhoto struct {
	where  string
	stands bool
	file   photoFile
	bytes  int64
}

// keptPhotos lists what the album should hold, a file once for each of its cores.
func (r *reader) keptPhotos() ([]keptPhoto, error) {
	return list(r, func(row *sql.Rows) (k keptPhoto, err error) {
		var tank, date, station string
		err = row.Scan(&tank, &date, &station, &k.file.sum, &k.file.kind, &k.bytes, &k.stands)
		k.where = photoPlace(tank, date, station)
		return k, err
	}, `SELECT tank, date, station, sha256, kind, bytes, max(until IS NULL) FROM photos
		GROUP BY tank, date, station, sha256, kind, bytes ORDER BY tank, date, station`)
}

// checkPhotos holds the album to what it should hold.
func (b *Book) checkPhotos(ctx context.Context, kept []keptPhoto, found *Checkup) error {
	folder := b.photos
	faults := map[photoFile]string{}
	for _, k := range kept {
		if err := ctx.Err(); err != nil {
			return err
		}
		fault, known := faults[k.file]
		if !known {
			fault = folder.faultOf(k.file, k.bytes)
			faults[k.file] = fault
		}
		switch {
		case fault == "":
		case k.stands:
			found.Problems = append(found.Problems, Problem{k.where, fault, mendPhoto})
		default:
			found.Remarks = append(found.Remarks, Problem{k.where, fault, "harmless: no core that stands was read from it"})
		}
	}
	strays, err := b.strays(ctx, folder)
	found.Remarks = append(found.Remarks, strays...)
	return err
}

// faultOf words what is wrong with a photo's file; "" where nothing is.
func (a album) faultOf(f photoFile, bytes int64) string {
	path := a.path(f.name())
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return "no file " + path
	}
	if err == nil && info.Size() == bytes {
		var sum string
		if sum, err = checksumOf(path); err == nil && sum == f.sum {
			return ""
		}
	}
	if err != nil {
		return fmt.Sprintf("a file that can't be read (%v)", err)
	}
	return "a changed file " + path
}

// strays remarks the files of an album that no photo is kept in, as a program leaves
// that is stopped before it is done. No other program may write meanwhile, because a
// photo is there before the logbook says so.
func (b *Book) strays(ctx context.Context, folder album) (remarks []Problem, err error) {
	if _, err := os.Stat(string(folder)); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	err = b.write(ctx, func(r *reader) (keep bool, err error) {
		files, err := list(r, scanPhotoFile, "SELECT DISTINCT sha256, kind FROM photos")
		if err != nil {
			return false, err
		}
		kept := map[string]bool{}
		for _, f := range files {
			kept[f.name()] = true
		}
		entries, err := os.ReadDir(string(folder))
		if err != nil {
			return false, explain(string(folder), err)
		}
		for _, entry := range entries {
			info, err := entry.Info()
			if err != nil {
				return false, explain(folder.path(entry.Name()), err)
			}
			if !kept[entry.Name()] && !entry.IsDir() {
				remarks = append(remarks, Problem{folder.path(entry.Name()),
					"a file of " + room(info.Size()) + " that belongs to no core", "harmless: remove it to have the room"})
			}
		}
		return false, nil
	})
	return remarks, err
}

func room(bytes int64) string {
	const kB, MB = 1e3, 1e6 // bytes, decimal as the makers of disks count
	if bytes < MB {
		return fmt.Sprintf("%.1f kB", float64(bytes)/kB)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/MB)
}
