package logbook

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
)

// shotOf is the file of a photo of a number, and anyShot what is kept of it.
func shotOf(n int) []byte { return bytes.Repeat(fmt.Appendf(nil, "photo %d\n", n), 3000) }

func sumOf(content []byte) string { return fmt.Sprintf("%x", sha256.Sum256(content)) }

var anyShot = Photo{Kind: "jpeg", Width: 4000, Height: 3000, Picks: []byte(`{"surface": 12}`), Preview: []byte("a small JPEG")}

// photoCore is coreOf as it was read from the photo of its number.
func photoCore(n int) layers.Core {
	core := coreOf(n, "")
	core.Photo = &layers.Photo{SHA256: sumOf(shotOf(n)), ColorDoubt: 4, Light: palette.Light{EVDoubt: 0.4},
		Surface: layers.Edge{HighestMM: -1.1, LowestMM: 1.3}}
	core.Layers[0].Edge = &layers.Edge{ErrorMM: 0.3, HighestMM: 11, LowestMM: 13.2}
	return core
}

// file files the core of a number with its photo in the kettle.
func file(t *testing.T, b *Book, n int) {
	t.Helper()
	if _, err := b.FileCore(t.Context(), noon, "kettle", photoCore(n), anyShot, shotOf(n), false); err != nil {
		t.Fatal(err)
	}
}

// withPhotos is a logbook whose kettle has the cores of the numbers with their photos.
func withPhotos(t *testing.T, numbers ...int) *Book {
	t.Helper()
	b := newBook(t)
	if err := b.AddTank(t.Context(), noon, layers.Tank{ID: "kettle"}); err != nil {
		t.Fatal(err)
	}
	for _, n := range numbers {
		file(t, b, n)
	}
	return b
}

// checkPhoto looks for the photo of a number at a core.
func checkPhoto(t *testing.T, b *Book, core layers.Core, n int, want bool) {
	t.Helper()
	got, found, err := b.PhotoOf(t.Context(), "kettle", core.Station, core.Date)
	if err != nil || found != want || found && got.SHA256 != sumOf(shotOf(n)) {
		t.Errorf("core %s %s: got %+v, %t, %v, want one: %t", core.Station, core.Date, got, found, err, want)
	}
}

func nameOfShot(b *Book, n int) string { return b.photos.path(sumOf(shotOf(n)) + ".jpeg") }

// The folder of photos is made for its owner to read, write and search.
func TestFileCore_folder(t *testing.T) {
	b := withPhotos(t, 1)
	info, err := os.Stat(string(b.photos))
	if err != nil || info.Mode().Perm()&0o700 != 0o700 {
		t.Errorf("got %v, %v", info.Mode(), err)
	}
}

func TestFileCore(t *testing.T) {
	b := withPhotos(t)
	ctx := t.Context()
	core := photoCore(1)
	what, err := b.FileCore(ctx, noon, "kettle", core, anyShot, shotOf(1), false)
	if err != nil || what != `core front 1980-01-02 of tank "kettle" added` {
		t.Fatalf("got %q, %v", what, err)
	}
	want := anyShot
	want.SHA256, want.Bytes = core.Photo.SHA256, int64(len(shotOf(1)))
	if got, found, err := b.PhotoOf(ctx, "kettle", "front", core.Date); err != nil || !found || !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v, %t, %v, want %+v", got, found, err, want)
	}
	want.Preview = nil
	if got, err := b.Photos(ctx, "kettle"); err != nil || !reflect.DeepEqual(got, []CorePhoto{{"front", core.Date, want}}) {
		t.Errorf("got %+v, %v, want the photo alone", got, err)
	}
	if tank, err := b.Tank(ctx, "kettle"); err != nil || !reflect.DeepEqual(tank.Cores, []layers.Core{core}) {
		t.Errorf("got %+v, %v, want %+v", tank.Cores, err, core)
	}
	stream, err := b.OpenPhoto(ctx, core.Photo.SHA256)
	if err != nil {
		t.Fatal(err)
	}
	defer stream.Close()
	if content, err := io.ReadAll(stream); err != nil || !bytes.Equal(content, shotOf(1)) {
		t.Errorf("got %d bytes, %v", len(content), err)
	}
	if !bytes.Equal(readFile(t, nameOfShot(b, 1)), shotOf(1)) {
		t.Error("the file is not named for its content")
	}
	checkPhoto(t, b, coreOf(2, ""), 2, false)
	checkClean(t, b)
}

