package cli_test

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// The pages that the program writes open and print as they should: chromium shows them,
// axe browsertest.Looks through them, and poppler reads the prints.
func TestPages_inBrowser(t *testing.T) {
	browser := browsertest.Start(t)
	for _, p := range writtenPages(t) {
		t.Run(p.name, func(t *testing.T) { checkPage(t, browser, p, func(t *testing.T, fault string) { t.Error(fault) }) })
	}
}

// A page with every fault that the checks look for is told to have them.
func TestPages_faultsAreSeen(t *testing.T) {
	browser := browsertest.Start(t)
	bad := writtenPage{name: "bad", file: filepath.Join(t.TempDir(), "bad.html"), said: []string{"said in JSON"}, skips: true, far: distance{"50", "150", 100}}
	browsertest.Save(t, bad.file, []byte(`<!doctype html><html lang="en"><title>Bad</title>
<meta http-equiv="Content-Security-Policy" content="script-src 'none'">
<style>@page { margin: 10mm } @media print { .hidden { display: none } }</style>
<script>alert(1)</script>
<main>
<h1>Bad</h1>
<p style="color: #bbb">Hardly to be read</p>
<p class="hidden">Not on paper</p>
<a href="#elsewhere" style="outline: none">On</a>
<img src="missing.png">
<p><a href="#apart" style="font-size: 10px">Apart</a></p>
<p><button style="height: 30px">Press</button></p>
<div style="width: 500px">Wide</div>
<svg width="190mm" height="400mm" viewBox="0 0 190 400"><title>Long</title>
<rect width="190" height="400" fill="#fff"/>
<text x="5" y="10" font-size="4" fill="#ccc">Top</text><text x="5" y="395" font-size="4">Foot</text>
<text x="50" y="20" font-size="4">50</text><text x="50" y="110" font-size="4">150</text></svg>
</main></html>`))
	var seen []string
	checkPage(t, browser, bad, func(_ *testing.T, fault string) { seen = append(seen, fault) })
	tab := browsertest.Open(t, browser, bad.file)
	for _, fault := range append(browsertest.Quiet(t, tab, ""), browsertest.Touchable(t, tab)...) {
		seen = append(seen, "served: "+fault)
	}
	for _, want := range []string{
		"the browser complains", "missing.png", "holds a script", "too far right: [\"div: Wide\"", "color-contrast", "image-alt", "faint letters: in the picture “Long” 1: “Top” 1.6",
		"the keyboard is at \"On\"", "leads to \"#elsewhere\"", "the print lacks \"Not on paper\"", "the print lacks \"said in JSON\"",
		"served: the browser complains", "served: fetches file:", "served: Press: button of", "served: Apart: a of",
		"the picture \"Long\" is whole on no page", "on a ruler are 90.00 mm", "pages, want 2",
	} {
		if !slices.ContainsFunc(seen, func(fault string) bool { return strings.Contains(fault, want) }) {
			t.Errorf("none of the faults told says %q:\n%s", want, strings.Join(seen, "\n"))
		}
	}
}

// checkPage puts a page to all checks and tells of each fault.
func checkPage(t *testing.T, browser context.Context, p writtenPage, tell func(*testing.T, string)) {
	tab := browsertest.Open(t, browser, p.file)
	check := func(name string, faults func(*testing.T) []string) {
		t.Run(name, func(t *testing.T) {
			for _, fault := range faults(t) {
				tell(t, fault)
			}
		})
	}
	check("standsAlone", func(t *testing.T) []string { return standsAlone(t, tab) })
	check("fitsPhones", func(t *testing.T) []string { return browsertest.FitsPhones(t, tab) })
	if p.skips {
		check("byKeyboard", func(t *testing.T) []string { return browsertest.ByKeyboard(t, tab, "#advice") })
	}
	tab.Do(t, chromedp.Evaluate[chromedp.Void](browsertest.Axe(t)))
	for _, l := range browsertest.Looks {
		check(fmt.Sprintf("legible_%d_%s", l.Width, l.Scheme), func(t *testing.T) []string {
			tab.Look(t, l)
			if *browsertest.Shots != "" {
				tab.Shoot(t, filepath.Join(*browsertest.Shots, fmt.Sprintf("%s-%d-%s", p.name, l.Width, l.Scheme)))
			}
			return browsertest.Legible(t, tab)
		})
	}
	for _, paper := range papers {
		check("prints_"+paper.name, func(t *testing.T) []string { return printsWhole(t, tab, p, paper) })
	}
}

// writtenPage is a page to look at.
type writtenPage struct {
	name, file string
	said       []string // what it must say
	skips      bool     // to the advice
	far        distance // on the rulers of a recording sheet
}

// writtenPages are the demo's reports, one with a photo and recording sheets, as the
// program writes them.
func writtenPages(t *testing.T) (list []writtenPage) {
	t.Helper()
	dir := t.TempDir()
	w := programtest.NewWorld(map[string]string{"PANECORE_LOGBOOK": filepath.Join(dir, "logbook.db")})
	photographed, inches := filepath.Join(dir, "photographed.html"), filepath.Join(dir, "inches.html")
	for _, command := range [][]string{
		{"demo", "--out", dir},
		{"sheet", "--units", "in", "--out", inches},
		{"tank", "add", "hall", "--set-up", "2024-10-12", "--native", "#d5c8a5,sand"},
		{"photo", filepath.Join(programtest.Photos, "sand.jpg"), "--tank", "hall", "--station", "front", "--date", "2026-05-01",
			"--strip", "588,196,609,805", "--surface", "347", "--ruler", "183.4,93.5,183.4,1008.3,70mm", "--neutral", "1359,651,154,95"},
		{"report", "hall", "--out", photographed},
	} {
		if code := w.Run(command...); code != 0 {
			t.Fatalf("%q: exit code %d: %s", command, code, &w.Told)
		}
	}
	for _, tank := range foundTanks(t) {
		list = append(list, writtenPage{name: tank.ID, file: filepath.Join(dir, tank.ID+".html"), said: tank.said(), skips: true})
	}
	return append(list,
		writtenPage{name: "photographed", file: photographed, skips: true},
		writtenPage{name: "sheet", file: filepath.Join(dir, "sheet.html"), far: distance{"50", "150", 100}},
		writtenPage{name: "sheet_inches", file: inches, far: distance{"3", "7", 101.6}})
}

// foundTank is what the program says of a tank in JSON.
type foundTank struct {
	ID     string
	Advice struct {
		How      string
		First    []string
		Because  []struct{ Text string }
		Against  []struct{ Text string }
		Cautions []string
	}
	Notices []string
}

func foundTanks(t *testing.T) []foundTank {
	t.Helper()
	w := programtest.NewWorld(nil)
	if code := w.Run("demo", "--json"); code != 0 {
		t.Fatalf("exit code %d: %s", code, &w.Told)
	}
	var findings struct{ Tanks []foundTank }
	if err := json.Unmarshal(w.Printed.Bytes(), &findings); err != nil {
		t.Fatal(err)
	}
	for _, tank := range findings.Tanks {
		if tank.Advice.How == "" || len(tank.Advice.Because) == 0 || len(tank.Notices) == 0 {
			t.Fatalf("%s: found no advice, reasons or notices", tank.ID)
		}
	}
	return findings.Tanks
}

// said are the texts that the tank's page must have as well.
func (f foundTank) said() []string {
	said := append([]string{f.Advice.How}, f.Advice.First...)
	for _, reason := range append(f.Advice.Because, f.Advice.Against...) {
		said = append(said, reason.Text)
	}
	return slices.Concat(said, f.Advice.Cautions, f.Notices)
}
