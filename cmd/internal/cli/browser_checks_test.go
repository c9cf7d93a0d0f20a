package cli_test

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The checks of a page open in the browser. Each returns what is wrong with it.

// standsAlone: a page that was just opened fetched nothing but itself, has no script and
// gives the browser nothing to complain about.
func standsAlone(t *testing.T, tab *tab) (faults []string) {
	complaints, requests := tab.heard()
	for _, complaint := range complaints {
		faults = append(faults, "the browser complains: "+complaint)
	}
	for _, request := range requests {
		if request != tab.url && !strings.HasPrefix(request, "data:") {
			faults = append(faults, "fetches "+request)
		}
	}
	if !slices.Contains(requests, tab.url) {
		faults = append(faults, fmt.Sprintf("saw no request of the page itself, so that others may have been missed: %q", requests))
	}
	for _, script := range found[[]string](t, tab, `[...document.querySelectorAll("*")].filter(e => e.localName == "script" ||
		[...e.attributes].some(a => a.name.startsWith("on") || a.value.trim().toLowerCase().startsWith("javascript:"))).map(e => e.outerHTML)`) {
		faults = append(faults, fmt.Sprintf("holds a script: %.100s", script))
	}
	return faults
}

// fitsPhones: nothing is wider than a narrow screen, but for what scrolls by itself.
func fitsPhones(t *testing.T, tab *tab, how ...chromedp.EmulateViewportOption) (faults []string) {
	for _, width := range []int64{390, 360} {
		tab.look(t, look{width, 800, "light"}, how...)
		wide := int64(found[float64](t, tab, `document.documentElement.scrollWidth`))
		if wide <= width {
			continue
		}
		far := found[[]string](t, tab, fmt.Sprintf(`[...document.querySelectorAll("body *")].filter(e => {
			const far = e => e.getBoundingClientRect().right > %d + 0.5
			return far(e) && !far(e.parentElement) && !e.parentElement.closest(".scroll, svg")
		}).map(e => e.localName + ": " + e.textContent.trim().slice(0, 40))`, width))
		faults = append(faults, fmt.Sprintf("on a screen of %d px the page is %d px wide; too far right: %q", width, wide, far))
	}
	return faults
}

