package serve_test

import (
	"fmt"
	"strings"
	"testing"

	"panecore/cmd/internal/browsertest"
)

// readBed serves a hall whose bed was read once.
func readBed(t *testing.T) stand {
	return standing(t, []string{"tank", "add", "hall", "--native", "#d5c8a5,sand,80mm"},
		[]string{"core", "add", "hall", "40mm #8b6a48", "20mm #3d3c35", "80mm #d5c8a5", "--station", "front", "--date", "2026-10-20"})
}

// typeBed types thicknesses of that bed's colours.
func (tab *tab) typeBed(t *testing.T, thicknesses ...string) {
	t.Helper()
	for i, hex := range []string{"#8b6a48", "#3d3c35", "#d5c8a5"} {
		tab.Do(t, fill(rowField(i+1, "thickness"), thicknesses[i]), fill(rowField(i+1, "hex"), hex))
	}
}

// A slip is asked about softly while a core is typed and in earnest when it is saved: the
// question has the keys, its answer mends the rows, what is typed outlasts it all as a draft,
// and that goes when the reading is saved.
func TestServe_questionByHand(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := readBed(t)
	before := s.says(t, "export")
	tab := enter(t, browser, s.served, look(1280, 900, "light"))
	tab.goTo(t, "/tank/hall/read?station=front")
	const asks = `document.querySelector("#drawn .whole").textContent.includes("Was mm typed as cm?")`
	tab.Do(t, fill(rowField(1, "thickness"), "42cm"), fill(rowField(1, "hex"), "#8b6a48"))
	tab.until(t, drawnAre(1))
	if browsertest.Found[bool](t, tab, asks) {
		t.Error("it asks while the core is still being typed")
	}
	tab.typeBed(t, "42cm", "20cm", "80cm")
	tab.until(t, asks)
	tab.Do(t, fill("#core-note", "an hour's work"))
	tab.leads(t, click(`#hand [value="save"]`))
	tab.has(t, "#asked")
	if s.says(t, "export") != before {
		t.Fatal("it is kept before the question is answered")
	}

	tab.goTo(t, "/tank/hall/read?station=front")
	tab.until(t, restored)
	if got := tab.value(t, rowField(3, "thickness")) + ", " + tab.value(t, "#core-note"); got != "80cm, an hour's work" {
		t.Errorf("after the question the draft holds %q", got)
	}
	tab.leads(t, click(`#hand [value="save"]`))
	tab.leads(t, click(`#asked [value="tenfold"]`))
	tab.has(t, "#asked")
	if got := tab.value(t, rowField(1, "thickness")) + " " + tab.value(t, rowField(3, "thickness")); got != "42 80" {
		t.Errorf("mended to %s", got)
	}
	tab.leads(t, click(`#hand .main[value="save"]`))
	if said := tab.text(t, ".said"); said != "The reading of front, 2026-11-25 is saved." {
		t.Errorf("said %q", said)
	}
	tab.goTo(t, "/tank/hall/read?station=front")
	if browsertest.Found[bool](t, tab, restored) {
		t.Error("what was kept comes back as a draft")
	}
	wantQuiet(t, tab)
}

// A core that is stored already is settled on its tank's page by one press, which undo takes
// back.
func TestServe_settles(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	s := readBed(t)
	tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
	tab.goTo(t, "/tank/hall/read?station=front")
	tab.typeBed(t, "12", "20", "80")
	tab.leads(t, click(`#hand [value="save"]`))
	tab.leads(t, click(`#asked [value="removal"]`))
	if said := tab.text(t, ".said"); !strings.Contains(said, "is saved.") || !strings.Contains(said, "A siphoning was entered for 2026-11-24") {
		t.Errorf("said %q", said)
	}
	tab.leads(t, click(".undo button")) // the event, so that it is asked again
	before := s.says(t, "export")
	tab.goTo(t, "/tank/hall")
	tab.leads(t, click(`form[action="/tank/hall/core/front/2026-11-25/mend"] [value="none"]`))
	if said := tab.text(t, ".said"); !strings.Contains(said, "you said that it is right") {
		t.Errorf("said %q", said)
	}
	if !strings.Contains(coreExported(t, s, 1), `"sure": true`) {
		t.Errorf("kept %s", coreExported(t, s, 1))
	}
	tab.leads(t, click(".undo button"))
	if s.says(t, "export") != before {
		t.Error("undo does not give back what was")
	}
	wantQuiet(t, tab)
}

// A photo whose reading is unlike the one before is asked about beside the button that saves
// it; who moves an edge is asked anew; and what is answered is saved.
func TestServe_questionOfPhoto(t *testing.T) {
	t.Parallel()
	for answer, want := range map[string]string{"none": `"sure": true`, "removal": `"kind": "siphon"`} {
		t.Run(answer, func(t *testing.T) {
			browser := browsertest.Start(t)
			s := standing(t, []string{"tank", "add", "dry-jar"},
				[]string{"core", "add", "dry-jar", "140mm #8b6a48", "6mm #3d3c35", "--station", "front", "--date", "2026-10-20"})
			tab := enter(t, browser, s.served, look(390, 844, "light"), asPhone...)
			tab.goTo(t, "/photo?tank=dry-jar")
			tab.openRead(t, s.visitor)
			before := s.says(t, "export")
			save := `!document.getElementById("save-asked").hidden && document.activeElement.id == "save-asked"`
			tab.Do(t, click("#step-save .step-name"), click("#save-go"))
			tab.until(t, save)
			if s.says(t, "export") != before {
				t.Fatal("it is saved before the question is answered")
			}
			tab.Drawn(t)
			if !browsertest.Found[bool](t, tab, `(() => {
				const question = document.getElementById("save-question"), r = question.getBoundingClientRect()
				return question.contains(document.elementFromPoint(r.left + 3, r.top + 3))})()`) {
				t.Error("the question is not on the screen")
			}
			button := fmt.Sprintf(`#save-answers [value=%q]`, answer)
			if !browsertest.Found[bool](t, tab, fmt.Sprintf(`document.querySelector(%q) != null`, button)) {
				t.Fatalf("it asks %q", tab.text(t, "#save-asked"))
			}
			tab.Do(t, fill("#save-note", "seen twice"))
			tab.until(t, `document.getElementById("save-asked").hidden`) // it is of the reading before
			tab.Do(t, click("#save-go"))
			tab.until(t, save)
			tab.leads(t, click(button))
			if after := s.says(t, "export"); tab.at(t) != "/tank/dry-jar" || !strings.Contains(after, want) || !strings.Contains(after, "seen twice") {
				t.Errorf("at %s it kept %s", tab.at(t), after)
			}
			wantQuiet(t, tab, "status of 409")
			if answer != "none" {
				return
			}
			tab.goTo(t, "/photo?tank=dry-jar") // the same photo once more: who was sure is not asked again
			tab.choosePhoto(t, "../demo/photo.jpg")
			tab.until(t, `document.getElementById("handle-edge-1") && document.getElementById("photo-wait").hidden`)
			tab.Do(t, click("#step-save .step-name"))
			tab.leads(t, click("#save-go"))
			if after := s.says(t, "export"); !strings.Contains(after, want) || strings.Count(after, `"photo"`) != 1 {
				t.Errorf("saved again it kept %s", after)
			}
		})
	}
}
