package serve_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panecore/cmd/internal/browsertest"
)

// "Amend" on a core that came from a photo opens the photo with its marks and with the edge that the keeper moved, and the
// tank's page shows the photo with what was read drawn on it; the form for typing is a link away.
func TestServe_amendOpensPhoto(t *testing.T) {
	t.Parallel()
	_, truth, tab := openHall(t, "buff-sand.jpg")
	tab.markPhoto(t, mouse{}, truth.Picks)
	_, seen := seenOf(t, tab, func(q photoQuestion) bool { return q.Picks.Surface != 0 })
	tab.moveEdge(t, mouse{}, seen, 1, 15)
	before, _ := exchange(t, tab, "/read", func(q cutQuestion) bool { return len(q.Cuts) > 0 })
	tab.press(t, mouse{}, "#layers-next")
	tab.leads(t, click("#save-go"))

	tab.fetchAll(t)
	if shown := browsertest.Found[int](t, tab, `document.querySelectorAll(".shot img").length`); shown != 1 {
		t.Errorf("%d photos are shown, want the station's newest", shown)
	}
	tab.leads(t, click(`[aria-label^="Amend by hand: front"]`))
	if !browsertest.Found[bool](t, tab, `document.getElementById("hand") !== null`) {
		t.Error("the form for typing is not there")
	}
	tab.leads(t, click(`form[action$="/photo"] button`))
	tab.until(t, `document.getElementById("handle-edge-1")`)
	after, _ := exchange(t, tab, "/read", func(cutQuestion) bool { return true })
	if diff := cmp.Diff(before, after, cmpopts.EquateApprox(0, 0.01)); diff != "" {
		t.Errorf("it is cut otherwise (-before +amended):\n%s", diff)
	}
	wantQuiet(t, tab)
}
