package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"reflect"
	"strconv"
	"strings"
	"time"

	"panecore/layers"
)

// A Photo is what a logbook keeps of the photo that a core was read from.
type Photo struct {
	SHA256        string // of the file, 64 lower-case hexadecimal digits
	Kind          string // of the file, which it ends the name of: lower-case letters and digits, as in "jpeg"
	Bytes         int64  // the file's size
	Width, Height int    // pixels, upright
	Picks         []byte // JSON of the reader's own, to start another reading of the station from
	Preview       []byte // a small JPEG, MaxPreview bytes at most
}

// MaxPreview is the size of the largest preview, bytes (assumption: some 300 pixels a
// side, of which a database holds a thousand with ease).
const MaxPreview = 64 << 10

// FileCore files a core that was read from a photo, with the photo, whose file is
// content. Where the tank has no core of its station and date it is added. One that
// was read from the same photo is amended; any other is replaced if replace is true,
// and else refuses the change with a [ConflictError]. what says what was done, as
// [Change] does; it is empty where the logbook held the same already.
//
// The SHA-256 and the size of the photo are those of content, and core.Photo has to
// name the former. The file is on disk before the change is.
func (b *Book) FileCore(ctx context.Context, at time.Time, tank string, core layers.Core, photo Photo, content []byte, replace bool) (what string, err error) {
	sum := sha256.Sum256(content)
	photo.SHA256, photo.Bytes = hex.EncodeToString(sum[:]), int64(len(content))
	if faults := photo.faults(core); faults != nil {
		return "", faults
	}
	err = b.change(ctx, at, func(c *change) error {
		core, err := checked(c, cores, tank, core)
		if err != nil {
			return err
		}
		if err := c.file(tank, core, photo, replace); err != nil {
			return err
		}
		what = c.what
		return b.photos.keep(photo.file(), content)
	})
	if err != nil {
		return "", err
	}
	return what, nil
}

func (p Photo) file() photoFile { return photoFile{p.SHA256, p.Kind} }

// faults lists what is wrong with the photo of a core.
func (p Photo) faults(core layers.Core) (faults layers.Faults) {
	report := func(field, found, want string) {
		where := fmt.Sprintf("core %s %s, photo, %s", core.Station, core.Date, field)
		faults = append(faults, layers.Fault{Where: where, Found: found, Want: want})
	}
	switch {
	case core.Photo == nil:
		report("sha256", "a core read by eye", "one read from the photo")
	case core.Photo.SHA256 != p.SHA256:
		report("sha256", strconv.Quote(core.Photo.SHA256), p.SHA256+", that of the file")
	}
	if p.Kind == "" || strings.Trim(p.Kind, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
		report("kind", strconv.Quote(p.Kind), "a word of lower-case letters and digits")
	}
	if p.Width < 1 || p.Height < 1 {
		report("size", fmt.Sprintf("%d × %d pixels", p.Width, p.Height), "one pixel or more each way")
	}
	if !json.Valid(p.Picks) {
		report("picks", "text that is no JSON", "JSON")
	}
	if len(p.Preview) == 0 || len(p.Preview) > MaxPreview {
		report("preview", fmt.Sprint(len(p.Preview), " bytes"), fmt.Sprint("1 to ", MaxPreview))
	}
	return faults
}

func (c *change) file(tank string, core layers.Core, photo Photo, replace bool) error {
	row, held := cores.row(core), photoRow(core, photo)
	key := cores.keyIn(row)
	formerSums, err := list(c.reader, text, "SELECT ifnull(photo ->> 'sha256', '') FROM cores WHERE "+cores.isStanding(),
		append([]any{tank}, key...)...)
	switch {
	case err != nil:
		return err
	case formerSums == nil:
		err = c.add(cores.table, tank, row)
	case formerSums[0] == photo.SHA256 || replace:
		err = c.amend(cores.table, tank, key, row)
	default:
		err = &ConflictError{layers.Faults{{Where: nameOf(tank) + ", " + cores.of(key),
			Found: "one in the logbook that was not read from this photo", Want: "another station or date, or to replace it"}}}
	}
	if err != nil {
		return err
	}
	former, err := c.find(photos, tank, key)
	if err != nil || reflect.DeepEqual(former, held) {
		return err
	}
	if c.what == "" {
		c.what = cores.called(tank, key) + " amended"
	}
	if err := c.end(photos, tank, key); err != nil {
		return err
	}
	return c.insert(photos, tank, held)
}

