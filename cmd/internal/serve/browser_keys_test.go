package serve_test

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"panecore/cmd/internal/browsertest"
)

// A photo is read without a pointer: from the overview to the saved core by Tab, arrows,
// Enter and letters.
func TestServe_photoByKeys(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.tabTo(t, `a[href="/photo?tank=hall"]`)
	tab.leads(t, enterKey)
	tab.openPhotoByKeys(t, truth.Path())
	for _, mark := range [][2]string{{"card", "#card-out-0"}, {"strip", "#strip-anew"}, {"ruler", "#ruler-anew"}} {
		tab.tabTo(t, "#step-"+mark[0]+" .step-name")
		tab.Do(t, enterKey)
		tab.tabTo(t, mark[1])
		tab.Do(t, enterKey)
	}

	tab.tabTo(t, "#ruler-place")
	tab.Do(t, enterKey)
	r := truth.Picks.Ruler
	tab.nudge(t, "ruler-from", place{r[0], r[1]})
	tab.Do(t, chromedp.KeyEvent(kb.Tab))
	tab.nudge(t, "ruler-to", place{r[2], r[3]})
	tab.Do(t, enterKey, chromedp.KeyEvent(fmt.Sprint(r[4])), enterKey)

	tab.tabTo(t, "#card-place")
	tab.Do(t, enterKey)
	tab.nudgeBox(t, "card-0", truth.Picks.Neutral[0].Box)
	tab.Do(t, enterKey)
	tab.has(t, "#card-next")
	tab.Do(t, enterKey)

	tab.tabTo(t, "#strip-place")
	tab.Do(t, enterKey)
	tab.nudgeBox(t, "strip", truth.Picks.Strip)
	tab.Do(t, enterKey)
	tab.has(t, "#strip-next")
	tab.Do(t, enterKey)

	tab.steady(t)    // chromium loses what is on its way then
	tab.slow(t, 300) // what is done before an answer has come is not lost, and not done to what was seen before
	tab.tabTo(t, "#surface-place")
	tab.Do(t, enterKey)
	tab.nudge(t, "surface", place{0, truth.Picks.Surface})
	tab.Do(t, enterKey)
	tab.has(t, "#surface-next")
	tab.Do(t, enterKey)
	tab.until(t, `document.getElementById("handle-edge-1")`)

	tab.tabBack(t, "#handle-edge-1")
	tab.Do(t, chromedp.KeyEvent(strings.Repeat(kb.ArrowDown, 3)), enterKey)
	tab.has(t, "#layers-list .layer:nth-child(1) select")
	tab.tabTo(t, "#layers-list .layer:nth-child(3) select")
	tab.turn(t, "#layers-list .layer:nth-child(3) select", "grey")
	_, seen := seenOf(t, tab, func(q photoQuestion) bool { return len(q.Cuts) > 2 && q.Cuts[2].Band == "grey" })
	tab.tabTo(t, "#layers-next")
	tab.Do(t, enterKey)
	tab.tabTo(t, "#save-go")
	tab.leads(t, enterKey)
	if at := tab.at(t); at != "/tank/hall" {
		t.Fatalf("at %s after saving", at)
	}
	savedIs(t, s, seen)
	wantQuiet(t, tab)
}

// enterKey is Enter as a keyboard sends it: where a page takes the key for itself, no letter
// follows for what has the focus then, as one does with chromedp.KeyEvent.
var enterKey = chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
	key := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: "Enter", Code: "Enter", Text: "\r", WindowsVirtualKeyCode: 13}
	if _, err := chromedp.Call(ctx, input.DispatchKeyEvent, key); err != nil {
		return err
	}
	key.Type, key.Text = input.DispatchKeyEventTypeKeyUp, ""
	_, err := chromedp.Call(ctx, input.DispatchKeyEvent, key)
	return err
})

