package serve_test

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// A pointer touches what the browser shows, at places of the screen.
type pointer interface {
	// tap touches a place and lets go.
	tap(at place) chromedp.Action[chromedp.Void]
	// drag goes from one place to another.
	drag(from, to place) chromedp.Action[chromedp.Void]
}

// place is one of the screen, or of the photo, px.
type place [2]float64

// way are places on the way from one to another, this one and the last left out.
func (from place) way(to place) (list []place) {
	const steps = 6
	for i := 1; i < steps; i++ {
		share := float64(i) / steps
		list = append(list, place{from[0] + share*(to[0]-from[0]), from[1] + share*(to[1]-from[1])})
	}
	return list
}

type mouse struct{}

func (mouse) tap(at place) chromedp.Action[chromedp.Void] { return chromedp.MouseClickXY(at[0], at[1]) }

func (mouse) drag(from, to place) chromedp.Action[chromedp.Void] {
	down := func(p *input.DispatchMouseEventParams) {
		p.Button, p.Buttons, p.ClickCount = input.MouseButtonLeft, 1, 1
	}
	steps := []chromedp.Action[chromedp.Void]{chromedp.MouseEvent(chromedp.MousePressed, from[0], from[1], down)}
	for _, at := range append(from.way(to), to) {
		steps = append(steps, chromedp.MouseEvent(chromedp.MouseMoved, at[0], at[1], down))
	}
	return chromedp.Steps(append(steps, chromedp.MouseEvent(chromedp.MouseReleased, to[0], to[1], chromedp.ButtonLeft, chromedp.ClickCount(1)))...)
}

type finger struct{}

func (finger) tap(at place) chromedp.Action[chromedp.Void] { return chromedp.TapXY(at[0], at[1]) }

func (finger) drag(from, to place) chromedp.Action[chromedp.Void] {
	steps := []chromedp.Action[chromedp.Void]{touch(input.DispatchTouchEventTypeTouchStart, from)}
	for _, at := range append(from.way(to), to) {
		steps = append(steps, touch(input.DispatchTouchEventTypeTouchMove, at))
	}
	const still = 100 * time.Millisecond // before it lets go: else the browser takes the next tap for the end of a fling
	return chromedp.Steps(append(steps, chromedp.Sleep(still), touch(input.DispatchTouchEventTypeTouchMove, to), touch(input.DispatchTouchEventTypeTouchEnd))...)
}

// touch is what one finger does on the screen.
func touch(kind input.DispatchTouchEventType, places ...place) chromedp.Action[chromedp.Void] {
	p := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
	for _, at := range places {
		p.TouchPoints = append(p.TouchPoints, &input.TouchPoint{X: at[0], Y: at[1]})
	}
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, input.DispatchTouchEvent, p)
		return err
	})
}

// steady waits until all answers about a photo have come and are drawn: a finger touches what is seen, and an answer may
// move it.
func (tab *tab) steady(t *testing.T) {
	t.Helper()
	tab.until(t, `document.querySelector(".stand")?.ariaBusy !== "true"`)
	tab.Drawn(t)
}

// on is where a place of the photo is seen on the screen.
func (tab *tab) on(t *testing.T, at place) place {
	t.Helper()
	tab.steady(t)
	seen := browsertest.Found[[3]float64](t, tab, `(() => {
		const e = document.getElementById("photo-picture"), r = e.getBoundingClientRect()
		return [r.left, r.top, r.width / parseFloat(e.style.width)]})()`)
	return place{seen[0] + seen[2]*at[0], seen[1] + seen[2]*at[1]}
}

// tapPhoto touches a place of the photo.
func (tab *tab) tapPhoto(t *testing.T, p pointer, at place) {
	t.Helper()
	tab.Do(t, p.tap(tab.on(t, at)))
}

// boxPhoto draws a box on the photo: left, top, width and height.
func (tab *tab) boxPhoto(t *testing.T, p pointer, b [4]float64) {
	t.Helper()
	tab.Do(t, p.drag(tab.on(t, place{b[0], b[1]}), tab.on(t, place{b[0] + b[2], b[1] + b[3]})))
}

// press presses a button of the page.
func (tab *tab) press(t *testing.T, p pointer, selector string) {
	t.Helper()
	tab.Do(t, tab.pressing(t, p, selector))
}

// pressing is to touch the middle of an element, which nothing may cover.
func (tab *tab) pressing(t *testing.T, p pointer, selector string) chromedp.Action[chromedp.Void] {
	t.Helper()
	tab.until(t, fmt.Sprintf(`document.querySelector(%q)?.checkVisibility()`, selector))
	tab.steady(t)
	tab.Do(t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.querySelector(%q).scrollIntoView({block: "center", behavior: "instant"})`, selector)))
	tab.Drawn(t)
	at := browsertest.Found[place](t, tab, fmt.Sprintf(`(() => {
		const r = document.querySelector(%q).getBoundingClientRect()
		return [r.left + r.width / 2, r.top + r.height / 2]})()`, selector))
	if covers := browsertest.Found[string](t, tab, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q), hit = document.elementFromPoint(%g, %g)
		return e.contains(hit) ? "" : (hit?.outerHTML ?? "nothing").slice(0, 200)})()`, selector, at[0], at[1])); covers != "" {
		t.Fatalf("%s is covered by %s", selector, covers)
	}
	return p.tap(at)
}