// strayPhoto is the condition under which a photo stands without its core.
const strayPhoto = `until IS NULL AND sha256 IS NOT (SELECT photo ->> 'sha256' FROM cores
	WHERE cores.tank = photos.tank AND cores.date = photos.date AND cores.station = photos.station AND cores.until IS NULL)`

// endPhotos ends the photos of a tank whose cores were removed, or are now read
// otherwise.
func (c *change) endPhotos(tank string) error {
	_, err := c.exec("UPDATE photos SET until = ? WHERE tank = ? AND "+strayPhoto, c.id, tank)
	return err
}

// PhotoOf reads what is kept of the photo that a core was read from, unless there is
// none.
func (b *Book) PhotoOf(ctx context.Context, tank, station string, date layers.Date) (photo Photo, found bool, err error) {
	return first(ctx, b, scanPhoto, photos.selectOne(), tank, date.String(), station)
}

// A CorePhoto is what is kept of a core's photo.
type CorePhoto struct {
	Station string
	Date    layers.Date
	Photo   // without its preview
}

// Photos lists the photos of a tank's cores, by date and station.
func (b *Book) Photos(ctx context.Context, tank string) ([]CorePhoto, error) {
	const query = "SELECT date, station, sha256, kind, bytes, width, height, picks, NULL FROM photos WHERE tank = ? AND until IS NULL ORDER BY date, station"
	return viewed(ctx, b, func(r *reader) ([]CorePhoto, error) {
		if _, _, err := r.setup(tank); err != nil {
			return nil, err
		}
		return list(r, scanCorePhoto, query, tank)
	})
}

// LastPhoto reads what is kept of the photo of a station's newest core that was read from one,
// unless there is none.
func (b *Book) LastPhoto(ctx context.Context, tank, station string) (photo Photo, found bool, err error) {
	query := "SELECT " + photos.list() + " FROM photos WHERE tank = ? AND station = ? AND until IS NULL ORDER BY date DESC LIMIT 1"
	return first(ctx, b, scanPhoto, query, tank, station)
}

// first is the first row of a query on a tank, which must be there.
func first[Entry any](ctx context.Context, b *Book, scan func(*sql.Rows) (Entry, error), query, tank string, args ...any) (entry Entry, found bool, err error) {
	entries, err := viewed(ctx, b, func(r *reader) ([]Entry, error) {
		if _, _, err := r.setup(tank); err != nil {
			return nil, err
		}
		return list(r, scan, query, append([]any{tank}, args...)...)
	})
	if err != nil || entries == nil {
		return entry, false, err
	}
	return entries[0], true, nil
}

// OpenPhoto opens the file of a photo, of a core that stands or stood, by its SHA-256.
func (b *Book) OpenPhoto(ctx context.Context, sum string) (io.ReadCloser, error) {
	kinds, err := viewed(ctx, b, func(r *reader) ([]string, error) {
		return list(r, text, "SELECT kind FROM photos WHERE sha256 = ? LIMIT 1", sum)
	})
	if err != nil {
		return nil, err
	}
	if kinds == nil {
		return nil, &NotFoundError{What: "photo " + strconv.Quote(sum)}
	}
	path := b.photos.path(photoFile{sum, kinds[0]}.name())
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &FileError{path, Missing, "no such file", "the photo: " + mendPhoto, err}
	}
	if err != nil {
		return nil, explain(path, err)
	}
	return file, nil
}

func photoRow(core layers.Core, p Photo) []any {
	return []any{core.Date.String(), core.Station, p.SHA256, p.Kind, p.Bytes, int64(p.Width), int64(p.Height), string(p.Picks), p.Preview}
}

func scanPhoto(row *sql.Rows) (Photo, error) {
	p, err := scanCorePhoto(row)
	return p.Photo, err
}

func scanCorePhoto(row *sql.Rows) (p CorePhoto, err error) {
	var date string
	if err := row.Scan(&date, &p.Station, &p.SHA256, &p.Kind, &p.Bytes, &p.Width, &p.Height, &p.Picks, &p.Preview); err != nil {
		return p, err
	}
	p.Date, err = layers.ParseDate(date)
	return p, err
}

func scanPhotoFile(row *sql.Rows) (f photoFile, err error) {
	err = row.Scan(&f.sum, &f.kind)
	return f, err
}
