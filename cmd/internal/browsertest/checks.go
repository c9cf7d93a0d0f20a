package browsertest

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The checks of a page open in the browser. Each returns what is wrong with it.

// FitsPhones: nothing is wider than a narrow screen, but for what scrolls by itself.
func FitsPhones(t *testing.T, tab *Tab, how ...chromedp.EmulateViewportOption) (faults []string) {
	for _, width := range []int64{390, 360} {
		tab.Look(t, Look{width, 800, "light"}, how...)
		wide := int64(Found[float64](t, tab, `document.documentElement.scrollWidth`))
		if wide <= width {
			continue
		}
		far := Found[[]string](t, tab, fmt.Sprintf(`[...document.querySelectorAll("body *")].filter(e => {
			const far = e => e.getBoundingClientRect().right > %d + 0.5
			return far(e) && !far(e.parentElement) && !e.parentElement.closest(".scroll, svg")
		}).map(e => e.localName + ": " + e.textContent.trim().slice(0, 40))`, width))
		faults = append(faults, fmt.Sprintf("on a screen of %d px the page is %d px wide; too far right: %q", width, wide, far))
	}
	return faults
}

// ByKeyboard: the first that the keyboard reaches skips to what matters, and it reaches all
// that scrolls by itself, each time with a mark of where it is and nothing over it.
func ByKeyboard(t *testing.T, tab *Tab, matters string) (faults []string) {
	tab.Look(t, Look{390, 800, "light"})
	const most = 300 // keys, more than twice round any page takes
	rounds := 1
	if Found[bool](t, tab, `document.activeElement != document.body || location.hash != ""`) { // it begins further down
		rounds = 2
	}
	var reached []string
	keys := 0
	for ; keys < most && rounds > 0; keys++ {
		tab.Do(t, chromedp.KeyEvent(kb.Tab))
		at := Found[struct {
			Name, Scrolls                 string
			Body, Inside, Marked, Covered bool
		}](t, tab, `(() => {
			const e = document.activeElement
			const shown = e.closest("label:has(input[type=file])") ?? e // a file is chosen by its label
			const r = shown.getBoundingClientRect(), s = getComputedStyle(shown)
			const over = document.elementFromPoint(r.left + r.width / 2, Math.min(Math.max(r.top + r.height / 2, 0), innerHeight - 1))
			const inOwnWay = ["date", "time"].includes(e.type) || e.ownerSVGElement?.querySelector(".mark")?.getBBox().width > 0 // parts of a date; a picture's own mark
			return {name: e.getAttribute("aria-label") || e.textContent.trim().slice(0, 80) || e.name, body: e == document.body,
				scrolls: e.closest(".scroll")?.getAttribute("aria-label") ?? "",
				inside: r.width > 1 && r.height > 1 && r.bottom > 0 && r.right > 0 && r.top < innerHeight && r.left < innerWidth,
				marked: inOwnWay || s.outlineStyle != "none" && parseFloat(s.outlineWidth) > 0, covered: over != null && !over.contains(shown) && !shown.contains(over)}})()`)
		if at.Body {
			rounds--
			continue
		}
		reached = append(reached, at.Name, at.Scrolls)
		if !at.Inside || !at.Marked || at.Covered {
			faults = append(faults, fmt.Sprintf("the keyboard is at %q and one can't see it (on the screen: %v, marked: %v, covered: %v)", at.Name, at.Inside, at.Marked, at.Covered))
		}
	}
	for _, name := range Found[[]string](t, tab, `[...document.querySelectorAll("body *")].filter(e => e.scrollWidth > e.clientWidth &&
		["auto", "scroll"].includes(getComputedStyle(e).overflowX)).map(e => e.getAttribute("aria-label") || e.textContent.trim().slice(0, 80))`) {
		if !slices.Contains(reached, name) {
			faults = append(faults, fmt.Sprintf("the keyboard does not reach %q, which scrolls", name))
		}
	}
	if keys == most {
		faults = append(faults, "the keyboard finds no end")
	}
	tab.Do(t, chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if at := Found[string](t, tab, `location.hash`); at != matters {
		faults = append(faults, fmt.Sprintf("the first that the keyboard reaches leads to %q, want %s", at, matters))
	}
	return faults
}

// Legible: axe, which must have been evaluated in the tab before, finds nothing serious or critical; what it finds beside is told then. The
// letters of pictures stand out.
func Legible(t *testing.T, tab *Tab) (faults []string) {
	violations := tab.violations(t)
	if slices.ContainsFunc(violations, func(v violation) bool { return v.Impact == "serious" || v.Impact == "critical" }) {
		for _, v := range violations {
			faults = append(faults, v.String())
		}
	}
	for _, faint := range Found[[]string](t, tab, faintLetters) {
		faults = append(faults, "faint letters: "+faint+", want 4.5")
	}
	return faults
}

// Touchable: a finger hits what it means. What can be pressed is 24 px wide and high or
// more (WCAG 2.2, 2.5.8), but for links within a text, and buttons and fields are 44 px high
// (the project's own measure, for wet hands).
func Touchable(t *testing.T, tab *Tab) (faults []string) {
	return Found[[]string](t, tab, `[...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider]")].flatMap(e => {
		const own = ["checkbox", "radio", "file"].includes(e.type) ? e.closest("label") ?? e : e
		const r = own.getBoundingClientRect()
		if (!e.checkVisibility({visibilityProperty: true, opacityProperty: true}) || r.width <= 1 || e.closest(".skip") || e.tabIndex < 0) return []
		const inText = e.localName == "a" && getComputedStyle(e).display == "inline" && e.parentElement.textContent.trim() != e.textContent.trim()
		const least = e.matches("button, .button, select, textarea, input") || own != e ? 44 : 24
		const laidOver = getComputedStyle(e, "::after").position == "absolute" // all of a card
		if (inText || laidOver || e.matches("[role=slider]") || r.height > least - 0.5 && r.width > 23.5) return []
		return (e.getAttribute("aria-label") || own.textContent.trim().slice(0, 40) || e.name) + ": " + e.localName + " of " + Math.round(r.width) + " × " + Math.round(r.height) + " px, want " + least
	})`)
}

// Quiet tells what the browser complained of, but for what was to be expected, and what was
// fetched from elsewhere.
func Quiet(t *testing.T, tab *Tab, expected ...string) (faults []string) {
	t.Helper()
	complaints, requests := tab.Heard()
	for _, complaint := range complaints {
		if slices.ContainsFunc(expected, func(part string) bool { return part != "" && strings.Contains(complaint, part) }) {
			continue
		}
		faults = append(faults, "the browser complains: "+complaint)
	}
	for _, request := range requests {
		at, err := url.Parse(request)
		if err != nil || at.Scheme != "data" && at.Scheme != "blob" && "http://"+at.Host != tab.URL {
			faults = append(faults, "fetches "+request)
		}
	}
	if len(requests) == 0 {
		faults = append(faults, "saw no request, so that others may have been missed")
	}
	return faults
}