// choosePhoto chooses a file on the page for it and waits until it is seen.
func (tab *tab) choosePhoto(t *testing.T, file string) {
	t.Helper()
	path, err := filepath.Abs(file)
	if err != nil {
		t.Fatal(err)
	}
	tab.leads(t, chromedp.SetUploadFiles(chromedp.CSS("#photo-file"), []string{path}, chromedp.NodeReady))
	tab.until(t, `document.getElementById("photo-wait")?.hidden && document.getElementById("photo").ariaBusy == "false"`)
}

// markPhoto marks all that is wanted on a photo and is then at its layers.
func (tab *tab) markPhoto(t *testing.T, p pointer, picks programtest.PhotoPicks) {
	t.Helper()
	tab.unmark(t, p)
	r := picks.Ruler
	tab.tapPhoto(t, p, place{r[0], r[1]})
	tab.tapPhoto(t, p, place{r[2], r[3]})
	tab.until(t, `document.activeElement.id == "ruler-length"`)
	tab.Do(t, fill("#ruler-length", fmt.Sprint(r[4])))
	tab.press(t, p, "#ruler-next")
	for _, card := range picks.Neutral {
		tab.boxPhoto(t, p, card.Box)
	}
	tab.press(t, p, "#card-next")
	tab.boxPhoto(t, p, picks.Strip)
	tab.until(t, `document.getElementById("step-surface").classList.contains("open")`)
	tab.tapPhoto(t, p, place{picks.Strip[0] + picks.Strip[2]/2, picks.Surface})
	tab.press(t, p, "#surface-next")
	tab.until(t, `document.getElementById("photo-sum").textContent != ""`)
}

// unmark takes away what was found on a photo, and is then at its ruler.
func (tab *tab) unmark(t *testing.T, p pointer) {
	t.Helper()
	for _, mark := range [][2]string{{"card", "#card-out-0"}, {"strip", "#strip-anew"}, {"ruler", "#ruler-anew"}} {
		tab.press(t, p, "#step-"+mark[0]+" .step-name")
		if browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q)?.checkVisibility() ?? false`, mark[1])) {
			tab.press(t, p, mark[1])
		}
	}
}

// photoQuestion is what the page asks of a photo.
type photoQuestion struct {
	Tank, Station, Date, Note string
	Signs                     []string
	Picks                     struct {
		Ruler *struct {
			From, To place
			Length   string
		}
		Cards []struct {
			Box         [4]float64
			Reflectance string
		}
		Strip   [4]float64
		Surface float64
	}
	Cuts []struct {
		BottomMM float64 `json:"bottom_mm"`
		Band     string
	}
}

// args are the same question on the command line, as far as it can be asked there.
func (q photoQuestion) args(file string) []string {
	r := q.Picks.Ruler
	args := []string{"photo", file, "--json", "--tank", q.Tank, "--station", q.Station, "--date", q.Date,
		"--strip", programtest.Joined(q.Picks.Strip[:]), "--surface", programtest.Joined([]float64{q.Picks.Surface}),
		"--ruler", programtest.Joined([]float64{r.From[0], r.From[1], r.To[0], r.To[1]}) + "," + r.Length}
	for _, card := range q.Picks.Cards {
		box := programtest.Joined(card.Box[:])
		if card.Reflectance != "" {
			box += "," + card.Reflectance
		}
		args = append(args, "--neutral", box)
	}
	return args
}

// photoSeen is what the page is told of a photo.
type photoSeen struct {
	Read  json.RawMessage
	Edges [][]place
}

// seenOf waits until a photo was read as is wanted.
func seenOf(t *testing.T, tab *tab, wanted func(photoQuestion) bool) (photoQuestion, photoSeen) {
	t.Helper()
	q, answer := exchange(t, tab, "/read", wanted)
	var seen photoSeen
	if err := json.Unmarshal(answer, &seen); err != nil || seen.Read == nil {
		t.Fatalf("%v: %s", err, answer)
	}
	return q, seen
}

// moveEdge drags the lower edge of a layer, from 1, down the screen by so many px, and gives
// what is seen then.
func (tab *tab) moveEdge(t *testing.T, p pointer, seen photoSeen, layer int, px float64) photoSeen {
	t.Helper()
	edge := seen.Edges[layer]
	from := tab.on(t, edge[len(edge)/2])
	tab.Do(t, p.drag(from, place{from[0], from[1] + px}))
	moved := browsertest.Found[string](t, tab, fmt.Sprintf(`document.getElementById("handle-edge-%d").getAttribute("aria-valuenow")`, layer)) // mm, to a tenth
	_, seen = seenOf(t, tab, func(q photoQuestion) bool {
		return len(q.Cuts) > 0 && fmt.Sprintf("%.1f", q.Cuts[layer-1].BottomMM) == moved
	})
	return seen
}
