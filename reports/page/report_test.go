package page_test

import (
	"bytes"
	"flag"
	"html"
	"image"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/page"
	"panecore/reports/words"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// demoTanks are the invented tanks that the program shows.
func demoTanks(tb testing.TB) []layers.Tank {
	tb.Helper()
	document, err := os.ReadFile(filepath.Join("..", "..", "cmd", "internal", "demo", "logbook.json"))
	if err != nil {
		tb.Fatal(err)
	}
	const longAfter layers.Date = 47482 // 2100-01-01
	tanks, err := layers.Decode(bytes.NewReader(document), longAfter)
	if err != nil {
		tb.Fatal(err)
	}
	return tanks
}

func demoTank(tb testing.TB, id string) layers.Tank {
	tb.Helper()
	for _, tank := range demoTanks(tb) {
		if tank.ID == id {
			return tank
		}
	}
	tb.Fatalf("the demo has no tank %q", id)
	return layers.Tank{}
}

func recordOf(tank layers.Tank) reports.Record {
	return judge.NewRecord(tank, reports.Settings{Draws: 200, Seed: 1})
}

func written(tb testing.TB, r page.Report) string {
	tb.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, r); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}

// everyTank runs a test on the page of each of the demo's tanks, and of one without cores.
func everyTank(t *testing.T, test func(t *testing.T, r page.Report, text string)) {
	for _, tank := range append(demoTanks(t), layers.Tank{ID: "dry"}) {
		t.Run(tank.ID, func(t *testing.T) {
			r := page.Report{Record: recordOf(tank), Version: "v0"}
			test(t, r, written(t, r))
		})
	}
}

// tag is a tag of a page as it was written.
type tag struct {
	name       string
	end        bool
	attributes map[string]string
}

var (
	tagPattern       = regexp.MustCompile(`<(/?)([a-zA-Z!][a-zA-Z0-9]*)((?:\s+[a-zA-Z:-]+(?:="[^"<>]*")?)*)\s*(/?)>`)
	attributePattern = regexp.MustCompile(`([a-zA-Z:-]+)(?:="([^"]*)")?`)
	stylePattern     = regexp.MustCompile(`(?s)<style>.*?</style>`)
	svgPattern       = regexp.MustCompile(`(?s)<svg[^>]*><title>(.*?)</title><desc>.*?</svg>`)
)

// tagsOf are the tags of a page. One that stands otherwise than they are written here, or a
// bare sign of one, fails the test.
func tagsOf(t *testing.T, text string) (tags []tag) {
	t.Helper()
	text = stylePattern.ReplaceAllString(text, "")
	for _, m := range tagPattern.FindAllStringSubmatch(text, -1) {
		one := tag{m[2], m[1] == "/", map[string]string{}}
		for _, a := range attributePattern.FindAllStringSubmatch(m[3], -1) {
			one.attributes[a[1]] = html.UnescapeString(a[2])
		}
		tags = append(tags, one)
		if m[4] == "/" {
			tags = append(tags, tag{name: m[2], end: true})
		}
	}
	if rest := tagPattern.ReplaceAllString(text, ""); strings.ContainsAny(rest, "<>") {
		i := strings.IndexAny(rest, "<>")
		t.Errorf("a bare < or > by %q", rest[max(0, i-40):min(len(rest), i+40)])
	}
	return tags
}

// plainText is what a page says, its pictures left to their titles, a line a block.
func plainText(text string) string {
	text = stylePattern.ReplaceAllString(text, "")
	text = svgPattern.ReplaceAllString(text, "[picture: $1]")
	text = regexp.MustCompile(`</t[hd]><t[hd][^>]*>`).ReplaceAllString(text, " | ")
	text = regexp.MustCompile(`<(h[1-4])[^>]*>`).ReplaceAllString(text, "\n$1: ")
	text = tagPattern.ReplaceAllString(text, "")
	var lines []string
	for line := range strings.Lines(html.UnescapeString(text)) {
		if line = strings.Join(strings.Fields(line), " "); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

func TestWrite_golden(t *testing.T) {
	got := plainText(written(t, page.Report{Record: judge.NewRecord(demoTank(t, "sill-tray"), reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}), Version: "v0"}))
	path := filepath.Join("..", "..", "testdata", "text", "page_sill_tray.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s differs (-want +got; -update rewrites):\n%s", path, diff)
	}
}

