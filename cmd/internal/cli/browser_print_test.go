package cli_test

import (
	"fmt"
	"math"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
)

// standsAlone: a page that was just opened fetched nothing but itself, has no script and
// gives the browser nothing to complain about.
func standsAlone(t *testing.T, tab *browsertest.Tab) (faults []string) {
	complaints, requests := tab.Heard()
	for _, complaint := range complaints {
		faults = append(faults, "the browser complains: "+complaint)
	}
	for _, request := range requests {
		if request != tab.URL && !strings.HasPrefix(request, "data:") {
			faults = append(faults, "fetches "+request)
		}
	}
	if !slices.Contains(requests, tab.URL) {
		faults = append(faults, fmt.Sprintf("saw no request of the page itself, so that others may have been missed: %q", requests))
	}
	for _, script := range browsertest.Found[[]string](t, tab, `[...document.querySelectorAll("*")].filter(e => e.localName == "script" ||
		[...e.attributes].some(a => a.name.startsWith("on") || a.value.trim().toLowerCase().startsWith("javascript:"))).map(e => e.outerHTML)`) {
		faults = append(faults, fmt.Sprintf("holds a script: %.100s", script))
	}
	return faults
}

// printsWhole: the print has every text of the page, no picture is cut, and no heading
// stands alone at the foot of a page.
func printsWhole(t *testing.T, tab *browsertest.Tab, p writtenPage, paper paper) (faults []string) {
	tab.Look(t, browsertest.Look{Width: 1280, Height: 800, Scheme: "dark"}) // paper is white whatever the screen is
	pdf := printed(t, tab, paper)
	if *browsertest.Shots != "" {
		browsertest.Save(t, filepath.Join(*browsertest.Shots, p.name+"-"+paper.name+".pdf"), pdf)
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
	for _, picture := range browsertest.Found[[]struct {
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
func loneHeadings(t *testing.T, tab *browsertest.Tab, sheets []string) (faults []string) {
	headings := browsertest.Found[[]string](t, tab, `[...document.querySelectorAll("h2, h3, h4, caption, thead tr")].map(e => [...e.childNodes].map(n => n.textContent).join(" "))`)
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
func shown(t *testing.T, tab *browsertest.Tab) []string {
	return browsertest.Found[[]string](t, tab, `[...document.querySelectorAll("h1, main :is(h2, h3, h4, p, li, th, td, dt, dd, caption, figcaption, text)")].map(e => e.textContent)`)
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

// paper is a size of paper, its name and its inches.
type paper struct {
	name string
	size chromedp.PaperSize
}

var papers = []paper{{"A4", chromedp.PaperA4}, {"Letter", chromedp.PaperLetter}}

// printed is the page as PDF.
func printed(t *testing.T, tab *browsertest.Tab, p paper) []byte {
	t.Helper()
	pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(p.size), chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	return pdf
}

// textOf is what pdftotext reads in a PDF, with its options.
func textOf(t *testing.T, pdf []byte, options ...string) string {
	t.Helper()
	path := browsertest.Tool(t, "pdftotext")
	file := filepath.Join(t.TempDir(), "page.pdf")
	browsertest.Save(t, file, pdf)
	text, err := exec.CommandContext(t.Context(), path, append(options, file, "-")...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// unspaced is a text without spaces and in small letters: where lines end is for the
// reader of a PDF to guess, and a style may ask for capitals.
func unspaced(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), "")) }
