package logbook

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"panecore/layers"
)

var killsFlag = flag.Int("kills", 40, "how many times TestKilled kills a writer")

// deeds are what the writer does in turn, again and again: what the deed of a number
// does to the logbook, and what it should make of the kettle's and the bowl's records.
// An undo takes back the deed before it.
type deed struct {
	do    func(ctx context.Context, b *Book, n int) error
	after func(s records, n int) records
}

// records are what should stand in the logbook.
type records struct{ kettle, bowl []layers.Core }

func coreOf(n int, note string) layers.Core {
	return layers.Core{Date: layers.FirstDate + layers.Date(n), Station: "front", Note: note,
		Layers: []layers.Layer{{ThicknessMM: float64(n%50 + 1)}, {ThicknessMM: 40}}}
}

func addCore(ctx context.Context, b *Book, n int) error {
	return b.AddCore(ctx, noon, "kettle", coreOf(n, ""))
}

func withCore(s records, n int) records {
	return records{append(s.kettle[:len(s.kettle):len(s.kettle)], coreOf(n, "")), s.bowl}
}

func fillBowl(ctx context.Context, b *Book, n int) error {
	_, err := b.Import(ctx, noon, []layers.Tank{{ID: "bowl", Cores: bowlOf(n)}}, true)
	return err
}

// bowlOf is forty cores that are all noted with n.
func bowlOf(n int) (list []layers.Core) {
	for i := range 40 {
		list = append(list, coreOf(i, fmt.Sprint("import ", n)))
	}
	return list
}

func fileCore(ctx context.Context, b *Book, n int) error {
	_, err := b.FileCore(ctx, noon, "kettle", photoCore(n), anyShot, shotOf(n), false)
	return err
}

func withPhotoCore(s records, n int) records {
	return records{append(s.kettle[:len(s.kettle):len(s.kettle)], photoCore(n)), s.bowl}
}

var deeds = [...]deed{
	{addCore, withCore},
	{fileCore, withPhotoCore},
	{addCore, withCore},
	{ // amend the core just added
		func(ctx context.Context, b *Book, n int) error {
			return b.AmendCore(ctx, noon, "kettle", "front", coreOf(n-1, "").Date, coreOf(n-1, "amended"))
		},
		func(s records, n int) records {
			list := append([]layers.Core(nil), s.kettle...)
			list[len(list)-1] = coreOf(n-1, "amended")
			return records{list, s.bowl}
		},
	},
	{fillBowl, func(s records, n int) records { return records{s.kettle, bowlOf(n)} }},
	{ // undo the import
		func(ctx context.Context, b *Book, n int) error {
			_, err := b.Undo(ctx, noon, 0)
			return err
		},
		nil,
	},
	{ // remove the last core
		func(ctx context.Context, b *Book, n int) error {
			return b.RemoveCore(ctx, noon, "kettle", "front", coreOf(n-4, "").Date)
		},
		func(s records, n int) records { return records{s.kettle[:len(s.kettle)-1], s.bowl} },
	},
	{fillBowl, func(s records, n int) records { return records{s.kettle, bowlOf(n)} }},
	{
		func(ctx context.Context, b *Book, n int) error {
			_, err := b.Backup(ctx, backupOf(b.path, n))
			return err
		},
		func(s records, n int) records { return s },
	},
}

func backupOf(path string, n int) string { return fmt.Sprintf("%s.backup-%d", path, n) }

// recordsAfter is what should stand after so many deeds, the first of which adds the kettle.
func recordsAfter(count int) records {
	var before, s records
	for n := 1; n < count; n++ {
		if deed := deeds[n%len(deeds)]; deed.after == nil {
			s = before
		} else {
			before, s = s, deed.after(s, n)
		}
	}
	return s
}

func exportAfter(t *testing.T, count int) string {
	s := recordsAfter(count)
	var tanks []layers.Tank
	if s.bowl != nil {
		tanks = append(tanks, layers.Tank{ID: "bowl", Cores: s.bowl})
	}
	if count > 0 {
		tanks = append(tanks, layers.Tank{ID: "kettle", Cores: s.kettle})
	}
	return encode(t, tanks...)
}

