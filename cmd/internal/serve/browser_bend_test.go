package serve_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panecore/cmd/internal/browsertest"
)

// bendQuestion is how the page asks a photo to be read with an edge bent.
type bendQuestion struct {
	Cuts []struct {
		BottomMM float64 `json:"bottom_mm"`
		Bend     []*float64
	}
}

// An edge is pulled down where it is dragged, by keys it is pulled and a part of it left out; steps are taken back; and
// "Amend" has what was saved.
func TestServe_photoBent(t *testing.T) {
	t.Parallel()
	_, truth, tab := openHall(t, "buff-sand.jpg")
	tab.markPhoto(t, mouse{}, truth.Picks)
	_, was := seenOf(t, tab, func(q photoQuestion) bool { return q.Picks.Surface != 0 })
	tab.press(t, mouse{}, "#bend")
	edge := was.Edges[1]
	tab.tapPhoto(t, mouse{}, edge[len(edge)/16]) // beside its first point
	tab.until(t, `document.getElementById("bend-edge").value == "1"`)
	at := tab.middle(t, "#handle-bend-1 .dot")
	tab.Do(t, mouse{}.drag(at, place{at[0], at[1] + 30}))
	part := func(i int, is func(*float64) bool) func(bendQuestion) bool {
		return func(q bendQuestion) bool { return len(q.Cuts) > 0 && len(q.Cuts[0].Bend) > i && is(q.Cuts[0].Bend[i]) }
	}
	pulled := func(mm *float64) bool { return mm != nil && *mm > 0 }
	q, _ := exchange(t, tab, "/read", part(1, pulled))
	_, now := seenOf(t, tab, func(photoQuestion) bool { return true })
	there, far := len(edge)*3/16, len(edge)*3/4
	if moved := now.Edges[1][there][1] - edge[there][1]; moved < 5 || now.Edges[1][far] != edge[far] {
		t.Errorf("pulled by %g mm, the edge lies %g px lower there, and far from it at %v, want %v", *q.Cuts[0].Bend[1], moved, now.Edges[1][far], edge[far])
	}

	tab.Do(t, chromedp.Focus(chromedp.CSS("#handle-bend-6")), chromedp.KeyEvent(kb.ArrowUp))
	exchange(t, tab, "/read", part(6, func(mm *float64) bool { return mm != nil && *mm == -0.1 }))
	tab.Do(t, enterKey)
	tab.has(t, "#bend-out")
	tab.Do(t, enterKey)
	left := func(mm *float64) bool { return mm == nil }
	exchange(t, tab, "/read", part(6, left))
	tab.until(t, `document.querySelector("#handle-bend-6[data-out][aria-valuetext='left out']")`)
	tab.Drawn(t)
	if *browsertest.Shots != "" {
		tab.Shoot(t, filepath.Join(*browsertest.Shots, "bent"))
	}
	tab.press(t, mouse{}, "#photo-back")
	exchange(t, tab, "/read", part(6, func(mm *float64) bool { return mm != nil }))
	tab.press(t, mouse{}, "#bend-out")
	before, _ := exchange(t, tab, "/read", part(6, left))
	tab.press(t, mouse{}, "#layers-next")
	tab.leads(t, click("#save-go"))

	tab.fetchAll(t)
	tab.leads(t, click(`form[action$="/photo"] button`))
	tab.until(t, `document.getElementById("handle-edge-1")`)
	after, _ := exchange(t, tab, "/read", func(bendQuestion) bool { return true })
	if diff := cmp.Diff(before, after, cmpopts.EquateApprox(0, 0.01)); diff != "" {
		t.Errorf("it is bent otherwise (-before +amended):\n%s", diff)
	}
	wantQuiet(t, tab)
}

// middle is where the middle of an element is on the screen.
func (tab *tab) middle(t *testing.T, selector string) place {
	t.Helper()
	return browsertest.Found[place](t, tab, fmt.Sprintf(`(() => {
		const r = document.querySelector(%q).getBoundingClientRect()
		return [r.left + r.width / 2, r.top + r.height / 2]})()`, selector))
}