func TestWrite_sameBytes(t *testing.T) {
	r := page.Report{Record: recordOf(demoTank(t, "loft-jar"))}
	first, second := written(t, r), written(t, r)
	if first != second {
		t.Error("the same report gave other bytes")
	}
}

// A tag that is opened is shut, in its order, whatever the tank.
func TestWrite_balanced(t *testing.T) {
	empty := []string{"!doctype", "meta", "img"}
	everyTank(t, func(t *testing.T, _ page.Report, text string) {
		var open []string
		for _, one := range tagsOf(t, text) {
			switch {
			case slices.Contains(empty, one.name):
			case !one.end:
				open = append(open, one.name)
			case len(open) == 0 || open[len(open)-1] != one.name:
				t.Fatalf("</%s> where %v are open", one.name, open)
			default:
				open = open[:len(open)-1]
			}
		}
		if len(open) > 0 {
			t.Errorf("%v are never shut", open)
		}
	})
}

func TestWrite_headings(t *testing.T) {
	want := []string{
		"Advice", "Why, and what speaks against it", "The bed", "The record over time", "Oxygen", "Rehearsals", "The numbers",
		"The layers", "Water tests", "Events", "The method, and its limits", "Cautions", "Notices",
	}
	heading := regexp.MustCompile(`<h([1-4])[^>]*>(.*?)</h[1-4]>`)
	everyTank(t, func(t *testing.T, _ page.Report, text string) {
		var second []string
		level := 0
		for _, m := range heading.FindAllStringSubmatch(text, -1) {
			at := int(m[1][0] - '0')
			if at > level+1 {
				t.Errorf("%q is a heading of level %d below one of level %d", m[2], at, level)
			}
			if at == 1 && level != 0 {
				t.Errorf("%q is a second h1", m[2])
			}
			if level = at; at == 2 {
				second = append(second, m[2])
			}
		}
		if diff := cmp.Diff(want, second); diff != "" {
			t.Errorf("headings (-want +got):\n%s", diff)
		}
	})
}

// What labels or leads somewhere does so on this page.
func TestWrite_namesWithinPage(t *testing.T) {
	everyTank(t, func(t *testing.T, _ page.Report, text string) {
		ids := map[string]bool{}
		tags := tagsOf(t, text)
		for _, one := range tags {
			if id, has := one.attributes["id"]; has {
				if ids[id] {
					t.Errorf("two things are called %q", id)
				}
				ids[id] = true
			}
		}
		named := map[string]bool{}
		for _, m := range regexp.MustCompile(`<h[1-4][^>]*>(.*?)</h[1-4]>`).FindAllStringSubmatch(text, -1) {
			named[m[1]] = true
		}
		for _, one := range tags {
			if name := one.attributes["aria-label"]; name != "" {
				if named[name] {
					t.Errorf("two parts of the page are called %q", name)
				}
				named[name] = true
			}
			for _, name := range []string{"href", "aria-labelledby"} {
				if to, has := one.attributes[name]; has && !ids[strings.TrimPrefix(to, "#")] {
					t.Errorf("%s=%q leads nowhere", name, to)
				}
			}
			if strings.HasPrefix(one.name, "script") || one.name == "link" || one.name == "iframe" {
				t.Errorf("the page has a <%s>", one.name)
			}
		}
		if style := stylePattern.FindString(text); strings.Contains(style, "url(") || strings.Contains(style, "@import") {
			t.Error("the style fetches something")
		}
		bare := strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, "")
		if i := strings.Index(bare, "http"); i >= 0 && !strings.HasPrefix(bare[i:], "http-equiv") || strings.Count(bare, "http") > 1 {
			t.Error("the page names an address outside")
		}
	})
}