// writeOn does deed after deed from a number on and acknowledges each, until it is killed.
func writeOn(ctx context.Context, path string, from int) error {
	b, err := Open(ctx, path, true)
	if err != nil {
		return err
	}
	fmt.Println("open")
	for n := from; ; n++ {
		if n == 0 {
			err = b.AddTank(ctx, noon, layers.Tank{ID: "kettle"})
		} else {
			err = deeds[n%len(deeds)].do(ctx, b, n)
		}
		if err != nil {
			return fmt.Errorf("deed %d: %w", n, err)
		}
		fmt.Println(n)
	}
}

// Killed at any moment, a writer leaves every acknowledged change behind, and the
// one under way either whole or not at all.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("kills a writer many times")
	}
	const freshEvery = 10 // kills, after which a new logbook is begun
	rng := rand.New(rand.NewPCG(3, 3))
	var path string
	var done, all, inHand, backups int
	for kill := range *killsFlag {
		if kill%freshEvery == 0 {
			path, done = filepath.Join(t.TempDir(), "logbook.db"), 0
		}
		before := done
		done = killWriter(t, path, done, rng)
		standing := whatStands(t, path, done)
		inHand += standing - done
		done = standing
		backups += checkBackups(t, path, before, done)
		all += done - before
		if t.Failed() {
			t.Fatalf("after kill %d", kill)
		}
	}
	t.Logf("%d kills: %d changes acknowledged or found whole, %d of them under way when killed; %d backups whole", *killsFlag, all, inHand, backups)
}

// killWriter lets a writer go on for a while and returns how many deeds are acknowledged.
func killWriter(t *testing.T, path string, done int, rng *rand.Rand) int {
	cmd := childCommand(t, "write", path, done)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	wait := time.Duration(rng.IntN(50)) * time.Millisecond
	if rng.IntN(4) > 0 { // else it may be killed while it opens the logbook
		lines.Scan()
	}
	timer := time.AfterFunc(wait, func() { cmd.Process.Kill() })
	defer timer.Stop()
	for lines.Scan() {
		if n, err := strconv.Atoi(lines.Text()); err == nil {
			done = n + 1
		}
	}
	if err := cmd.Wait(); err == nil || cmd.ProcessState.ExitCode() != -1 {
		t.Fatalf("the writer ended by itself: %v", err)
	}
	return done
}

// whatStands is how many deeds the logbook shows: those acknowledged, or one more.
func whatStands(t *testing.T, path string, acknowledged int) int {
	b, err := Open(context.Background(), path, false)
	if acknowledged == 0 && isTrouble(err, Missing) {
		return 0
	}
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	checkClean(t, b)
	got := export(t, b)
	for _, count := range []int{acknowledged, acknowledged + 1} {
		// A deed that changes no record shows in no export: it is done again.
		if got == exportAfter(t, count) {
			return count
		}
	}
	t.Errorf("after %d acknowledged changes the logbook holds\n%s", acknowledged, got)
	return acknowledged
}

// checkBackups holds the backups made to what stood then, and returns how many there are.
func checkBackups(t *testing.T, path string, from, to int) (found int) {
	for n := from; n <= to; n++ {
		if n == 0 || n%len(deeds) != len(deeds)-1 {
			continue
		}
		name := backupOf(path, n)
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
			if n < to {
				t.Errorf("backup %d was acknowledged and is not there", n)
			}
			os.RemoveAll(name + ".photos") // killed between the photos and the file
			continue
		}
		found++
		b := open(t, name, false)
		checkClean(t, b)
		if export(t, b) != exportAfter(t, n) {
			t.Errorf("backup %d does not hold what stood then", n)
		}
		b.Close()
		os.Remove(name)
		os.RemoveAll(name + ".photos")
	}
	return found
}
