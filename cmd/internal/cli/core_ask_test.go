package cli_test

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"testing"

	"panecore/cmd/internal/programtest"
)

// askedBook is a logbook with a tank that was read once, on 2026-10-25.
func askedBook(t *testing.T) (environ map[string]string) {
	t.Helper()
	environ = map[string]string{"PANECORE_LOGBOOK": filepath.Join(t.TempDir(), "logbook.db"), "LANG": "C.UTF-8"}
	for _, args := range [][]string{
		{"tank", "add", "kettle", "--set-up", "2024-10-12", "--native", "#d9cba6,sand"},
		{"core", "add", "kettle", "--station", "left", "--date", "2026-10-25", "--lit", "10mm #8b5e3c", "4mm #b4552a rust", "46mm #d9cba6"},
		{"bands", "add", "mulm1", "--hex", "#7c593a", "--band", "mulm-light", "--tank", "kettle"},
	} {
		if w := programtest.NewWorld(environ); w.Run(args...) != 0 {
			t.Fatalf("%v: %s", args, &w.Told)
		}
	}
	return environ
}

// answer runs a command at a terminal on which the lines are typed.
func answer(environ map[string]string, lines []string, args ...string) (w *programtest.World, code int) {
	w = programtest.NewWorld(environ)
	w.StdinIsTerminal = true
	if len(lines) > 0 {
		w.Stdin = strings.NewReader(strings.Join(lines, "\n") + "\n")
	}
	return w, w.Run(args...)
}

// exported is the logbook as a document.
func exported(t *testing.T, environ map[string]string) string {
	t.Helper()
	w := programtest.NewWorld(environ)
	if code := w.Run("export"); code != 0 {
		t.Fatal(&w.Told)
	}
	return w.Printed.String()
}

// coresAdded are the cores that were added to askedBook, as they stand in a document
// without its blanks.
func coresAdded(t *testing.T, environ map[string]string) string {
	t.Helper()
	text := strings.Join(strings.Fields(exported(t, environ)), "")
	_, after, ok := strings.Cut(text, `{"thickness_mm":46,"hex":"#d9cba6"}]}`)
	if !ok {
		t.Fatalf("the first core is gone: %s", text)
	}
	return strings.TrimSuffix(strings.TrimPrefix(after, ","), "]}]}")
}

func TestRunCoreAdd_asked(t *testing.T) {
	environ := askedBook(t)
	w, code := answer(environ, []string{
		"",                 // the only station
		"2026-11-24",       //
		"12mm #d03fd0", "", // its band is left open
		"4", "4mm brown", "4mm #b4552a", "r", // slips are told, and asked again
		"rust",
		`30mm #2f6fb0 mulm-dark "old leaves"`, // a band and a note with it: not asked again
		"",                                    // done
		"maybe", "no", "gas-bubbles egg", "gas-bubbles, roots-deep", "after the weekend",
		"3", "", // whether it is right is left open
	}, "core", "add", "kettle")
	if code != 0 || w.Printed.Len() > 0 {
		t.Fatalf("exit code %d, output %q:\n%s", code, &w.Printed, &w.Told)
	}
	const want = `{"date":"2026-11-24","station":"left","lit":false,"signs":["gas-bubbles","roots-deep"],"note":"aftertheweekend",` +
		`"layers":[{"thickness_mm":12,"hex":"#d03fd0"},{"thickness_mm":4,"hex":"#b4552a","band":"rust"},` +
		`{"thickness_mm":30,"hex":"#2f6fb0","band":"mulm-dark","note":"oldleaves"}]}`
	if got := coresAdded(t, environ); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	for _, line := range []string{
		`Station \[left\]: `, `Date, YYYY-MM-DD \[2026-11-25\]: `,
		`The core of left before:\n +mm 2026-10-25\n +1 +10 #8b5e3c mulm-light\n +2 +4 #b4552a rust\n +3 +46 #d9cba6 native\n`,
		`Layer 1, thickness and colour, as in 18mm #6b4a2b: `,
		`  #d03fd0 by itself may mean unknown \d+ %\n`,
		`Its band, if you are sure of it \[leave it open\]: `,
		`Layer 2, from 12 mm down \(2026-10-25: 4 mm #b4552a rust\) \[done\]: `,
		`  thickness: found "4", want a number with its unit`,
		`  colour: found "brown", want `,
		`  found band "r", want one of `,
		`Layer 4, from 46 mm down \[done\]: `,
		` +mm 2026-11-24 +mm 2026-10-25\n +1 +12 #d03fd0 unknown +1 +10 #8b5e3c mulm-light\n`,
		`Does light reach the glass there, yes or no \[yes\]: `, `  found "maybe", want yes or no`,
		`  found "egg", want a known one: did you mean egg-smell\?`,
		`A note \[none\]: The core of left on 2026-11-24 is very unlike .*\?\n  1  No, take it out\n  2  It is right as it stands\nWhich is it, by its number \[leave it open\]: `,
		`  found "3", want a number from 1 to 2, or nothing\n`,
		`: panecore: core left 2026-11-24 of tank "kettle" added: layers: 3, down to 46 mm; 'panecore undo' undoes it\n` +
			`panecore: The core of left on 2026-11-24 is very unlike .*\?\n  No, take it out: .*\n  It is right as it stands: .*\n$`,
	} {
		if !regexp.MustCompile(line).MatchString(w.Told.String()) {
			t.Errorf("found no %q in\n%s", line, &w.Told)
		}
	}
}

