package logbook

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"testing"
	"time"

	"panecore/layers"
)

// The reliability tests run this program again as a child, which they may kill.
var (
	childFlag   = flag.String("child", "", "run as the child of a test (the tests set it)")
	logbookFlag = flag.String("logbook", "", "the child's logbook (the tests set it)")
	numberFlag  = flag.Int("number", 0, "which child it is, or where it goes on (the tests set it)")
)

// A child does what its name says with a logbook.
type child func(ctx context.Context, path string, number int) error

func TestMain(m *testing.M) {
	flag.Parse()
	if *childFlag == "" {
		os.Exit(m.Run())
	}
	if err := children[*childFlag](context.Background(), *logbookFlag, *numberFlag); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func childCommand(t *testing.T, name, path string, number int) *exec.Cmd {
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "-child", name, "-logbook", path, "-number", fmt.Sprint(number))
	cmd.Stderr = os.Stderr
	return cmd
}

// noon is when the tests write: on 2026-12-01.
var noon = time.Date(2026, 12, 1, 12, 0, 0, 0, time.UTC)

// tester is a *testing.T, *testing.B or *rapid.T.
type tester interface {
	Helper()
	Error(args ...any)
	Errorf(format string, args ...any)
	Fatal(args ...any)
}

func open(t tester, path string, create bool) *Book {
	t.Helper()
	book, err := Open(context.Background(), path, create)
	if err != nil {
		t.Fatal(err)
	}
	return book
}

// newBook is an empty logbook that is closed as the test ends.
func newBook(t testing.TB) *Book {
	t.Helper()
	book := open(t, t.TempDir()+"/logbook.db", true)
	t.Cleanup(func() { book.Close() })
	return book
}

// kettle is the tank of the contract's example.
func kettle(t testing.TB) layers.Tank {
	t.Helper()
	document, err := os.ReadFile("../../testdata/contract.json")
	if err != nil {
		t.Fatal(err)
	}
	tanks, err := layers.Decode(bytes.NewReader(document), layers.DateOf(noon))
	if err != nil {
		t.Fatal(err)
	}
	return tanks[0]
}

// export is the document of a whole logbook, retired tanks included.
func export(t tester, b *Book) string {
	t.Helper()
	var tanks []layers.Tank
	for tank, err := range b.Tanks(context.Background(), true) {
		if err != nil {
			t.Fatal(err)
		}
		tanks = append(tanks, tank)
	}
	return encode(t, tanks...)
}

func encode(t tester, tanks ...layers.Tank) string {
	t.Helper()
	var document bytes.Buffer
	if err := layers.Encode(&document, tanks); err != nil {
		t.Fatal(err)
	}
	return document.String()
}

func checkClean(t tester, b *Book) {
	t.Helper()
	found, err := b.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range found.Problems {
		t.Error(p)
	}
}

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return content
}
