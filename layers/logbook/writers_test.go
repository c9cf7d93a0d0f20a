package logbook

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"panecore/layers"
)

const (
	writers        = 8
	coresPerWriter = 250
)

// addMany makes the logbook unless another writer was quicker, and adds cores to a
// tank of its own and to one that all share.
func addMany(ctx context.Context, path string, number int) error {
	b, err := Open(ctx, path, true)
	if err != nil {
		return err
	}
	own := fmt.Sprint("tank-", number)
	if err := b.AddTank(ctx, noon, layers.Tank{ID: own}); err != nil {
		return err
	}
	if err := b.AddTank(ctx, noon, layers.Tank{ID: "shared"}); err != nil {
		if _, taken := errors.AsType[*TakenError](err); !taken {
			return err
		}
	}
	for n := range coresPerWriter {
		core := coreOf(n, "")
		core.Station = own
		tank := own
		if n%2 == 0 {
			tank = "shared"
		}
		err := b.AddCore(ctx, noon, tank, core)
		for isTrouble(err, Busy) { // on a slow disk one of many waits too long, and tries again as it is told to
			err = b.AddCore(ctx, noon, tank, core)
		}
		if err != nil {
			return err
		}
	}
	return b.Close()
}

// Many programs may write at once, and even make the logbook at once.
func TestAddCore_eightProcesses(t *testing.T) {
	if testing.Short() {
		t.Skip("adds 2,000 cores")
	}
	path := filepath.Join(t.TempDir(), "logbook.db")
	var running []*exec.Cmd
	for i := range writers {
		cmd := childCommand(t, "add", path, i)
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
	b := open(t, path, false)
	defer b.Close()
	checkClean(t, b)
	entries, err := b.List(context.Background(), false)
	if err != nil {
		t.Fatal(err)
	}
	all := 0
	for _, entry := range entries {
		all += entry.Cores
	}
	if all != writers*coresPerWriter || len(entries) != writers+1 {
		t.Errorf("found %d cores in %d tanks, want %d in %d", all, len(entries), writers*coresPerWriter, writers+1)
	}
}

// Whoever waits too long for another program is told so, and may try again.
func TestAddCore_busy(t *testing.T) {
	b := newBook(t)
	ctx := context.Background()
	if err := b.AddTank(ctx, noon, layers.Tank{ID: "kettle"}); err != nil {
		t.Fatal(err)
	}
	other, err := b.db.Conn(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, err := other.ExecContext(ctx, "BEGIN IMMEDIATE"); err != nil {
		t.Fatal(err)
	}
	impatient, err := b.db.Conn(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := impatient.ExecContext(ctx, fmt.Sprint("PRAGMA busy_timeout = ", (20*time.Millisecond).Milliseconds())); err != nil {
		t.Fatal(err)
	}
	impatient.Close() // and the next to write takes it
	err = b.AddCore(ctx, noon, "kettle", coreOf(0, ""))
	if !isTrouble(err, Busy) {
		t.Errorf("got %v, want it to be busy", err)
	}
	if tank, err := b.Tank(ctx, "kettle"); err != nil || len(tank.Cores) > 0 {
		t.Errorf("a reader got %v, %v", tank, err)
	}
	if _, err := other.ExecContext(ctx, "ROLLBACK"); err != nil {
		t.Fatal(err)
	}
	if err := b.AddCore(ctx, noon, "kettle", coreOf(0, "")); err != nil {
		t.Error(err)
	}
}