// Every text of the findings stands on the page, word by word.
func TestWrite_allIsSaid(t *testing.T) {
	everyTank(t, func(t *testing.T, r page.Report, text string) {
		said := plainText(text)
		tank := r.Record.Tank
		want := slices.Concat(tank.Notices, r.Record.Timeline.Notices, []string{tank.Name})
		if a := tank.Advice; a != nil {
			want = slices.Concat(want, a.First, a.Cautions, []string{a.How, a.NextReading.String()})
			for _, reason := range slices.Concat(a.Because, a.Against) {
				want = append(want, reason.Text, reason.Mark)
			}
		}
		if r.Record.Oxygen != nil {
			want = append(want, r.Record.Oxygen.Notices...)
		}
		for _, one := range r.Record.Rehearsals {
			want = slices.Concat(want, one.Steps, one.Cautions, one.Notices)
			for _, n := range one.Numbers {
				want = append(want, n.Name, n.Source)
			}
		}
		want = append(want, words.Lacking(r.Record))
		for _, core := range tank.Cores {
			want = append(want, core.Note)
			for _, l := range core.Layers {
				want = append(want, l.Hex.String(), l.Band.String())
			}
		}
		for _, e := range r.Record.Timeline.Events {
			want = append(want, e.Date.String(), e.Note)
		}
		for _, w := range want {
			if !strings.Contains(said, strings.Join(strings.Fields(w), " ")) {
				t.Errorf("the page does not say %q", w)
			}
		}
	})
}

// What the physics lacks is said to a keeper: the program's own errors are not for a page.
func TestWrite_lacking(t *testing.T) {
	tank := demoTank(t, "wheel-room")
	tank.Vessel = nil
	text := plainText(written(t, page.Report{Record: recordOf(tank)}))
	if n := strings.Count(text, "\nNot worked out: it needs the vessel's measurements and a water temperature from the last 90 days."); n != 2 {
		t.Errorf("oxygen and rehearsals say %d times what they lack", n)
	}
	if strings.Contains(text, "found records") {
		t.Error("the page shows an error")
	}
}

func TestWrite_overTheLimit(t *testing.T) {
	r := page.Report{Record: recordOf(demoTank(t, "loft-jar"))}
	over := 0
	for _, test := range r.Record.Water {
		if test.OverLimit {
			over++
		}
	}
	if got := strings.Count(plainText(written(t, r)), "| over the limit\n"); over == 0 || got != over {
		t.Errorf("over the limit: said %d times, found %d times", got, over)
	}
}

// TestWrite_besideTheLimit: every water test says of itself whether it is over the limit. By
// Emerson et al. 1975 a mg N/L at 25 °C is 0.0057 un-ionised at pH 7 and 0.15 at pH 8.5; the limit
// is 0.0206.
func TestWrite_besideTheLimit(t *testing.T) {
	test := func(date layers.Date, ph float64) layers.WaterTest {
		total, degrees := 1.0, 25.0
		return layers.WaterTest{Date: date, PH: &ph, TemperatureC: &degrees, TotalAmmonia: &total}
	}
	tank := demoTank(t, "loft-jar")
	last := tank.Cores[len(tank.Cores)-1].Date
	unknown := test(last-2, 7)
	unknown.PH = nil
	tank.Water = []layers.WaterTest{test(last-4, 7), test(last-3, 8.5), unknown, test(last-1, 7)}
	text := written(t, page.Report{Record: recordOf(tank)})
	for day, want := range map[layers.Date]string{last - 4: "within it", last - 3: "over the limit", last - 2: "not known", last - 1: "within it"} {
		row := regexp.MustCompile(`<tr><th scope="row"><time>` + day.String() + `</time></th>.*</tr>`).FindString(text)
		for _, words := range []string{"within it", "over the limit", "not known"} {
			if strings.Contains(row, words) != (words == want) {
				t.Errorf("%s, want it %s", row, want)
			}
		}
	}
}

