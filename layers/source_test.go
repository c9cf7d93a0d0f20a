package layers

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
)

// endless repeats a text for 200 MB after a head, and counts what is read of it.
type endless struct {
	head, text string
	at         int // where in text it stands
	read       int64
}

func (e *endless) Read(p []byte) (int, error) {
	if e.read >= 200_000_000 {
		return 0, io.EOF
	}
	if e.head != "" {
		n := copy(p, e.head)
		e.head = e.head[n:]
		return n, nil
	}
	n := 0
	for n < len(p) {
		copied := copy(p[n:], e.text[e.at:])
		n += copied
		e.at = (e.at + copied) % len(e.text)
	}
	e.read += int64(n)
	return n, nil
}

// Garbage is refused after little reading and in little memory.
func TestDecode_garbage(t *testing.T) {
	noise := make([]byte, 1<<16)
	rand.NewChaCha8([32]byte{}).Read(noise)
	const tooLong = "a text, a number or blanks longer than 64 KiB"
	for name, test := range map[string]struct {
		head, text, want string
	}{
		"noise":          {"", string(noise), "want"},
		"blanks":         {"", strings.Repeat(" ", 1000), "line 1, column 1: found " + tooLong},
		"lines":          {"\n\n  {", "\n", "line 3, column 4: found " + tooLong},
		"zero bytes":     {"", "\x00", `line 1, column 1: found "\x00"`},
		"lists":          {"", "[", "document: found a list"},
		"lists below":    {`{"tanks": [`, "[", "lists or objects 10,000 deep"},
		"lists in more":  {`{"more": `, "[", "lists or objects 10,000 deep"},
		"objects":        {`{"more": `, `{"a":`, "lists or objects 10,000 deep"},
		"text":           {`{"format": "`, "abc", "line 1, column 10: found " + tooLong},
		"escapes":        {`{"format": "`, `\n`, "line 1, column 10: found " + tooLong},
		"name":           {`{"`, "abc", "line 1, column 2: found " + tooLong},
		"number":         {`{"format": `, "1", "line 1, column 10: found " + tooLong},
		"blanks at end":  {`{"format": "panecore/1", "tanks": []}`, " ", "line 1, column 38: found " + tooLong},
		"noise at end":   {`{"format": "panecore/1", "tanks": []}` + "\n ", "x ", `line 2, column 2: found "x", want nothing after the document`},
		"text at end":    {`{"format": "panecore/1", "tanks": []}`, `"`, `line 1, column 38: found a quote mark, want nothing after the document`},
		"binary in text": {`{"format": "`, "\xff", "bytes that are no UTF-8 text"},
	} {
		t.Run(name, func(t *testing.T) {
			r := &endless{head: test.head, text: test.text}
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := Decode(r, today)
			runtime.ReadMemStats(&after)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got %v, want %s", err, test.want)
			}
			if r.read > 1<<20 {
				t.Errorf("read %d bytes before it was refused, want less than 1 MiB", r.read)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > 8<<20 {
				t.Errorf("took %d bytes of memory, want less than 8 MiB", used)
			}
		})
	}
}

// largest is the size of the largest document in bytes.
const largest = 128 << 20

// What is JSON, but too much of it, is read up to the limit and no further.
func TestDecode_tooLarge(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 128 MiB")
	}
	r := &endless{head: `{"format": "panecore/1", "more": [`, text: `"` + strings.Repeat("x", 9_995) + `", `}
	_, err := Decode(r, today)
	if err == nil || !strings.HasSuffix(err.Error(), "\ndocument: found more than 128 MiB, want at most 128 MiB: split it by tanks") {
		t.Errorf("got %v", err)
	}
	if r.read > largest+1<<20 {
		t.Errorf("read %d bytes, want little more than %d", r.read, largest)
	}
}

// A text that is long, but not too long, is read whole.
func TestDecode_longNote(t *testing.T) {
	note := strings.Repeat(`\ud83d\udc1f`, longestNote) // a fish, escaped: 12 bytes each
	tanks, err := Decode(strings.NewReader(oneCore(`"note": "`+note+`", `)), today)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := tanks[0].Cores[0].Note, strings.Repeat("🐟", longestNote); got != want {
		t.Errorf("got %d bytes of note, want %d", len(got), len(want))
	}
}

// Lines and columns hold wherever the fault lies in what is kept of the document.
func TestDecode_position(t *testing.T) {
	for _, blank := range []string{" ", "\n", "\r\n", "\n \t"} {
		for _, tanks := range []int{0, 1, 2500, 2600, 10000, 30000} {
			var head strings.Builder
			head.WriteString(`{"format": "panecore/1", "tanks": [`)
			for i := range tanks {
				fmt.Fprintf(&head, `%s{"id": "käfer-%d"},`, blank, i)
			}
			head.WriteString(blank)
			text := head.String()
			line := 1 + strings.Count(text, "\n")
			column := 1 + len([]rune(text[strings.LastIndex(text, "\n")+1:]))
			_, err := Decode(strings.NewReader(text+"NaN"), today)
			want := fmt.Sprintf("line %d, column %d, in tanks[%d]: found \"NaN\"", line, column, tanks)
			if err == nil || !strings.HasPrefix(err.Error(), want) {
				t.Errorf("%q × %d: got %v, want %s", blank, tanks, err, want)
			}
		}
	}
}

func TestDecode_empty(t *testing.T) {
	for _, document := range []string{"", " \n", "\ufeff", "\ufeff\n"} {
		_, err := Decode(bytes.NewReader([]byte(document)), today)
		if err == nil || !strings.HasPrefix(err.Error(), "document: found nothing, want a logbook document") {
			t.Errorf("%q: got %v", document, err)
		}
	}
}