// A step back takes the last answer back, whatever it was, as often as is wanted.
func TestRunCoreAdd_stepsBack(t *testing.T) {
	environ := askedBook(t)
	w, code := answer(environ, []string{
		"<", "right", "<", "back", "2026-11-24", "<", "2026-11-23",
		"1mm #000000", "black", "2mm #000000", "<", "<", "<", "<", "<", // to the station again
		"", "", "3mm #8b5e3c", "", "4mm #b4552a rust", "<", "5mm #b4552a", "<", "5mm #b4552a rust", "done",
		"yes", "<", "<", "6mm #d9cba6 native", "", "", "egg-smell", "<", "", "<", "white-threads", "", "<", "", "",
	}, "core", "add", "kettle")
	if code != 0 {
		t.Fatalf("exit code %d:\n%s", code, &w.Told)
	}
	const want = `{"date":"2026-11-25","station":"left","lit":true,"signs":["white-threads"],` +
		`"layers":[{"thickness_mm":3,"hex":"#8b5e3c"},{"thickness_mm":5,"hex":"#b4552a","band":"rust"},{"thickness_mm":6,"hex":"#d9cba6","band":"native"}]}`
	if got := coresAdded(t, environ); got != want {
		t.Errorf("got %s\nwant %s\n%s", got, want, &w.Told)
	}
	if !strings.Contains(w.Told.String(), "this is the first question") {
		t.Error("the first question is not told")
	}
}

// What a flag has said is not asked, and layers that are typed leave no question at all.
func TestRunCoreAdd_flagsAnswer(t *testing.T) {
	environ := askedBook(t)
	w, code := answer(environ, []string{"12mm #8b5e3c", "", ""},
		"core", "add", "kettle", "--station", "right", "--date", "2026-11-01", "--unlit", "--sign", "none", "--note", "bare")
	if code != 0 || regexp.MustCompile(`Station|Date|Does light|besides:|A note`).MatchString(w.Told.String()) {
		t.Errorf("exit code %d:\n%s", code, &w.Told)
	}
	const want = `{"date":"2026-11-01","station":"right","lit":false,"note":"bare","layers":[{"thickness_mm":12,"hex":"#8b5e3c"}]}`
	if got := coresAdded(t, environ); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	w, code = answer(environ, nil, "core", "add", "kettle", "--date", "2026-11-02", "--station", "right", "12mm #8b5e3c")
	if code != 0 || strings.Count(w.Told.String(), "\n") != 1 {
		t.Errorf("exit code %d:\n%s", code, &w.Told)
	}
}