// hostile is what no text of a record may do to a page: bring tags, leave an attribute, or
// turn a line around.
const hostile = `<script>alert(1)</script><img src=x onerror=alert(1)>&"' ` + "\u202e\x1b[2J\u2028\x00\xff"

func hostileTank() layers.Tank {
	text := hostile + strings.Repeat("long", 60) + " שלום עולם"
	brown, black := palette.Color{R: 0x80, G: 0x60, B: 0x40}, palette.Color{R: 0x20, G: 0x20, B: 0x20}
	number := func(x float64) *float64 { return &x }
	tank := layers.Tank{
		ID: text, Name: "name " + text, SetUp: 19000, Flow: layers.Still,
		Vessel: &layers.Vessel{Shape: layers.Box, LengthMM: 600, WidthMM: 300, WaterDepthMM: 300},
		Water:  []layers.WaterTest{{Date: 20100, Time: text, PH: number(8), TemperatureC: number(25), TotalAmmonia: number(2), OxygenMGPerL: number(5)}},
		Events: []layers.Event{{Date: 20050, Kind: layers.EventKind(text), Note: text, Share: number(0.2), DepthMM: number(10)}},
	}
	for _, day := range []layers.Date{20000, 20100} {
		tank.Cores = append(tank.Cores, layers.Core{
			Date: day, Station: text, Note: text, Signs: []layers.Sign{layers.Sign(text)},
			Layers: []layers.Layer{{ThicknessMM: 20, Color: brown, Note: text}, {ThicknessMM: 40, Color: black}},
		})
	}
	return tank
}

func TestWrite_escapes(t *testing.T) {
	text := written(t, page.Report{
		Record: recordOf(hostileTank()), Version: hostile,
		Photos: []page.Photo{{Station: hostile, Date: 20100, Picture: []byte("p"), PictureType: "image/png", Overlay: []byte("o"), OverlayType: "image/jpeg", Text: hostile}},
	})
	known := strings.Fields(`!doctype html head meta title style body a div i header p h1 h2 h3 h4 bdi span dl dt dd time nav ul ol li main section
		figure figcaption table caption thead tbody tr th td code strong img footer svg desc g path rect text`)
	for _, one := range tagsOf(t, text) {
		if !slices.Contains(known, one.name) {
			t.Errorf("the page has a <%s>", one.name)
		}
		for name := range one.attributes {
			if strings.HasPrefix(name, "on") {
				t.Errorf("<%s> has %s", one.name, name)
			}
		}
	}
	if i := strings.IndexFunc(text, func(r rune) bool { return r < ' ' && r != '\n' || r == '\u202e' }); i >= 0 {
		t.Errorf("the page holds %q", text[i:i+4])
	}
	if !strings.Contains(plainText(text), "name <script>alert(1)</script>") {
		t.Error("the name is not shown as it was written")
	}
}

// A station's name in letters that run the other way turns nothing about that stands by it.
func TestWrite_namesApart(t *testing.T) {
	const name = "يمين"
	tank := demoTank(t, "sill-tray")
	for i := range tank.Cores {
		tank.Cores[i].Station = name
	}
	text := written(t, page.Report{Record: recordOf(tank), Photos: []page.Photo{{Station: name, Date: 20100, Picture: []byte("p"), PictureType: "image/png"}}})
	places := regexp.MustCompile(`(?s)<(caption|h3|th|p)\b[^>]*>.*?</(?:caption|h3|th|p)>`).FindAllString(regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(text, ""), -1)
	found := 0
	for _, place := range places {
		if strings.Contains(place, name) {
			if found++; !strings.Contains(place, "<bdi>"+name+"</bdi>") {
				t.Errorf("%q: the name does not stand apart", place)
			}
		}
	}
	if found < 4 { // a table of layers, a photo, the trends, the edge
		t.Errorf("found the name in %d places, want 4 and more", found)
	}
}

