//go:build unix

package logbook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"reflect"
	"syscall"
	"testing"

	"panecore/layers"
)

// importFull imports more than the disk takes, which is a limit to how far files may
// grow, and then goes on with the limit lifted. number is how much is left, bytes.
func importFull(ctx context.Context, path string, number int) error {
	b, err := Open(ctx, path, false)
	if err != nil {
		return err
	}
	limit, err := tighten(number)
	if err != nil {
		return err
	}
	_, err = b.Import(ctx, noon, fishRoom(40), false)
	if !isTrouble(err, Full) {
		return fmt.Errorf("got %v, want no room", err)
	}
	if number == 0 {
		_, err = b.Backup(ctx, path+".backup")
		if !isTrouble(err, Full) {
			return fmt.Errorf("backup: got %v, want no room", err)
		}
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	if err := b.AddCore(ctx, noon, "kettle", coreOf(0, "")); err != nil {
		return err
	}
	return b.Close()
}

// tighten limits how far files may grow to so many bytes, and returns the former limit.
func tighten(bytes int) (limit syscall.Rlimit, err error) {
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return limit, err
	}
	signal.Ignore(syscall.SIGXFSZ)
	tight := limit
	tight.Cur = uint64(bytes)
	return limit, syscall.Setrlimit(syscall.RLIMIT_FSIZE, &tight)
}

// A full disk refuses a change; what stood before still stands, and all goes on when
// there is room again.
func TestImport_diskFull(t *testing.T) {
	path := filepath.Join(t.TempDir(), "logbook.db")
	b := open(t, path, true)
	if _, err := b.Import(context.Background(), noon, fishRoom(1), false); err != nil {
		t.Fatal(err)
	}
	if err := b.AddTank(context.Background(), noon, layers.Tank{ID: "kettle"}); err != nil {
		t.Fatal(err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	for room := 0; room <= 1<<20; room += 1 << 17 {
		if err := childCommand(t, "full", path, room).Run(); err != nil {
			t.Fatalf("with room for %d bytes: %v", room, err)
		}
		b := open(t, path, false)
		checkClean(t, b)
		want := encode(t, layers.Tank{ID: "kettle", Cores: []layers.Core{coreOf(0, "")}}, fishRoom(1)[0])
		if got := export(t, b); got != want {
			t.Errorf("with room for %d bytes: got\n%s", room, got)
		}
		if err := b.RemoveCore(context.Background(), noon, "kettle", "front", coreOf(0, "").Date); err != nil {
			t.Fatal(err)
		}
		b.Close()
		if left, _ := filepath.Glob(filepath.Dir(path) + "/*backup*"); left != nil {
			t.Errorf("the backup left %q", left)
		}
	}
}

// fileFull files a photo that the disk has no room for, and again with the limit lifted.
func fileFull(ctx context.Context, path string, number int) error {
	b, err := Open(ctx, path, false)
	if err != nil {
		return err
	}
	limit, err := tighten(number)
	if err != nil {
		return err
	}
	_, err = b.FileCore(ctx, noon, "kettle", photoCore(1), anyShot, shotOf(1), false)
	if file, _ := errors.AsType[*FileError](err); file == nil || file.Trouble != Full || filepath.Dir(file.Path) != string(b.photos) {
		return fmt.Errorf("got %v, want no room for the photo", err)
	}
	if tank, err := b.Tank(ctx, "kettle"); err != nil || len(tank.Cores) > 0 {
		return fmt.Errorf("found %v, %v, want no core without its photo", tank.Cores, err)
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	if _, err := b.FileCore(ctx, noon, "kettle", photoCore(1), anyShot, shotOf(1), false); err != nil {
		return err
	}
	return b.Close()
}

func TestFileCore_diskFull(t *testing.T) {
	b := withPhotos(t)
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	const room = 20_000 // bytes: enough for the logbook's page or two, not for the photo
	if err := childCommand(t, "full photo", b.path, room).Run(); err != nil {
		t.Fatal(err)
	}
	b = open(t, b.path, false)
	defer b.Close()
	if found, err := b.Check(t.Context()); err != nil || !reflect.DeepEqual(found, Checkup{}) {
		t.Errorf("found %v, %v, want nothing left over", found, err)
	}
	checkPhoto(t, b, photoCore(1), 1, true)
}

// openDenied opens a logbook as a user who may do little.
func openDenied(ctx context.Context, path string, _ int) error {
	const nobody = 65534
	if os.Getuid() == 0 {
		if err := errors.Join(syscall.Setgid(nobody), syscall.Setuid(nobody)); err != nil {
			return err
		}
	}
	b, err := Open(ctx, path, true)
	if err != nil {
		fmt.Println(err)
		return nil
	}
	return fmt.Errorf("%s is open", b.path)
}

func TestOpen_denied(t *testing.T) {
	folder := t.TempDir()
	if err := os.Chmod(filepath.Dir(folder), 0o755); err != nil { // for the other user
		t.Fatal(err)
	}
	path := filepath.Join(folder, "logbook.db")
	open(t, path, true).Close()
	for name, modes := range map[string]struct{ file, folder os.FileMode }{
		"secret file":       {0o000, 0o777},
		"read-only file":    {0o444, 0o777},
		"read-only folder":  {0o666, 0o555},
		"all of it refused": {0o444, 0o000},
	} {
		t.Run(name, func(t *testing.T) {
			before := readFile(t, path)
			if err := errors.Join(os.Chmod(path, modes.file), os.Chmod(folder, modes.folder)); err != nil {
				t.Fatal(err)
			}
			out, err := childCommand(t, "denied", path, 0).Output()
			if err := errors.Join(os.Chmod(folder, 0o777), os.Chmod(path, 0o666)); err != nil {
				t.Fatal(err)
			}
			want := path + ": found no permission to read and write it, want a file and a folder that you may write\n"
			if err != nil || string(out) != want {
				t.Errorf("got %q, %v, want %q", out, err, want)
			}
			if string(readFile(t, path)) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
}