// What does not fit is asked about before it is filed; the answer mends it, and with nothing
// left to ask nothing is warned of.
func TestRunCoreAdd_asksDoubt(t *testing.T) {
	const asRead = `"layers":[{"thickness_mm":42,"hex":"#8b5e3c"},{"thickness_mm":20,"hex":"#3d3c33","band":"black"},{"thickness_mm":60,"hex":"#d9cba6"}]}`
	for _, c := range []struct {
		name    string
		layers  []string
		answers []string
		told    string // by the question
		want    string // in the document without its blanks
	}{
		{"turned over", []string{"60mm #d9cba6", "", "20mm #3d3c33 black", "42mm #8b5e3c", "", ""}, []string{"1"}, "looks upside down", asRead},
		{"depths", []string{"42mm #8b5e3c", "", "62mm #3d3c33 black", "122mm #d9cba6", "", ""}, []string{"1"}, "depths of the edges", asRead},
		{"mm as cm", []string{"42cm #8b5e3c", "", "20cm #3d3c33 black", "60cm #d9cba6", "", ""}, []string{"1"}, "Was mm typed as cm", asRead},
		{"cm as mm", []string{"4.2mm #8b5e3c", "", "2mm #3d3c33 black", "6mm #d9cba6", "", ""}, []string{"1"}, "Was cm typed as mm", asRead},
		{"one in cm", []string{"42cm #8b5e3c", "", "20mm #3d3c33 black", "60mm #d9cba6", "", ""}, []string{"1"}, "since layer 1 is 420 mm thick", asRead},
		{"thought again", []string{"60mm #d9cba6", "", "20mm #3d3c33 black", "42mm #8b5e3c", "", ""}, []string{"<", "", "2"}, "looks upside down", `"lit":true,"sure":true,"layers":[{"thickness_mm":60,`},
		{"typed anew", []string{"42mm #2f6fb0", "", "10mm #d03fd0 black", ""},
			[]string{"1", "", "", "42mm #8b5e3c", "", "20mm #3d3c33 black", "60mm #d9cba6", "", "", "", "", ""}, "very unlike", asRead},
		{"mulm gone", []string{"12mm #8b5e3c", "", "20mm #3d3c33 black", "60mm #d9cba6", "", ""}, []string{"1"}, "Was it siphoned?",
			`"events":[{"date":"2026-11-24","kind":"siphon"`},
		{"substrate on top", []string{"50mm #d9cba6", "", "42mm #8b5e3c", "", "20mm #3d3c33 black", "60mm #d9cba6", "", ""}, []string{"1"}, "Was substrate added?",
			`"events":[{"date":"2026-11-24","kind":"top-up-substrate"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			environ := askedBook(t)
			if w := programtest.NewWorld(environ); w.Run("core", "add", "kettle", "--station", "deep", "--lit", "--date", "2026-10-25", "40mm #8b5e3c", "20mm #3d3c33 black", "60mm #d9cba6") != 0 {
				t.Fatal(&w.Told)
			}
			answers := slices.Concat([]string{"deep", ""}, c.layers, []string{"", "", ""}, c.answers)
			w, code := answer(environ, answers, "core", "add", "kettle")
			if code != 0 || !strings.Contains(w.Told.String(), c.told) || strings.Contains(w.Told.String(), "core amend") {
				t.Fatalf("exit code %d, want 0, %q, and nothing to amend:\n%s", code, c.told, &w.Told)
			}
			if got := strings.Join(strings.Fields(exported(t, environ)), ""); !strings.Contains(got, c.want) {
				t.Errorf("got %s\nwant %s", got, c.want)
			}
		})
	}
	w, code := answer(askedBook(t), []string{"", "", "12mm #8b5e3c", "", "", "", "", ""}, "core", "add", "kettle", "--sure")
	if code != 0 || strings.Contains(w.Told.String(), "unlike") {
		t.Errorf("asked a keeper who is sure, or exit code %d:\n%s", code, &w.Told)
	}
}

// A station and a date that can't be are refused at once, not after the last answer.
func TestRunCoreAdd_refusedAtOnce(t *testing.T) {
	environ := askedBook(t)
	before := exported(t, environ)
	w, code := answer(environ, []string{"left", "2026-10-25", "2026-11-26", "2024-10-11", "24.11.2026", "", "", "done"}, "core", "add", "kettle")
	if code != 2 {
		t.Errorf("exit code %d", code)
	}
	for _, line := range []string{
		"  found core left 2026-10-25 in the logbook already, want another day, or 'panecore core amend'\n",
		"  found date 2026-11-26, want 2026-11-25 (today) or earlier\n",
		"  found date 2024-10-11, want 2024-10-12 (the tank's set-up) or later\n",
		"  found date \"24.11.2026\", want a day of the calendar as YYYY-MM-DD\n",
		"  found no layer, want one at least\n",
	} {
		if !strings.Contains(w.Told.String(), line) {
			t.Errorf("found no %q in\n%s", line, &w.Told)
		}
	}
	w, code = answer(environ, []string{"12mm #8b5e3c"}, "core", "add", "kettle", "--station", "left", "--date", "2026-10-25")
	if code != 2 || !strings.HasPrefix(w.Told.String(), "panecore: found core left 2026-10-25 in the logbook already, ") {
		t.Errorf("exit code %d: %s", code, &w.Told)
	}
	if exported(t, environ) != before {
		t.Error("the logbook has changed")
	}
}

// Wherever the answers end, the logbook is as it was.
func TestRunCoreAdd_endsEarly(t *testing.T) {
	environ := askedBook(t)
	before := exported(t, environ)
	lines := []string{"", "", "12mm #8b5e3c", "", "done", "yes", "none"}
	for n := range len(lines) + 1 {
		w, code := answer(environ, lines[:n], "core", "add", "kettle")
		want := "panecore: standard input: found its end before the last answer, want one: nothing was added\n"
		if code != 2 || !strings.HasSuffix(w.Told.String(), want) {
			t.Errorf("after %d answers: exit code %d:\n%s", n, code, &w.Told)
		}
	}
	w := programtest.NewWorld(environ)
	w.StdinIsTerminal, w.Stdin = true, reader{syscall.EIO}
	if code := w.Run("core", "add", "kettle"); code != 1 || !strings.HasSuffix(w.Told.String(), "panecore: standard input: "+syscall.EIO.Error()+"\n") {
		t.Errorf("a broken terminal: exit code %d: %s", code, &w.Told)
	}
	if exported(t, environ) != before {
		t.Error("the logbook has changed")
	}
}

// The last answer counts also where no line break ends it.
func TestRunCoreAdd_lastLineWithoutEnd(t *testing.T) {
	environ := askedBook(t)
	w := programtest.NewWorld(environ)
	w.StdinIsTerminal, w.Stdin = true, strings.NewReader("\n\n12mm #8b5e3c\n\n\n\n\nthe end")
	if code := w.Run("core", "add", "kettle", "--sure"); code != 0 || !strings.Contains(coresAdded(t, environ), `"note":"theend"`) {
		t.Errorf("exit code %d: %s", code, &w.Told)
	}
}

func TestRunCoreRemove_asked(t *testing.T) {
	environ := askedBook(t)
	before := exported(t, environ)
	for _, no := range []string{"", "n", "no", "maybe"} {
		w, code := answer(environ, []string{no}, "core", "remove", "kettle", "--date", "2026-10-25")
		if code != 0 || exported(t, environ) != before || !strings.Contains(w.Told.String(), "nothing was changed") {
			t.Errorf("%q: exit code %d: %s", no, code, &w.Told)
		}
	}
	w, code := answer(environ, []string{"y"}, "core", "remove", "kettle", "--date", "2026-10-25")
	if code != 0 || !strings.HasPrefix(w.Told.String(), `remove core left 2026-10-25 of tank "kettle"? [y/N] `) || exported(t, environ) == before {
		t.Errorf("exit code %d: %s", code, &w.Told)
	}
}

// Whoever types a table is told how to end it.
func TestRunCoreAdd_tableFromTerminal(t *testing.T) {
	environ := askedBook(t)
	w, code := answer(environ, []string{"thickness_mm,hex", "12,#8b5e3c"}, "core", "add", "kettle", "-")
	if code != 0 || !strings.HasPrefix(w.Told.String(), "panecore: reading a table of layers from the terminal; end it with Ctrl-D") {
		t.Errorf("exit code %d: %s", code, &w.Told)
	}
}