// byKeyboard: the first that the keyboard reaches skips to what matters, and it reaches all
// that scrolls by itself, each time with a mark of where it is and nothing over it.
func byKeyboard(t *testing.T, tab *tab, matters string) (faults []string) {
	tab.look(t, look{390, 800, "light"})
	const most = 300 // keys, more than twice round any page takes
	rounds := 1
	if found[bool](t, tab, `document.activeElement != document.body || location.hash != ""`) { // it begins further down
		rounds = 2
	}
	var reached []string
	keys := 0
	for ; keys < most && rounds > 0; keys++ {
		tab.do(t, chromedp.KeyEvent(kb.Tab))
		at := found[struct {
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
	for _, name := range found[[]string](t, tab, `[...document.querySelectorAll("body *")].filter(e => e.scrollWidth > e.clientWidth &&
		["auto", "scroll"].includes(getComputedStyle(e).overflowX)).map(e => e.getAttribute("aria-label") || e.textContent.trim().slice(0, 80))`) {
		if !slices.Contains(reached, name) {
			faults = append(faults, fmt.Sprintf("the keyboard does not reach %q, which scrolls", name))
		}
	}
	if keys == most {
		faults = append(faults, "the keyboard finds no end")
	}
	tab.do(t, chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if at := found[string](t, tab, `location.hash`); at != matters {
		faults = append(faults, fmt.Sprintf("the first that the keyboard reaches leads to %q, want %s", at, matters))
	}
	return faults
}

// legible: axe finds nothing serious or critical; what it finds beside is told then. The
// letters of pictures stand out.
func legible(t *testing.T, tab *tab) (faults []string) {
	violations := tab.violations(t)
	if slices.ContainsFunc(violations, func(v violation) bool { return v.Impact == "serious" || v.Impact == "critical" }) {
		for _, v := range violations {
			faults = append(faults, v.String())
		}
	}
	for _, faint := range found[[]string](t, tab, faintLetters) {
		faults = append(faults, "faint letters: "+faint+", want 4.5")
	}
	return faults
}

// touchable: a finger hits what it means. What can be pressed is 24 px wide and high or
// more (WCAG 2.2, 2.5.8), but for links within a text, and buttons and fields are 44 px high
// (the project's own measure, for wet hands).
func touchable(t *testing.T, tab *tab) (faults []string) {
	return found[[]string](t, tab, `[...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider]")].flatMap(e => {
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

// printsWhole: the print has every text of the page, no picture is cut, and no heading
// stands alone at the foot of a page.
func printsWhole(t *testing.T, tab *tab, p writtenPage, paper paper) (faults []string) {
	tab.look(t, look{1280, 800, "dark"}) // paper is white whatever the screen is
	pdf := tab.printed(t, paper)
	if *shots != "" {
		save(t, filepath.Join(*shots, p.name+"-"+paper.name+".pdf"), pdf)
	}
	sheets := strings.Split(strings.TrimSuffix(textOf(t, pdf, "-raw"), "\f"), "\f")
	if p.far.mm == 0 { // the lines for notes on a recording sheet have no text
		faults = loneHeadings(t, tab, sheets)
	}
	for i := range sheets {
		sheets[i] = unspaced(sheets[i])
	}
	whole := strings.Join(sheets, "")
	for _, text := range append(p.said, shown(t, tab)...) {
		if !strings.Contains(whole, unspaced(text)) {
			faults = append(faults, fmt.Sprintf("the print lacks %q", text))
		}
	}
	for _, picture := range found[[]struct {
		Title string
		Texts []string
	}](t, tab, `[...document.querySelectorAll("svg")].map(e => ({title: e.querySelector("title").textContent, texts: [...e.querySelectorAll("text")].map(e => e.textContent)}))`) {
		if !slices.ContainsFunc(sheets, func(sheet string) bool {
			return !slices.ContainsFunc(picture.Texts, func(text string) bool { return !strings.Contains(sheet, unspaced(text)) })
		}) {
			faults = append(faults, fmt.Sprintf("the picture %q is whole on no page", picture.Title))
		}
	}
	if p.far.mm != 0 {
		faults = append(faults, printsTrue(t, pdf, len(sheets), p.far)...)
	}
	return faults
}

// loneHeadings: where a page ends with a heading, or with that of a table, what it heads
// is on the next.
func loneHeadings(t *testing.T, tab *tab, sheets []string) (faults []string) {
	headings := found[[]string](t, tab, `[...document.querySelectorAll("h2, h3, h4, caption, thead tr")].map(e => [...e.childNodes].map(n => n.textContent).join(" "))`)
	for i, sheet := range sheets {
		lines := strings.Split(strings.TrimSpace(sheet), "\n")
		last := lines[len(lines)-1]
		if slices.ContainsFunc(headings, func(h string) bool { return unspaced(h) == unspaced(last) }) {
			faults = append(faults, fmt.Sprintf("page %d ends with the heading %q", i+1, last))
		}
	}
	return faults
}

// shown are the texts of a page: advice, reasons, notices, cautions and tables as well as
// the words in pictures.
func shown(t *testing.T, tab *tab) []string {
	return found[[]string](t, tab, `[...document.querySelectorAll("h1, main :is(h2, h3, h4, p, li, th, td, dt, dd, caption, figcaption, text)")].map(e => e.textContent)`)
}

// distance is that between two numbers on a ruler.
type distance struct {
	from, to string
	mm       float64
}

// printsTrue: the recording sheet takes two pages, and its rulers keep their true size.
func printsTrue(t *testing.T, pdf []byte, pages int, far distance) (faults []string) {
	if pages != 2 {
		faults = append(faults, fmt.Sprintf("prints on %d pages, want 2", pages))
	}
	words := map[string][][2]float64{} // where each word begins, points
	for _, word := range regexp.MustCompile(`<word xMin="([0-9.]+)" yMin="([0-9.]+)"[^>]*>([^<]*)</word>`).FindAllStringSubmatch(textOf(t, pdf, "-bbox"), -1) {
		x, _ := strconv.ParseFloat(word[1], 64) // digits and a point, by the pattern
		y, _ := strconv.ParseFloat(word[2], 64)
		words[word[3]] = append(words[word[3]], [2]float64{x, y})
	}
	rulers := 0
	for _, from := range words[far.from] {
		for _, to := range words[far.to] {
			if math.Abs(from[0]-to[0]) > 0.5 || to[1] < from[1] {
				continue // not of one ruler
			}
			rulers++
			if got := (to[1] - from[1]) / 72 * 25.4; math.Abs(got-far.mm) > 0.1 {
				faults = append(faults, fmt.Sprintf("from %s to %s on a ruler are %.2f mm on paper, want %.1f", far.from, far.to, got, far.mm))
			}
		}
	}
	if rulers < 2 {
		faults = append(faults, fmt.Sprintf("found %d rulers from %s to %s, want two and more: %v, %v", rulers, far.from, far.to, words[far.from], words[far.to]))
	}
	return faults
}
