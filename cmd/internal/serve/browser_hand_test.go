package serve_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"

	"panecore/cmd/internal/browsertest"
)

// rowField is a field of the n-th layer on the form of a core, from 1.
func rowField(n int, name string) string {
	return fmt.Sprintf(`#rows .row:nth-child(%d) [name=%q]`, n, name)
}

// A core is typed: by letters, by a colour at hand and by a name of one's own. What it
// comes to is drawn meanwhile; what can't be read is told in words and stays.
func TestServe_readingByHand(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t,
		[]string{"tank", "add", "hall", "--native", "#d5c8a5,sand,60mm,pale sand"},
		[]string{"core", "add", "hall", "9mm #8b5e3c", "40mm #d5c8a5", "--station", "front", "--date", "2026-05-01"})
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.leads(t, click(`a[href="/tank/hall"]`))
	tab.leads(t, click(`a[href="/tank/hall/read"]`))
	tab.Do(t, fill(rowField(1, "thickness"), "12"), fill(rowField(1, "hex"), "#8b5e3c"))
	tab.until(t, drawnAre(1))
	if picked := browsertest.Found[string](t, tab, `document.querySelector("#rows .row:nth-child(1) [data-picks]").value`); picked != "#8b5e3c" {
		t.Errorf("the picker beside the text shows %s", picked)
	}
	tab.Do(t, chromedp.KeyEvent(kb.Enter)) // on to the next layer
	tab.has(t, rowField(2, "thickness"))
	tab.Do(t, chromedp.KeyEvent("3cm"))
	tab.Do(t, click(`#rows .row:nth-child(2) .at-hand`), click(`#swatches [data-color="#d5c8a5"]`))
	tab.until(t, drawnAre(2))
	if told := tab.text(t, "#drawn .whole"); !strings.Contains(told, "Mulm 12\u00a0mm") {
		t.Errorf("beside the form stands %q, want the mulm", told)
	}

	tab.Do(t, fill(rowField(3, "thickness"), "much"), fill(rowField(3, "hex"), "#111111"))
	tab.until(t, `document.querySelector("#drawn .whole").textContent.includes("Layer 3 is not drawn yet")`)
	tab.Do(t, fill(`#hand textarea[name="note"]`, "typed at the glass"), click(`#hand [name="sign"][value="roots-deep"]`))
	tab.leads(t, click(`#hand [value="save"]`))
	for field, want := range map[string]string{rowField(3, "thickness"): "much", rowField(2, "thickness"): "3cm", `#hand textarea[name="note"]`: "typed at the glass"} {
		if typed := browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).value`, field)); typed != want {
			t.Errorf("%s is %q after a fault, want %q", field, typed, want)
		}
	}
	tab.has(t, rowField(3, "thickness"))
	if told := tab.text(t, `#rows .row:nth-child(3) .fault`); !strings.Contains(told, `found`) || !strings.Contains(told, `"much"`) {
		t.Errorf("the fault is told as %q", told)
	}

	tab.Do(t, fill(rowField(3, "thickness"), "10mm"))
	tab.choose(t, rowField(3, "band"), "grey")
	tab.until(t, drawnAre(3))
	tab.leads(t, click(`#hand [value="save"]`))
	if said := tab.text(t, ".said"); said != "The reading of front, 2026-11-25 is saved." {
		t.Errorf("said %q", said)
	}
	var core struct {
		Date   string
		Note   string
		Signs  []string
		Layers []struct {
			Thickness float64 `json:"thickness_mm"`
			Hex, Band string
		}
	}
	if err := json.Unmarshal([]byte(coreExported(t, s, 1)), &core); err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprintf("%+v", core); got != `{Date:2026-11-25 Note:typed at the glass Signs:[roots-deep] Layers:[`+
		`{Thickness:12 Hex:#8b5e3c Band:} {Thickness:30 Hex:#d5c8a5 Band:} {Thickness:10 Hex:#111111 Band:grey}]}` {
		t.Errorf("saved %s", got)
	}
	wantQuiet(t, tab, "status of 422")
}

// drawnAre: so many layers are drawn of what is typed.
func drawnAre(n int) string {
	return fmt.Sprintf(`document.querySelectorAll("#drawn .meanings li").length == %d`, n)
}

// coreExported is a core of the tank hall as the logbook's document has it.
func coreExported(t *testing.T, s stand, core int) string {
	t.Helper()
	var document struct {
		Tanks []struct{ Cores []json.RawMessage }
	}
	if err := json.Unmarshal([]byte(s.says(t, "export", "hall")), &document); err != nil || len(document.Tanks[0].Cores) <= core {
		t.Fatalf("%v: %+v", err, document)
	}
	return string(document.Tanks[0].Cores[core])
}

// A core is amended and removed, and both are taken back, each to the letter.
func TestServe_amendRemoveUndo(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := standing(t,
		[]string{"tank", "add", "hall"},
		[]string{"core", "add", "hall", "9mm #8b5e3c", "40mm #d5c8a5", "--station", "front", "--date", "2026-05-01"})
	before := s.says(t, "export")
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.leads(t, click(`a[href="/tank/hall"]`))
	tab.leads(t, click(`a[href="/tank/hall/core/front/2026-05-01"]`))
	tab.Do(t, fill(rowField(1, "thickness"), "14"))
	tab.leads(t, click(`#hand [value="save"]`))
	amended := s.says(t, "export")
	if !strings.Contains(amended, `"thickness_mm": 14`) || !strings.Contains(amended, `"thickness_mm": 40`) {
		t.Errorf("amended to %s", amended)
	}
	remove := `form[action="/tank/hall/core/front/2026-05-01/remove"] button`
	tab.leads(t, click(remove))
	if browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q) != null`, remove)) || strings.Contains(s.says(t, "export"), "2026-05-01") {
		t.Error("the removed core is still there")
	}
	for _, want := range []string{amended, before} {
		tab.leads(t, click(".undo button"))
		if said := tab.text(t, ".said"); !strings.HasPrefix(said, "Undone: ") {
			t.Errorf("said %q", said)
		}
		if diff := cmp.Diff(want, s.says(t, "export")); diff != "" {
			t.Errorf("what was (-) and what undo gives back (+):\n%s", diff)
		}
	}
	if at := tab.at(t); at != "/tank/hall" {
		t.Errorf("undo went to %s", at)
	}
	wantQuiet(t, tab)
}
