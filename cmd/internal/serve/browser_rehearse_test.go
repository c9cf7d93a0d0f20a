package serve_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/browsertest"
)

// Sliders change the verdict and the picture of a rehearsal on the page that is open; the
// numbers are those of the command.
func TestServe_rehearsalSliders(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"import", "../demo/logbook.json"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.leads(t, click(`a[href="/tank/loft-jar"]`))
	tab.leads(t, click(`a[href="/tank/loft-jar/rehearse"]`))
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`window.here = true`))
	for _, at := range []struct {
		method, share, to string
		steps             chromedp.Action[chromedp.Void]
	}{
		{"siphon", "40", "10", chromedp.Steps(chromedp.Focus(chromedp.CSS(`[name="share"]`)), chromedp.KeyEvent(strings.Repeat(kb.ArrowRight, 3)))},
		{"siphon", "40", "13", chromedp.Steps(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(strings.Repeat(kb.ArrowRight, 3)))},
		{"stir", "40", "13", click(`[name="method"][value="stir"]`)},
	} {
		tab.Do(t, at.steps)
		args := []string{"rehearse", "loft-jar", "--method", at.method, "--share", at.share + "%", "--to", at.to + "mm"}
		verdict := strings.Join(strings.Fields(strings.Split(s.says(t, args...), "\n\n")[1]), " ")
		tab.until(t, fmt.Sprintf(`document.querySelector("#result [data-verdict]").textContent == %q`, verdict))
		drawn := browsertest.Found[[]string](t, tab, `[...document.querySelectorAll("#result svg text")].map(e => e.textContent)`)
		if diff := cmp.Diff(textsOf(t, s, args), drawn); diff != "" {
			t.Errorf("%q: the command draws (-), the page (+):\n%s", args, diff)
		}
		kept := slices.DeleteFunc(slices.Clone(drawn), func(text string) bool { return !strings.HasPrefix(text, "kept in ") })
		for i, number := range numbersOf(t, s, args) {
			var share float64
			if fmt.Sscanf(kept[i], "kept in %g of 100 draws", &share); math.Abs(share-100**number.Within) > 1 { // 99.9 is not told as 100
				t.Errorf("%q: %s: the page tells %q, the command %g", args, number.Name, kept[i], *number.Within)
			}
		}
		if told := tab.text(t, "#verdict"); told != verdict {
			t.Errorf("a screen reader is told %q, want %q", told, verdict)
		}
		if shown := tab.text(t, "#share-words") + ", " + tab.text(t, "#to-words"); shown != at.share+" %, "+at.to+" mm" {
			t.Errorf("the sliders say %q", shown)
		}
	}
	if !browsertest.Found[bool](t, tab, `window.here === true`) {
		t.Error("the page was loaded anew")
	}
	tab.reload(t)
	if at := browsertest.Found[string](t, tab, `location.search`); at != "?method=stir&share=40&to=13" || tab.text(t, "#share-words") != "40 %" {
		t.Errorf("a reload forgets the sliders: %s", at)
	}
	wantQuiet(t, tab)
}

// What can't be rehearsed any more is told in words where the result stood, not by a page
// within the page.
func TestServe_rehearsalOfATankThatIsGone(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t, []string{"tank", "add", "hall", "--box", "600x300mm", "--water-depth", "280mm"},
		[]string{"core", "add", "hall", "20mm #8b6a48", "40mm #d6c7a4", "--station", "front", "--date", "2026-05-01"},
		[]string{"water", "add", "hall", "--date", "2026-05-01", "--temp", "22C"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall/rehearse")
	for range 3 {
		s.says(t, "undo")
	}
	tab.Do(t, chromedp.Focus(chromedp.CSS(`[name="share"]`)), chromedp.KeyEvent(kb.ArrowRight))
	tab.until(t, `document.getElementById("result").textContent.includes('found no tank "hall"')`)
	if told := tab.text(t, "#verdict"); !strings.Contains(told, `found no tank "hall"`) {
		t.Errorf("a screen reader is told %q", told)
	}
	if titles := browsertest.Found[int](t, tab, `document.querySelectorAll("h1").length`); titles != 1 {
		t.Errorf("the page has %d titles", titles)
	}
	wantQuiet(t, tab, "status of 404")
}

var textOfPicture = regexp.MustCompile(`<text[^>]*>([^<]*)</text>`)

// textsOf are the texts of the picture that a command draws.
func textsOf(t *testing.T, s stand, args []string) (texts []string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "drawn.svg")
	s.says(t, append(slices.Clone(args), "--out", file)...)
	svg, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range textOfPicture.FindAllStringSubmatch(string(svg), -1) {
		texts = append(texts, strings.NewReplacer("&#39;", "'", "&lt;", "<", "&amp;", "&").Replace(text[1]))
	}
	return texts
}

// limited is a number of a rehearsal that has a limit and is known.
type limited struct {
	Name   string
	Limit  *float64
	Within *float64
}

func numbersOf(t *testing.T, s stand, args []string) (list []limited) {
	t.Helper()
	var told struct{ Numbers []limited }
	if err := json.Unmarshal([]byte(s.says(t, append(slices.Clone(args), "--json")...)), &told); err != nil {
		t.Fatal(err)
	}
	for _, number := range told.Numbers {
		if number.Limit != nil && number.Within != nil {
			list = append(list, number)
		}
	}
	if len(list) < 2 {
		t.Fatalf("found %d numbers with a limit that are known", len(list))
	}
	return list
}
