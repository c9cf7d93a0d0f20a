package cli_test

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

// tool is where a program outside the project stands. Without it the test is skipped, or
// fails where PANECORE_TOOLS=required says so.
func tool(t *testing.T, name string) string {
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

// startBrowser starts one chromium for all pages of a test. It sees only files that the
// test made itself, so that it may do without its sandbox, which some containers forbid.
func startBrowser(t *testing.T) context.Context {
	t.Helper()
	if racing {
		t.Skip("the race detector sees nothing of what happens in a browser: skipped")
	}
	path := tool(t, "chromium")
	ctx, stop := chromedp.NewContext(t.Context(), chromedp.WithAllocatorOptions(chromedp.ExecPath(path), chromedp.NoSandbox))
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// tab is a page open in the browser, and what the browser told of it since.
type tab struct {
	context.Context
	url string

	mutex    sync.Mutex
	faults   []string // errors and warnings of the console
	requests []string
	sent     map[network.RequestID]string // address of each request
	answered []network.RequestID          // the latest last
}

// open opens a file in a tab of its own.
func open(t *testing.T, browser context.Context, file string) *tab {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	return openAt(t, browser, (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String())
}

// openAt opens an address in a tab of its own.
func openAt(t *testing.T, browser context.Context, address string) *tab {
	t.Helper()
	tab := &tab{url: address, sent: map[network.RequestID]string{}}
	ctx, shut := chromedp.NewContext(browser, chromedp.WithListener(tab.hear))
	t.Cleanup(shut)
	if err := chromedp.Do(ctx); err != nil { // the tab lives as long as this context, so without a limit
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(ctx, 2*time.Minute) // many times what a page takes
	t.Cleanup(stop)
	tab.Context = ctx
	tab.do(t, chromedp.Navigate(tab.url))
	return tab
}

func (tab *tab) hear(event any) {
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

// heard is what came so far, and is forgotten then.
func (tab *tab) heard() (faults, requests []string) {
	tab.mutex.Lock()
	defer tab.mutex.Unlock()
	faults, requests = tab.faults, tab.requests
	tab.faults, tab.requests = nil, nil
	return faults, requests
}

func (tab *tab) do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(tab, steps...); err != nil {
		t.Fatal(err)
	}
}

// look is how a page is looked at.
type look struct {
	width, height int64  // px
	scheme        string // light or dark
}

func (l look) String() string { return fmt.Sprintf("%d px, %s", l.width, l.scheme) }

func (tab *tab) look(t *testing.T, l look, how ...chromedp.EmulateViewportOption) {
	t.Helper()
	tab.do(t, chromedp.EmulateViewport(l.width, l.height, how...))
	if _, err := chromedp.Call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: l.scheme},
		{Name: "prefers-reduced-motion", Value: "reduce"}, // what moves is looked at before it has arrived
	}}); err != nil {
		t.Fatal(err)
	}
}

// found evaluates an expression in a page. The browser's protocol may, whatever the page
// forbids itself.
func found[T any](t *testing.T, tab *tab, expression string) T {
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

// axe is the script that looks through a page.
func axe(t *testing.T) string {
	t.Helper()
	script, err := os.ReadFile("../../../testdata/axe/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	return string(script)
}

// violations asks axe, which must have been evaluated in the tab before.
func (tab *tab) violations(t *testing.T) []violation {
	t.Helper()
	return found[[]violation](t, tab, `axe.run(document, {resultTypes: ["violations"], preload: false}).then(r => r.violations.map(v => ({
		id: v.id, impact: v.impact || "", help: v.help,
		nodes: v.nodes.slice(0, 8).map(n => n.target.join(" ") + ": " + (n.any[0] || n.all[0] || n.none[0]).message)})))`)
}

// paper is a size of paper, its name and its inches.
type paper struct {
	name string
	size chromedp.PaperSize
}

var papers = []paper{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}}

// printed is the page as PDF.
func (tab *tab) printed(t *testing.T, p paper) []byte {
	t.Helper()
	pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(p.size), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	return pdf
}

// shoot writes what is seen of a page while one scrolls down.
func (tab *tab) shoot(t *testing.T, path string) {
	t.Helper()
	tab.do(t, chromedp.Evaluate[chromedp.Void](`scrollTo({top: 0, behavior: "instant"})`))
	for n := 1; ; n++ {
		save(t, fmt.Sprintf("%s-%02d.png", path, n), tab.seen(t))
		if !found[bool](t, tab, `(() => { const before = scrollY; scrollBy({top: innerHeight - 40, behavior: "instant"}); return scrollY > before })()`) {
			return
		}
	}
}

// seen is what is seen of a page once what changed in it is drawn.
func (tab *tab) seen(t *testing.T) []byte {
	t.Helper()
	tab.drawn(t)
	shot, err := chromedp.Run(tab, chromedp.CaptureScreenshot())
	if err != nil {
		t.Fatal(err)
	}
	return shot
}

// drawn waits until what changed in a page is drawn.
func (tab *tab) drawn(t *testing.T) {
	t.Helper()
	tab.do(t, chromedp.Evaluate[chromedp.Void](`new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))`, chromedp.EvalAwaitPromise))
}

func save(t *testing.T, path string, file []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
}

// textOf is what pdftotext reads in a PDF, with its options.
func textOf(t *testing.T, pdf []byte, options ...string) string {
	t.Helper()
	path := tool(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "page.pdf")
	save(t, file, pdf)
	text, err := exec.CommandContext(t.Context(), path, append(options, file, "-")...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// unspaced is a text without spaces and in small letters: where lines end is for the
// reader of a PDF to guess, and a style may ask for capitals.
func unspaced(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), "")) }
