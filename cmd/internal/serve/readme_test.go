package serve_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

var update = flag.Bool("update", false, "renew the README's pictures of the local page")

// servedPictures are the README's pictures of the local page.
var servedPictures = map[string]struct {
	path   string
	height int64 // px
	then   func(*testing.T, *tab)
}{
	"serve-photo.png": {"/photo?tank=sack-hoist", 900, func(t *testing.T, tab *tab) {
		tab.choosePhoto(t, "../demo/photo.jpg")
		tab.until(t, `document.getElementById("handle-edge-1")`)
		tab.Do(t, click("#step-save .step-name"), click("#step-layers .step-name"), chromedp.Evaluate[chromedp.Void](`document.activeElement.blur()`))
	}},
	"serve-tank.png": {"/tank/wheel-room", 1900, func(*testing.T, *tab) {}},
}

// mostStrange is the share of a page that may be strange to the stored picture of it
// (assumption: other letters make less, and what it shows of a bed is more).
const mostStrange = 0.05

// The README's pictures of the local page are what the page shows, whatever letters the
// machine has. Renewed with -update.
func TestReadme_servedPicturesAreFresh(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := serve(t, "--demo")
	for name, view := range servedPictures {
		t.Run(name, func(t *testing.T) {
			tab := enter(t, browser, s, look(1280, view.height, "light"))
			tab.goTo(t, view.path)
			view.then(t, tab)
			shown := tab.Seen(t)
			path := filepath.Join("../../../testdata/readme", name)
			if *update {
				browsertest.Save(t, path, shown)
			}
			stored, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if off, err := strange(stored, shown); err != nil || off > mostStrange {
				t.Errorf("%s is stale: %.1f %% of it is strange (%v); renew it with -update and look at it", name, 100*off, err)
			}
			for style, stale := range map[string]bool{
				"body * { font-family: monospace !important }":         false,
				"html { font-size: 17px }":                             false,
				"main :is(svg, img) { visibility: hidden !important }": true,
			} {
				tab.style(t, style)
				if off, err := strange(shown, tab.Seen(t)); err != nil || off > mostStrange != stale {
					t.Errorf("with %s %.1f %% would be strange (%v)", style, 100*off, err)
				}
			}
		})
	}
}

// style gives a page this style and no other beside its own.
func (tab *tab) style(t *testing.T, style string) {
	t.Helper()
	tab.Do(t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`{
		const sheet = new CSSStyleSheet()
		sheet.replaceSync(%q)
		document.adoptedStyleSheets = [sheet]}`, style)))
}