func TestLastPhoto(t *testing.T) {
	b := withPhotos(t, 3)
	ctx := t.Context()
	later, earlier := anyShot, anyShot
	later.Picks, earlier.Picks = []byte(`["later"]`), []byte(`["earlier"]`)
	for n, shot := range map[int]Photo{5: later, 1: earlier} {
		if _, err := b.FileCore(ctx, noon, "kettle", photoCore(n), shot, shotOf(n), false); err != nil {
			t.Fatal(err)
		}
	}
	if err := b.AddCore(ctx, noon, "kettle", coreOf(9, "by eye")); err != nil {
		t.Fatal(err)
	}
	if last, found, err := b.LastPhoto(ctx, "kettle", "front"); err != nil || !found || string(last.Picks) != `["later"]` {
		t.Errorf("got %s, %t, %v", last.Picks, found, err)
	}
	if last, found, err := b.LastPhoto(ctx, "kettle", "left"); err != nil || found {
		t.Errorf("got %s, %v, want none of a station without photos", last.Picks, err)
	}
	if _, _, err := b.LastPhoto(ctx, "ketle", "front"); kindOf(err) != notFound {
		t.Errorf("got %v, want no such tank", err)
	}
	if _, err := b.Photos(ctx, "ketle"); kindOf(err) != notFound {
		t.Errorf("photos of no tank: %v", err)
	}
	if _, _, err := b.PhotoOf(ctx, "ketle", "front", coreOf(1, "").Date); kindOf(err) != notFound {
		t.Errorf("got %v, want no such tank", err)
	}
}

