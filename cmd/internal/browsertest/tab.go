// Package browsertest shows pages in a browser within tests: one chromium for all tests of a
// program of tests, each test in a context of its own, and the checks that every page has to
// stand. Only tests import it.
package browsertest

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Tool is where a program outside the project stands. Without it the test is skipped, or
// fails where PANECORE_TOOLS=required says so.
func Tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("PANECORE_TOOLS") == "required" {
		t.Fatalf("%s is not installed, and PANECORE_TOOLS=required", name)
	}
	if err != nil {
		t.Skipf("%s is not installed: skipped; CI makes it mandatory", name)
	}
	return path
}

// Tab is a page open in the browser, and what the browser told of it since.
type Tab struct {
	context.Context
	URL string

	mutex    sync.Mutex
	faults   []string // errors and warnings of the console
	requests []string
	sent     map[network.RequestID]string // address of each request
	answered []network.RequestID          // the latest last
}

// Open opens a file in a tab of its own.
func Open(t *testing.T, browser context.Context, file string) *Tab {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	return OpenAt(t, browser, (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String())
}

// OpenAt opens an address in a tab of its own.
func OpenAt(t *testing.T, browser context.Context, address string) *Tab {
	t.Helper()
	tab := &Tab{URL: address, sent: map[network.RequestID]string{}}
	ctx, shut := chromedp.NewContext(browser, chromedp.WithListener(tab.hear))
	t.Cleanup(shut)
	if err := chromedp.Do(ctx); err != nil { // the tab lives as long as this context, so without a limit
		t.Fatal(err)
	}
	if end, ok := t.Deadline(); ok { // what hangs fails by its name before all tests are cut off
		ctx, shut = context.WithDeadline(ctx, end.Add(-10*time.Second))
		t.Cleanup(shut)
	}
	tab.Context = ctx
	tab.Do(t, chromedp.Navigate(tab.URL))
	return tab
}

func (tab *Tab) hear(event any) {
	tab.mutex.Lock()
	defer tab.mutex.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		tab.requests = append(tab.requests, e.Request.URL)
		tab.sent[e.RequestID] = e.Request.URL
	case *network.EventLoadingFinished:
		tab.answered = append(tab.answered, e.RequestID)
	case *log.EventEntryAdded:
		tab.faults = append(tab.faults, fmt.Sprintf("%s: %s", e.Entry.Level, e.Entry.Text))
	case *runtime.EventConsoleAPICalled:
		tab.faults = append(tab.faults, fmt.Sprintf("console.%s was called", e.Type))
	case *runtime.EventExceptionThrown:
		tab.faults = append(tab.faults, e.ExceptionDetails.Text)
	}
}

// Heard is what came so far, and is forgotten then.
func (tab *Tab) Heard() (faults, requests []string) {
	tab.mutex.Lock()
	defer tab.mutex.Unlock()
	faults, requests = tab.faults, tab.requests
	tab.faults, tab.requests = nil, nil
	return faults, requests
}

// Do takes steps in the tab.
func (tab *Tab) Do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(tab, steps...); err != nil {
		t.Fatal(err)
	}
}

// Look is how a page is looked at.
type Look struct {
	Width, Height int64  // px
	Scheme        string // light or dark
}

// String is a look in a few words.
func (l Look) String() string { return fmt.Sprintf("%d px, %s", l.Width, l.Scheme) }

// Looks are those of keepers: wide and narrow, in light and dark.
var Looks = []Look{
	{1280, 1500, "light"}, {1280, 1500, "dark"}, {390, 844, "light"}, {390, 844, "dark"},
}

// Look has the page shown so.
func (tab *Tab) Look(t *testing.T, l Look, how ...chromedp.EmulateViewportOption) {
	t.Helper()
	tab.Do(t, chromedp.EmulateViewport(l.Width, l.Height, how...))
	if _, err := chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: l.Scheme},
		{Name: "prefers-reduced-motion", Value: "reduce"}, // what moves is looked at before it has arrived
	}}); err != nil {
		t.Fatal(err)
	}
}

// Found evaluates an expression in a page. The browser's protocol may, whatever the page
// forbids itself.
func Found[T any](t *testing.T, tab context.Context, expression string) T {
	t.Helper()
	value, err := chromedp.Run(tab, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.60s…: %v", expression, err)
	}
	return value
}

// violation is what axe found against a page.
type violation struct {
	Rule   string   `json:"id"`
	Impact string   `json:"impact"`
	Help   string   `json:"help"`
	Nodes  []string `json:"nodes"`
}

func (v violation) String() string {
	return fmt.Sprintf("%s, %s: %s\n\t\t%s", v.Impact, v.Rule, v.Help, strings.Join(v.Nodes, "\n\t\t"))
}

// Axe is the script that looks through a page.
func Axe(t *testing.T) string {
	t.Helper()
	script, err := os.ReadFile("../../../testdata/axe/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	return string(script)
}

// violations asks axe, which must have been evaluated in the tab before.
func (tab *Tab) violations(t *testing.T) []violation {
	t.Helper()
	return Found[[]violation](t, tab, `axe.run(document, {resultTypes: ["violations"], preload: false}).then(r => r.violations.map(v => ({
		id: v.id, impact: v.impact || "", help: v.help,
		nodes: v.nodes.slice(0, 8).map(n => n.target.join(" ") + ": " + (n.any[0] || n.all[0] || n.none[0]).message)})))`)
}

// Shoot writes what is seen of a page while one scrolls down.
func (tab *Tab) Shoot(t *testing.T, path string) {
	t.Helper()
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`scrollTo({top: 0, behavior: "instant"})`))
	for n := 1; ; n++ {
		Save(t, fmt.Sprintf("%s-%02d.png", path, n), tab.Seen(t))
		if !Found[bool](t, tab, `(() => { const before = scrollY; scrollBy({top: innerHeight - 40, behavior: "instant"}); return scrollY > before })()`) {
			return
		}
	}
}

// Seen is what is seen of a page once what changed in it is drawn.
func (tab *Tab) Seen(t *testing.T) []byte {
	t.Helper()
	tab.Drawn(t)
	shot, err := chromedp.Run(tab, chromedp.CaptureScreenshot())
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// Drawn waits until what changed in a page is drawn.
func (tab *Tab) Drawn(t *testing.T) {
	t.Helper()
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))`, chromedp.EvalAwaitPromise))
}

// Save writes a file, and its folder where it is missing.
func Save(t *testing.T, path string, file []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
}

// Forget forgets what was answered to the page that is left.
func (tab *Tab) Forget() {
	tab.mutex.Lock()
	defer tab.mutex.Unlock()
	tab.answered = nil
}

// LastAnswered is the last request of an address that ends so which was answered.
func (tab *Tab) LastAnswered(ending string) (network.RequestID, bool) {
	tab.mutex.Lock()
	defer tab.mutex.Unlock()
	for i := len(tab.answered) - 1; i >= 0; i-- {
		if id := tab.answered[i]; strings.HasSuffix(tab.sent[id], ending) {
			return id, true
		}
	}
	return "", false
}