// openPhotoByKeys chooses a file in the browser's own dialog, which the test stands in for.
func (tab *tab) openPhotoByKeys(t *testing.T, file string) {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(tab, page.SetInterceptFileChooserDialog, page.SetInterceptFileChooserDialogParams{Enabled: true}); err != nil {
		t.Fatal(err)
	}
	tab.tabTo(t, "#photo-file")
	opened, err := chromedp.Run(tab, chromedp.WaitEvent(page.FileChooserOpened, nil, chromedp.KeyEvent(" ")))
	if err != nil {
		t.Fatal(err)
	}
	tab.leads(t, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, BackendNodeID: opened.BackendNodeID})
		return err
	}))
	tab.until(t, `document.getElementById("photo-wait")?.hidden && document.getElementById("photo").ariaBusy == "false"`)
}

// slowParams are those of chromium up to 148 as well, which wants to be told that it is not offline.
type slowParams struct {
	network.EmulateNetworkConditionsByRuleParams
	Offline bool `json:"offline"`
}

// slow has each answer come so many ms later.
func (tab *tab) slow(t *testing.T, ms float64) {
	t.Helper()
	p := slowParams{EmulateNetworkConditionsByRuleParams: network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{{Latency: ms, DownloadThroughput: -1, UploadThroughput: -1}}}}
	emulate := cdp.Command[slowParams, network.EmulateNetworkConditionsByRuleResult]{Method: network.CommandEmulateNetworkConditionsByRule}
	if _, err := chromedp.Call(tab, emulate, p); err != nil {
		t.Fatal(err)
	}
}

// tabTo goes on by the Tab key until an element has the focus.
func (tab *tab) tabTo(t *testing.T, selector string) {
	t.Helper()
	tab.walk(t, selector)
}

// tabBack goes back to an element.
func (tab *tab) tabBack(t *testing.T, selector string) {
	t.Helper()
	tab.walk(t, selector, chromedp.KeyModifiers(chromedp.ModifierShift))
}

func (tab *tab) walk(t *testing.T, selector string, with ...chromedp.KeyOption) {
	t.Helper()
	is := fmt.Sprintf(`document.activeElement.matches(%q)`, selector)
	for range 200 { // keys, more than any page takes
		tab.Do(t, chromedp.KeyEvent(kb.Tab, with...))
		if browsertest.Found[bool](t, tab, is) {
			return
		}
	}
	t.Fatalf("Tab does not reach %s", selector)
}

// has: an element has the focus.
func (tab *tab) has(t *testing.T, selector string) {
	t.Helper()
	if !browsertest.Found[bool](t, tab, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
		t.Fatalf("the focus is on %s, want %s", browsertest.Found[string](t, tab, `document.activeElement.outerHTML.slice(0, 200)`), selector)
	}
}

// nudge moves the handle that has the focus by the arrow keys, to within half a pixel.
func (tab *tab) nudge(t *testing.T, id string, to place) {
	t.Helper()
	tab.has(t, "#handle-"+id)
	var x, y int
	said := browsertest.Found[string](t, tab, `document.activeElement.getAttribute("aria-valuetext")`)
	if _, err := fmt.Sscanf(said, "%d across, %d down", &x, &y); err != nil {
		x = int(to[0])
		if _, err := fmt.Sscanf(said, "%d down", &y); err != nil {
			t.Fatalf("the place of %s is %q: %v", id, said, err)
		}
	}
	for _, way := range []struct {
		far         int
		back, forth string
	}{{int(to[0]) - x, kb.ArrowLeft, kb.ArrowRight}, {int(to[1]) - y, kb.ArrowUp, kb.ArrowDown}} {
		key := way.forth
		if way.far < 0 {
			key, way.far = way.back, -way.far
		}
		tab.Do(t, chromedp.KeyEvent(strings.Repeat(key, way.far/10), chromedp.KeyModifiers(chromedp.ModifierShift)),
			chromedp.KeyEvent(strings.Repeat(key, way.far%10)))
	}
}

// nudgeBox moves a box, whose middle has the focus, and two of its corners.
func (tab *tab) nudgeBox(t *testing.T, id string, b [4]float64) {
	t.Helper()
	tab.has(t, "#handle-"+id+"-all")
	tab.tabBack(t, "#handle-"+id+"-se")
	tab.nudge(t, id+"-se", place{b[0] + b[2], b[1] + b[3]})
	tab.tabBack(t, "#handle-"+id+"-nw")
	tab.nudge(t, id+"-nw", place{b[0], b[1]})
}