// The same photo read again amends its core; nothing new leaves no change.
func TestFileCore_again(t *testing.T) {
	b := withPhotos(t, 1)
	ctx := t.Context()
	before, _, err := b.LastChange(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if what, err := b.FileCore(ctx, noon, "kettle", photoCore(1), anyShot, shotOf(1), false); err != nil || what != "" {
		t.Errorf("got %q, %v, want nothing done", what, err)
	}
	if after, _, err := b.LastChange(ctx); err != nil || after != before {
		t.Errorf("got %v, %v", after, err)
	}
	const amended = `core front 1980-01-02 of tank "kettle" amended`
	repicked := anyShot
	repicked.Picks = []byte(`{"surface": 14}`)
	if what, err := b.FileCore(ctx, noon, "kettle", photoCore(1), repicked, shotOf(1), false); err != nil || what != amended {
		t.Errorf("other picks: got %q, %v", what, err)
	}
	reread := photoCore(1)
	reread.Layers[0].ThicknessMM++
	if what, err := b.FileCore(ctx, noon, "kettle", reread, repicked, shotOf(1), false); err != nil || what != amended {
		t.Errorf("another reading: got %q, %v", what, err)
	}
	for range 2 {
		if _, err := b.Undo(ctx, noon, 0); err != nil {
			t.Fatal(err)
		}
	}
	if last, _, err := b.LastPhoto(ctx, "kettle", "front"); err != nil || string(last.Picks) != string(anyShot.Picks) {
		t.Errorf("got %s, %v, want the first picks again", last.Picks, err)
	}
	checkClean(t, b)
}

// Filing a photo again mends its file.
func TestFileCore_mends(t *testing.T) {
	for name, spoil := range map[string]func(string) error{
		"missing": os.Remove,
		"changed": func(path string) error { return os.WriteFile(path, []byte("another"), 0o666) },
		"emptied": func(path string) error { return os.Truncate(path, 0) },
	} {
		b := withPhotos(t, 1)
		if err := spoil(nameOfShot(b, 1)); err != nil {
			t.Fatal(err)
		}
		file(t, b, 1)
		checkClean(t, b)
		if got := folderOf(t, nameOfShot(b, 1)); len(got) != 1 {
			t.Errorf("%s: found %q, want one photo", name, got)
		}
	}
}

// What was read otherwise is only replaced when that is asked for, and comes back.
func TestFileCore_replace(t *testing.T) {
	for name, former := range map[string]layers.Core{
		"by eye":            coreOf(1, "by eye"),
		"another photo":     func() layers.Core { c := photoCore(2); c.Date = coreOf(1, "").Date; return c }(),
		"a photo not kept":  func() layers.Core { c := photoCore(1); c.Photo.SHA256 = ""; return c }(),
		"the photo, unkept": photoCore(1),
	} {
		b := withPhotos(t)
		ctx := t.Context()
		if err := b.AddCore(ctx, noon, "kettle", former); err != nil {
			t.Fatal(err)
		}
		before := export(t, b)
		_, err := b.FileCore(ctx, noon, "kettle", photoCore(1), anyShot, shotOf(1), false)
		const want = `tank "kettle", core front 1980-01-02: found one in the logbook that was not read from this photo, want another station or date, or to replace it`
		if name == "the photo, unkept" {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
		} else if kindOf(err) != conflict || err.Error() != want {
			t.Errorf("%s: got %v, want %s", name, err, want)
		} else if what, err := b.FileCore(ctx, noon, "kettle", photoCore(1), anyShot, shotOf(1), true); err != nil || !strings.HasSuffix(what, " amended") {
			t.Errorf("%s: got %q, %v", name, what, err)
		}
		checkPhoto(t, b, former, 1, true)
		checkClean(t, b)
		if _, err := b.Undo(ctx, noon, 0); err != nil {
			t.Error(err)
		}
		checkPhoto(t, b, former, 1, false)
		if got := export(t, b); got != before {
			t.Errorf("%s: got\n%s\nwant\n%s", name, got, before)
		}
		checkClean(t, b)
	}
}

func TestFileCore_refusals(t *testing.T) {
	b := withPhotos(t)
	sum := sumOf(shotOf(1))
	for want, spoil := range map[string]func(core *layers.Core, shot *Photo){
		"sha256: found a core read by eye, want one read from the photo": func(core *layers.Core, _ *Photo) { core.Photo = nil },
		`sha256: found "", want ` + sum + ", that of the file":           func(core *layers.Core, _ *Photo) { core.Photo.SHA256 = "" },
		`kind: found "../jpeg", want a word of lower-case letters and digits`: func(_ *layers.Core, shot *Photo) {
			shot.Kind = "../jpeg"
		},
		`kind: found "", want a word of lower-case letters and digits`: func(_ *layers.Core, shot *Photo) { shot.Kind = "" },
		"size: found 0 × 3000 pixels, want one pixel or more each way": func(_ *layers.Core, shot *Photo) { shot.Width = 0 },
		"picks: found text that is no JSON, want JSON":                 func(_ *layers.Core, shot *Photo) { shot.Picks = nil },
		"preview: found 0 bytes, want 1 to 65536":                      func(_ *layers.Core, shot *Photo) { shot.Preview = nil },
		"preview: found 65537 bytes, want 1 to 65536":                  func(_ *layers.Core, shot *Photo) { shot.Preview = make([]byte, MaxPreview+1) },
	} {
		core, shot := photoCore(1), anyShot
		spoil(&core, &shot)
		want = "core front 1980-01-02, photo, " + want
		if _, err := b.FileCore(t.Context(), noon, "kettle", core, shot, shotOf(1), false); kindOf(err) != faulty || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	if _, err := b.FileCore(t.Context(), noon, "ketle", photoCore(1), anyShot, shotOf(1), false); kindOf(err) != notFound {
		t.Errorf("got %v, want no such tank", err)
	}
	if got := folderOf(t, b.path); slices.Contains(got, "logbook.db.photos") {
		t.Errorf("found %q, want no folder of photos after refusals", got)
	}
}

// A photo goes with its core as long as the core is read from it.
func TestAmendCore_photo(t *testing.T) {
	core := photoCore(1)
	elsewhere := photoCore(1)
	elsewhere.Station, elsewhere.Date = "left", coreOf(4, "").Date
	noted := photoCore(1)
	noted.Note = "ragged"
	other := photoCore(1)
	other.Photo.SHA256 = sumOf(shotOf(2))
	for name, c := range map[string]struct {
		to   layers.Core
		kept bool
	}{
		"note": {noted, true}, "station and date": {elsewhere, true}, "typed over": {coreOf(1, ""), false},
		"another photo": {other, false}, "typed over elsewhere": {coreOf(2, ""), false},
	} {
		b := withPhotos(t, 1)
		ctx := t.Context()
		if err := b.AmendCore(ctx, noon, "kettle", "front", core.Date, c.to); err != nil {
			t.Fatal(err)
		}
		t.Log(name)
		checkPhoto(t, b, c.to, 1, c.kept)
		if c.to.Date != core.Date {
			checkPhoto(t, b, core, 1, false)
		}
		checkClean(t, b)
		if _, err := b.Undo(ctx, noon, 0); err != nil {
			t.Error(err)
		}
		checkPhoto(t, b, core, 1, true)
		checkClean(t, b)
		if stream, err := b.OpenPhoto(ctx, core.Photo.SHA256); err != nil {
			t.Error(err)
		} else {
			stream.Close()
		}
	}
}

func TestRemoveCore_photo(t *testing.T) {
	b := withPhotos(t, 1, 2)
	ctx := t.Context()
	if err := b.RemoveCore(ctx, noon, "kettle", "front", photoCore(1).Date); err != nil {
		t.Fatal(err)
	}
	checkPhoto(t, b, photoCore(1), 1, false)
	checkPhoto(t, b, photoCore(2), 2, true)
	if found, err := b.Check(ctx); err != nil || !reflect.DeepEqual(found, Checkup{}) {
		t.Errorf("found %v, %v, want nothing: a former core keeps its photo", found, err)
	}
	if _, err := b.Undo(ctx, noon, 0); err != nil {
		t.Error(err)
	}
	checkPhoto(t, b, photoCore(1), 1, true)
}

func TestImport_photo(t *testing.T) {
	b := withPhotos(t, 1, 2)
	ctx := t.Context()
	document := export(t, b)
	equal := []layers.Tank{{ID: "kettle", Cores: []layers.Core{photoCore(1), photoCore(2)}}}
	if done, err := b.Import(ctx, noon, equal, false); err != nil || done.Equal != 3 {
		t.Errorf("got %+v, %v, want all equal", done, err)
	}
	if _, err := b.Import(ctx, noon, []layers.Tank{{ID: "kettle", Cores: []layers.Core{coreOf(1, ""), photoCore(3)}}}, true); err != nil {
		t.Fatal(err)
	}
	checkPhoto(t, b, photoCore(1), 1, false)
	checkPhoto(t, b, photoCore(2), 2, true)
	found, err := b.Check(ctx)
	if err != nil || found.Problems != nil {
		t.Errorf("found %v, %v", found, err)
	}
	const unkept = `tank "kettle", core front 1980-01-04, photo: found nothing kept of it here; harmless: the core stands without it; read the photo again to keep it`
	if got := linesOf(found.Remarks); !slices.Equal(got, []string{unkept}) {
		t.Errorf("got %q, want %q", got, unkept)
	}
	if _, err := b.Undo(ctx, noon, 0); err != nil {
		t.Error(err)
	}
	checkPhoto(t, b, photoCore(1), 1, true)

	other := newBook(t)
	if _, err := other.Import(ctx, noon, equal, false); err != nil {
		t.Fatal(err)
	}
	if got := export(t, other); got != document {
		t.Errorf("got\n%s\nwant\n%s", got, document)
	}
}

// A logbook that is opened through a link has the same photos.
func TestFileCore_link(t *testing.T) {
	b := withPhotos(t, 1)
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(b.path, link); err != nil {
		t.Skip("no links here: ", err)
	}
	linked := open(t, link, false)
	defer linked.Close()
	file(t, linked, 2)
	for _, book := range []*Book{linked, b} {
		if found, err := book.Check(t.Context()); err != nil || !reflect.DeepEqual(found, Checkup{}) {
			t.Errorf("found %v, %v", found, err)
		}
	}
}

func TestOpenPhoto_missing(t *testing.T) {
	b := withPhotos(t, 1)
	if _, err := b.OpenPhoto(t.Context(), "../logbook"); kindOf(err) != notFound || err.Error() != `found no photo "../logbook", want one that the logbook holds` {
		t.Errorf("got %v", err)
	}
	if err := os.Remove(nameOfShot(b, 1)); err != nil {
		t.Fatal(err)
	}
	_, err := b.OpenPhoto(t.Context(), sumOf(shotOf(1)))
	want := nameOfShot(b, 1) + ": found no such file, want the photo: copy it back from a backup's folder of photos, or read the photo again"
	if !isTrouble(err, Missing) || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// A missing or changed photo is told with each of its cores; of former cores, and of
// files that belong to none, only a remark is made.
func TestCheck_photos(t *testing.T) {
	b := withPhotos(t, 1, 2, 3, 4)
	ctx := t.Context()
	beside := photoCore(2) // another strip of the same photo
	beside.Station = "left"
	if _, err := b.FileCore(ctx, noon, "kettle", beside, anyShot, shotOf(2), false); err != nil {
		t.Fatal(err)
	}
	if err := b.RemoveCore(ctx, noon, "kettle", "front", photoCore(3).Date); err != nil {
		t.Fatal(err)
	}
	changed := shotOf(2)
	changed[1000]++
	stray := b.photos.path(".half.jpeg.part")
	for path, content := range map[string][]byte{nameOfShot(b, 2): changed, stray: make([]byte, 1_300_000)} {
		if err := os.WriteFile(path, content, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, n := range []int{1, 3} {
		if err := os.Remove(nameOfShot(b, n)); err != nil {
			t.Fatal(err)
		}
	}
	found, err := b.Check(ctx)
	if err != nil {
		t.Fatal(err)
	}
	const mend = "; copy it back from a backup's folder of photos, or read the photo again"
	problems := []string{
		`tank "kettle", core front 1980-01-02, photo: found no file ` + nameOfShot(b, 1) + mend,
		`tank "kettle", core front 1980-01-03, photo: found a changed file ` + nameOfShot(b, 2) + mend,
		`tank "kettle", core left 1980-01-03, photo: found a changed file ` + nameOfShot(b, 2) + mend,
	}
	if got := linesOf(found.Problems); !slices.Equal(got, problems) {
		t.Errorf("got problems %q, want %q", got, problems)
	}
	remarks := []string{
		`tank "kettle", core front 1980-01-04, photo: found no file ` + nameOfShot(b, 3) + "; harmless: no core that stands was read from it",
		stray + ": found a file of 1.3 MB that belongs to no core; harmless: remove it to have the room",
	}
	if got := linesOf(found.Remarks); !slices.Equal(got, remarks) {
		t.Errorf("got remarks %q, want %q", got, remarks)
	}
}

// What was done to the rows of photos behind the program's back is found.
func TestCheck_photoRows(t *testing.T) {
	for script, want := range map[string]string{
		"UPDATE cores SET until = since": `tank "kettle", core front 1980-01-02, photo: found a photo that its core was not read from; ` + mendEntry,
		"UPDATE cores SET photo = NULL":  `tank "kettle", core front 1980-01-02, photo: found a photo that its core was not read from; ` + mendEntry,
		`UPDATE cores SET photo = '{"colour_doubt": -1}'`: `tank "kettle", core front 1980-01-02, photo, colour_doubt: found -1; want a number from 0 to 100 (CIEDE2000): ` +
			mendEntry,
		"PRAGMA ignore_check_constraints = 1; UPDATE photos SET kind = '../db'": "file: found CHECK constraint failed in photos; " + mendFile,
		"PRAGMA ignore_check_constraints = 1; UPDATE photos SET sha256 = 'A'":   "file: found CHECK constraint failed in photos; " + mendFile,
		"UPDATE photos SET bytes = 7":                                           `tank "kettle", core front 1980-01-02, photo: found a changed file `,
	} {
		b := withPhotos(t, 1)
		checkClean(t, b)
		b.Close()
		hinder(t, b.path, script)
		b = open(t, b.path, false)
		found, err := b.Check(t.Context())
		b.Close()
		if err != nil || !slices.ContainsFunc(linesOf(found.Problems), func(line string) bool { return strings.HasPrefix(line, want) }) {
			t.Errorf("%s: got %q, %v, want %q", script, linesOf(found.Problems), err, want)
		}
	}
}

// A backup has the photos too, also those of former cores, and is a logbook of its own.
func TestBackup_photos(t *testing.T) {
	b := withPhotos(t, 1, 2, 3)
	ctx := t.Context()
	if err := b.RemoveCore(ctx, noon, "kettle", "front", photoCore(2).Date); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(nameOfShot(b, 3)); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "copy.db")
	if copied, err := b.Backup(ctx, path); err != nil || copied != (Copied{Photos: 2, Lost: 1}) {
		t.Fatalf("got %+v, %v", copied, err)
	}
	if got := folderOf(t, path); !slices.Equal(got, []string{"copy.db", "copy.db.photos"}) {
		t.Errorf("found %q, want nothing but the backup and its photos", got)
	}
	if err := os.RemoveAll(string(b.photos)); err != nil {
		t.Fatal(err)
	}
	backup := open(t, path, false)
	defer backup.Close()
	if _, err := backup.Undo(ctx, noon, 0); err != nil {
		t.Error(err)
	}
	for _, n := range []int{1, 2} {
		if content := readFile(t, nameOfShot(backup, n)); !bytes.Equal(content, shotOf(n)) {
			t.Errorf("photo %d differs", n)
		}
		checkPhoto(t, backup, photoCore(n), n, true)
	}
	if found, err := backup.Check(ctx); err != nil || len(found.Problems) != 1 || found.Remarks != nil {
		t.Errorf("found %v, %v, want the lost photo and nothing else", found, err)
	}
}

// Photos that lie where a backup's should be are left alone, and so is the file.
func TestBackup_photosNeverOverwritten(t *testing.T) {
	b := withPhotos(t, 1)
	path := filepath.Join(t.TempDir(), "copy.db")
	if err := os.Mkdir(path+".photos", 0o777); err != nil {
		t.Fatal(err)
	}
	_, err := b.Backup(t.Context(), path)
	if !isTrouble(err, Exists) || err.Error() != path+".photos: found a folder of that name, want a new name: nothing is overwritten" {
		t.Errorf("got %v", err)
	}
	if got := folderOf(t, path); !slices.Equal(got, []string{"copy.db.photos"}) {
		t.Errorf("found %q, want no trace of the backup", got)
	}
	if err := albumOf(path).publish(t.TempDir()); !isTrouble(err, Exists) {
		t.Errorf("got %v, want it to be there already", err)
	}
}

// A copy that differs from its photo is none.
func TestAlbum_copyFrom_faulty(t *testing.T) {
	from, to := album(t.TempDir()), album(filepath.Join(t.TempDir(), "nowhere"))
	f := photoFile{sumOf(shotOf(1)), "jpeg"}
	if err := from.keep(f, shotOf(1)); err != nil {
		t.Fatal(err)
	}
	if _, err := to.copyFrom(from, f); err == nil {
		t.Error("copied to a folder that is not there")
	}
	if err := os.Mkdir(string(to), 0o777); err != nil {
		t.Fatal(err)
	}
	if whole, err := to.copyFrom(from, f); err != nil || !whole || !to.holds(f) {
		t.Errorf("got %t, %v", whole, err)
	}
	if err := os.WriteFile(from.path(f.name()), []byte("another"), 0o666); err != nil {
		t.Fatal(err)
	}
	if whole, err := to.copyFrom(from, f); err != nil || whole {
		t.Errorf("got %t, %v, want a changed photo left out", whole, err)
	}
}

const photosPerWriter = 20

// fileMany makes the logbook unless another was quicker, and files the same photos as
// the others, each at a station of its own.
func fileMany(ctx context.Context, path string, number int) error {
	b, err := Open(ctx, path, true)
	if err != nil {
		return err
	}
	for n := range photosPerWriter {
		core := photoCore(n)
		core.Station = fmt.Sprint("station ", number)
		if _, err := b.FileCore(ctx, noon, "kettle", core, anyShot, shotOf(n), false); err != nil {
			return err
		}
	}
	return b.Close()
}

func TestFileCore_fourProcesses(t *testing.T) {
	b := withPhotos(t)
	var running []*exec.Cmd
	for i := range 4 {
		cmd := childCommand(t, "file", b.path, i)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	for _, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Error(err)
		}
	}
	if found, err := b.Check(t.Context()); err != nil || !reflect.DeepEqual(found, Checkup{}) {
		t.Errorf("found %v, %v", found, err)
	}
	if tank, err := b.Tank(t.Context(), "kettle"); err != nil || len(tank.Cores) != 4*photosPerWriter {
		t.Errorf("found %d cores, %v, want %d", len(tank.Cores), err, 4*photosPerWriter)
	}
	if got := folderOf(t, nameOfShot(b, 0)); len(got) != photosPerWriter {
		t.Errorf("found %d files, want %d", len(got), photosPerWriter)
	}
}
