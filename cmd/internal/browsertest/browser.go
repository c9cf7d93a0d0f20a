package browsertest

import (
	"context"
	"flag"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/programtest"
)

// Shots is the folder that -shots names: where what the browser shows and prints is written.
var Shots = flag.String("shots", "", "write what the browser shows and prints to this folder, to look at")

// startTime is how long chromium may take to start, on a machine that others keep busy (assumption).
const startTime = 3 * time.Minute

// shared is the one chromium of a program of tests. It starts with the first test that asks
// for it and ends with Tests.
var shared struct {
	sync.Mutex
	browser context.Context // nil: not started
	stop    context.CancelFunc
}

// Tests are the tests of a package. They end the browser they share when they are done.
type Tests struct{ *testing.M }

// Run runs the tests and returns their exit code.
func (t Tests) Run() (code int) {
	code = t.M.Run()
	shared.Lock()
	defer shared.Unlock()
	if shared.stop != nil {
		shared.stop()
	}
	return code
}

// Start gives a test the shared chromium, in a context of its own: no cookie, no storage and no
// tab of another test. The browser sees only pages that tests made themselves, so that it may do
// without its sandbox, which some containers forbid.
func Start(t *testing.T) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("skipped: shows pages in a browser, which takes its time; run without -short")
	}
	if programtest.Racing {
		t.Skip("the race detector sees nothing of what happens in a browser: skipped")
	}
	path := Tool(t, "chromium")
	shared.Lock()
	defer shared.Unlock()
	if shared.browser == nil {
		browser, stop := chromedp.NewContext(context.Background(), chromedp.WithAllocatorOptions(chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WSURLReadTimeout(startTime)))
		if err := chromedp.Do(browser); err != nil {
			stop()
			t.Fatal(err)
		}
		shared.browser, shared.stop = browser, stop
	}
	ctx, stop := chromedp.NewContext(shared.browser, chromedp.WithNewBrowserContext())
	t.Cleanup(stop)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return ctx
}