// The strips of photos and the change between two are pictures within the page; without photos there is no word of them.
func TestWrite_strips(t *testing.T) {
	r := page.Report{Record: recordOf(demoTank(t, "sill-tray"))}
	without := written(t, r)
	core := r.Record.Timeline.Stations[0].Cores[0]
	strip := reports.Strip{Station: core.Station, Date: core.Date, WidthMM: 10, AboveMM: 5, DepthMM: core.DepthMM(), Picture: image.NewRGBA(image.Rect(0, 0, 40, 160))}
	r.Strips = []reports.Strip{strip}
	r.Changes = []reports.Change{{Strips: [2]reports.Strip{strip, strip}, CellMM: 1, Width: 10, Difference: make([]float64, 300), Least: 9}}
	text := written(t, r)
	for _, want := range []string{`href="#years"`, "the strip of years", "what changed from", "No change stands out."} {
		if !strings.Contains(text, want) || strings.Contains(without, want) {
			t.Errorf("want %q with photos alone", want)
		}
	}
	if count := strings.Count(text, `<image `); count != 4 {
		t.Errorf("%d pictures of pixels, want the strip, the two photos and their change", count)
	}
}

func TestWrite_photos(t *testing.T) {
	r := page.Report{Record: recordOf(demoTank(t, "sill-tray")), Photos: []page.Photo{
		{Station: "front", Date: 20744, Picture: []byte("picture"), PictureType: "image/jpeg", Overlay: []byte("overlay"), OverlayType: "image/png", Text: "edges traced at 4 and 9 mm"},
		{Station: "right", Date: 20744, Overlay: []byte("alone"), OverlayType: "image/jpeg", Text: "one edge"},
	}}
	var shown []string
	text := written(t, r)
	for _, one := range tagsOf(t, text) {
		if one.name == "img" {
			shown = append(shown, one.attributes["src"]+" "+one.attributes["alt"])
		}
	}
	want := []string{
		"data:image/png;base64,b3ZlcmxheQ== edges traced at 4 and 9 mm",
		"data:image/jpeg;base64,cGljdHVyZQ== The same photo with nothing drawn on it.",
		"data:image/jpeg;base64,YWxvbmU= one edge",
	}
	if diff := cmp.Diff(want, shown); diff != "" {
		t.Errorf("images (-want +got):\n%s", diff)
	}
	if !strings.Contains(text, `<h2 id="photos-head">Photos</h2>`) {
		t.Error("the photos have no heading")
	}
	r.Photos[1].OverlayType = "image/svg+xml"
	if err := page.Write(&bytes.Buffer{}, r); err == nil || !strings.Contains(err.Error(), "right") || !strings.Contains(err.Error(), "image/svg+xml") {
		t.Errorf("a drawing as a photo gave error %v", err)
	}
}

func TestWrite_inches(t *testing.T) {
	text := plainText(written(t, page.Report{Record: recordOf(demoTank(t, "wheel-room")), Units: layers.Inches}))
	if !strings.Contains(text, "Thick\u00adness, in") || !strings.Contains(text, " in/month") || strings.Contains(text, " mm/month") {
		t.Errorf("lengths are not all in inches:\n%s", text)
	}
}

// A page is to be mailed: the limit is the project's own.
func TestWrite_small(t *testing.T) {
	const most = 600_000 // bytes, of a tank of two stations with 28 cores each
	tank := demoTank(t, "loft-jar")
	if n := len(tank.Cores); n != 2*28 {
		t.Fatalf("the tank has %d cores", n)
	}
	if n := len(written(t, page.Report{Record: recordOf(tank)})); n > most {
		t.Errorf("the page has %d bytes, more than %d", n, most)
	}
}

func BenchmarkWrite(b *testing.B) {
	tank := demoTank(b, "loft-jar")
	settings := reports.Settings{Draws: reports.DefaultDraws, Seed: reports.DefaultSeed}
	b.Run("page", func(b *testing.B) {
		r := page.Report{Record: judge.NewRecord(tank, settings)}
		for b.Loop() {
			written(b, r)
		}
	})
	b.Run("record and page", func(b *testing.B) {
		for b.Loop() {
			written(b, page.Report{Record: judge.NewRecord(tank, settings)})
		}
	})
}
