package serve_test

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// tab is a page open in the browser, with what a keeper does there.
type tab struct{ *browsertest.Tab }

// look is how a page is looked at, px.
func look(width, height int64, scheme string) browsertest.Look {
	return browsertest.Look{Width: width, Height: height, Scheme: scheme}
}

// stand is a page that is served from within this process, and the logbook behind it.
type stand struct {
	*served
	logbook string
}

// standing serves a logbook in which these commands were run.
func standing(t *testing.T, commands ...[]string) stand {
	t.Helper()
	s := stand{logbook: filepath.Join(t.TempDir(), "logbook.db")}
	for _, args := range commands {
		s.says(t, args...)
	}
	s.served = serve(t, "--logbook", s.logbook)
	return s
}

// says is what a command prints of the logbook.
func (s stand) says(t *testing.T, args ...string) string {
	t.Helper()
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": s.logbook})
	if code := w.Run(args...); code != 0 {
		t.Fatalf("%q: exit code %d: %s", args, code, &w.Told)
	}
	return w.Printed.String()
}

// enter opens a page that is served in a tab, as a keeper who browsertest.Looks at it in one way.
func enter(t *testing.T, browser context.Context, s *served, l browsertest.Look, how ...chromedp.EmulateViewportOption) *tab {
	t.Helper()
	tab := &tab{browsertest.OpenAt(t, browser, s.address)}
	tab.URL = "http://" + s.host
	tab.Look(t, l, how...)
	return tab
}

// goTo opens an address of the page.
func (tab *tab) goTo(t *testing.T, path string) {
	t.Helper()
	tab.Forget()
	tab.Do(t, chromedp.Navigate(tab.URL+path))
}

// until waits for something to be so.
func (tab *tab) until(t *testing.T, expression string) {
	t.Helper()
	var err error
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		var is bool
		if is, err = chromedp.Run(tab, chromedp.Evaluate[bool]("Boolean("+expression+")")); is { // an error: the page is being left
			return
		}
	}
	if *browsertest.Shots != "" {
		tab.Shoot(t, filepath.Join(*browsertest.Shots, "never-"+strings.ReplaceAll(t.Name(), "/", "-")))
	}
	t.Fatalf("it never is so that %s (%v), at %s:\n%s", expression, err, browsertest.Found[string](t, tab, `location.href`), browsertest.Found[string](t, tab, `document.body.innerText`))
}

// leads takes steps that lead to another page, or to the same one anew, and waits for it.
func (tab *tab) leads(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	tab.Forget()
	tab.Do(t, chromedp.Evaluate[chromedp.Void](`window.left = true`))
	tab.Do(t, steps...)
	tab.until(t, `!window.left && document.readyState == "complete"`)
}

// reload loads the page that is open anew.
func (tab *tab) reload(t *testing.T) {
	t.Helper()
	tab.Forget()
	tab.Do(t, chromedp.Reload())
}

// at is the path of the page that is open.
func (tab *tab) at(t *testing.T) string {
	t.Helper()
	return browsertest.Found[string](t, tab, `location.pathname`)
}

// click clicks into the middle of an element that is seen.
func click(selector string) chromedp.Action[chromedp.Void] {
	return chromedp.Click(chromedp.CSS(selector), chromedp.NodeVisible)
}

// fill types a text into a field in the place of what stands there.
func fill(selector, text string) chromedp.Action[chromedp.Void] {
	return chromedp.Steps(click(selector), chromedp.KeyEvent("a", chromedp.KeyModifiers(chromedp.ModifierCtrl)),
		chromedp.KeyEvent(kb.Delete), chromedp.KeyEvent(text))
}

// choose chooses an option of a select by its value, by keys.
func (tab *tab) choose(t *testing.T, selector, value string) {
	t.Helper()
	tab.Do(t, chromedp.Focus(chromedp.CSS(selector)))
	tab.turn(t, selector, value)
}

// turn goes through the options of the select that has the focus.
func (tab *tab) turn(t *testing.T, selector, value string) {
	t.Helper()
	is := fmt.Sprintf(`document.querySelector(%q).value`, selector)
	tab.Do(t, chromedp.KeyEvent(kb.Home))
	for range 60 { // options, more than any has
		if browsertest.Found[string](t, tab, is) == value {
			return
		}
		tab.Do(t, chromedp.KeyEvent(kb.ArrowDown))
	}
	t.Fatalf("%s has no option %q", selector, value)
}

// text is that of an element.
func (tab *tab) text(t *testing.T, selector string) string {
	t.Helper()
	return browsertest.Found[string](t, tab, fmt.Sprintf(`document.querySelector(%q).textContent.trim()`, selector))
}

// exchange waits until a question that the page has sent to an address that ends so, and
// that is wanted, is answered.
func exchange[Question any](t *testing.T, tab *tab, ending string, wanted func(Question) bool) (q Question, answer []byte) {
	t.Helper()
	var asked []byte
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		id, ok := tab.LastAnswered(ending)
		if !ok {
			continue
		}
		data, err := chromedp.Call(tab, network.GetRequestPostData, network.GetRequestPostDataParams{RequestID: id})
		if err != nil {
			t.Fatal(err)
		}
		asked, q = data.PostData, *new(Question)
		if err := json.Unmarshal(asked, &q); err != nil {
			t.Fatalf("%v: %s", err, asked)
		}
		if wanted(q) {
			body, err := chromedp.Call(tab, network.GetResponseBody, network.GetResponseBodyParams{RequestID: id})
			if err != nil {
				t.Fatal(err)
			}
			return q, body.Body
		}
	}
	t.Fatalf("the page never asked what is wanted, last: %s", asked)
	return q, nil
}

// wantQuiet fails where the browser complains or fetches from elsewhere.
func wantQuiet(t *testing.T, tab *tab, expected ...string) {
	t.Helper()
	for _, fault := range browsertest.Quiet(t, tab.Tab, expected...) {
		t.Error(fault)
	}
}
