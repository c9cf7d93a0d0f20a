package serve_test

import (
	"net/url"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// A phone is paired by opening the link, takes a photo by the first and largest button, and has it
// before it to mark, on a network where nothing is encrypted. It shows no way to let in others.
func TestServe_phoneAtTheGlass(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := stand{logbook: filepath.Join(t.TempDir(), "logbook.db")}
	truth := programtest.PhotoTruths(t)[0]
	s.says(t, "tank", "add", "hall", "--native", truth.Native+","+truth.Kind)
	s.served, _ = lanPort(t, s.logbook, "0")
	s.address = strings.TrimSpace(s.says(t, "device", "add"))
	tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	if said := tab.text(t, ".said"); !strings.HasPrefix(said, "This device is paired.") || strings.Contains(browsertest.Found[string](t, tab, "location.href"), "key=") {
		t.Errorf("said %q", said)
	}
	if head := browsertest.Found[float64](t, tab, `document.querySelector(".top").getBoundingClientRect().height`); head > 64 {
		t.Errorf("the page's head is %g px high", head)
	}
	tab.leads(t, tab.pressing(t, finger{}, `a[href="/tank/hall"]`))
	tab.leads(t, tab.pressing(t, finger{}, `.top a[href="/photo?tank=hall"]`))
	if first := browsertest.Found[bool](t, tab, `(() => {
		const camera = document.querySelector(".camera").getBoundingClientRect(), file = document.querySelector(".choose-file").getBoundingClientRect()
		return camera.height >= 88 && camera.width > 300 && camera.bottom <= file.top && file.bottom < document.getElementById("photo-tank").getBoundingClientRect().top})()`); !first {
		t.Error("the camera is not the first and largest button")
	}
	photo, err := filepath.Abs(truth.Path())
	if err != nil {
		t.Fatal(err)
	}
	tab.leads(t, chromedp.SetUploadFiles(chromedp.CSS("#photo-camera"), []string{photo}, chromedp.NodeReady))
	tab.until(t, `document.getElementById("photo-wait").hidden`)
	if at := tab.at(t); !strings.HasPrefix(at, "/photo/") || browsertest.Found[bool](t, tab, `document.querySelector('a[href="/devices"]') !== null`) {
		t.Errorf("at %s", at)
	}
	wantQuiet(t, tab, "Cross-Origin-Opener-Policy header has been ignored") // which counts only where what is sent is encrypted
}

// The page on which the keeper lets devices in can be read and used.
func TestServe_devicesLook(t *testing.T) {
	t.Parallel()
	s, _ := lanPort(t, filepath.Join(t.TempDir(), "log.db"), "0")
	s.tells(t, `paired: .* \(([0-9a-f]{8})\)`)
	own := s.tells(t, `on this machine open (http://127.0.0.1:\S+);`)
	keeper := visit(t, own)
	keeper.send("/devices/link", keeper.proof(), url.Values{})
	servedView{name: "devices", path: "/devices"}.check(t, browsertest.Start(t), &served{visitor: keeper, stderr: s.stderr, stop: s.stop})
}
