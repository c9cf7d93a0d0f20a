package page_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/page"
)

func writtenSheet(t *testing.T, u layers.Units) string {
	t.Helper()
	var b bytes.Buffer
	if err := page.WriteSheet(&b, u); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// inBothUnits runs a test on the sheet in millimetres and on that in inches.
func inBothUnits(t *testing.T, test func(t *testing.T, u layers.Units, sheet string)) {
	for _, u := range []layers.Units{layers.MM, layers.Inches} {
		t.Run(u.String(), func(t *testing.T) { test(t, u, writtenSheet(t, u)) })
	}
}

// svgOnPaper is a drawing as it was written; its measures are user units.
type svgOnPaper struct {
	Role    string `xml:"role,attr"`
	Width   string `xml:"width,attr"`
	Height  string `xml:"height,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Title   string `xml:"title"`
	Rects   []struct {
		Width  float64 `xml:"width,attr"`
		Height float64 `xml:"height,attr"`
		Fill   string  `xml:"fill,attr"`
	} `xml:"rect"`
	Paths []struct {
		Class string `xml:"class,attr"`
		D     string `xml:"d,attr"`
	} `xml:"path"`
	Texts []struct {
		Y    float64 `xml:"y,attr"`
		Text string  `xml:",chardata"`
	} `xml:"text"`
}

// drawingsOf reads the drawings whose title contains a text.
func drawingsOf(t *testing.T, sheet, title string) (found []svgOnPaper) {
	t.Helper()
	decoder := xml.NewDecoder(strings.NewReader(sheet))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return found
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok || start.Name.Local != "svg" {
			continue
		}
		var drawing svgOnPaper
		if err := decoder.DecodeElement(&drawing, &start); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(drawing.Title, title) {
			found = append(found, drawing)
		}
	}
}

type lineOnPaper struct {
	class          string
	x1, y1, x2, y2 float64
}

var lineData = regexp.MustCompile(`M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)`)

// lines are the straight lines of a drawing.
func (s svgOnPaper) lines(t *testing.T) (list []lineOnPaper) {
	t.Helper()
	for _, path := range s.Paths {
		for _, match := range lineData.FindAllStringSubmatch(path.D, -1) {
			var n [4]float64
			for i := range n {
				n[i] = decimal(t, match[i+1])
			}
			list = append(list, lineOnPaper{path.Class, n[0], n[1], n[2], n[3]})
		}
	}
	return list
}

func decimal(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// alike holds where two lengths are the same to a thousandth of a millimetre, as they are written.
func alike(a, b float64) bool { return math.Abs(a-b) < 0.0011 }

// markMM is the distance between the finest marks of a ruler, mm (tenths of the inch of 1959).
func markMM(u layers.Units) float64 {
	if u == layers.Inches {
		return 2.54
	}
	return 1
}

func TestWriteSheet_drawingsHaveTrueSize(t *testing.T) {
	inBothUnits(t, func(t *testing.T, _ layers.Units, sheet string) {
		drawings := drawingsOf(t, sheet, "")
		if len(drawings) < 10 {
			t.Errorf("found %d drawings, want a map, four columns, two rulers, the greys and two lines to measure", len(drawings))
		}
		for _, d := range drawings {
			if d.Role != "img" || d.Title == "" {
				t.Errorf("%q: found role %q, want img and a title", d.Title, d.Role)
			}
			width, height := strings.TrimSuffix(d.Width, "mm"), strings.TrimSuffix(d.Height, "mm")
			if d.Width != width+"mm" || d.Height != height+"mm" || d.ViewBox != "0 0 "+width+" "+height {
				t.Errorf("%s: found %s × %s and view box %q, want the same millimetres", d.Title, d.Width, d.Height, d.ViewBox)
			}
		}
	})
}

// What both papers have room for within margins of 10 mm: 190 mm of A4, 259 mm of Letter.
func TestWriteSheet_fitsBothPapers(t *testing.T) {
	const width, height, title = 190, 259.4, 8
	inBothUnits(t, func(t *testing.T, _ layers.Units, sheet string) {
		var columns, cutouts float64
		for _, d := range drawingsOf(t, sheet, "Column") {
			columns += decimal(t, strings.TrimSuffix(d.Width, "mm"))
		}
		for _, d := range append(drawingsOf(t, sheet, "to cut out"), drawingsOf(t, sheet, "level line")[0]) {
			cutouts += decimal(t, strings.TrimSuffix(d.Width, "mm"))
			if h := decimal(t, strings.TrimSuffix(d.Height, "mm")); h > height-title {
				t.Errorf("%s: found it %v mm high, want at most %v", d.Title, h, height-title)
			}
		}
		if columns == 0 || columns > width || cutouts > width {
			t.Errorf("found columns %v mm and cut-outs %v mm wide, want at most %v", columns, cutouts, width)
		}
	})
}

func TestWriteSheet_linesToMeasureAreTrue(t *testing.T) {
	inBothUnits(t, func(t *testing.T, u layers.Units, sheet string) {
		lengths := map[string]float64{"A level line of 100 mm": 100, "An upright line of 100 mm": 100}
		if u == layers.Inches {
			lengths["A level line of 4 in"] = 101.6
		}
		drawings := drawingsOf(t, sheet, " line of ")
		if len(drawings) != len(lengths) {
			t.Errorf("found %d lines, want %d", len(drawings), len(lengths))
		}
		for _, d := range drawings {
			var long []float64
			for _, l := range d.lines(t) {
				if l.class == "check" {
					long = append(long, math.Hypot(l.x2-l.x1, l.y2-l.y1))
				}
			}
			if len(long) != 1 || !alike(long[0], lengths[d.Title]) {
				t.Errorf("%s: found %v mm, want %v", d.Title, long, lengths[d.Title])
			}
		}
	})
}

// checkRuler holds the level lines that are marks, and their numbers, against where they must be.
func checkRuler(t *testing.T, d svgOnPaper, isMark func(lineOnPaper) bool, markMM float64, marks, toUnit int) {
	t.Helper()
	var places []float64
	for _, l := range d.lines(t) {
		if alike(l.y1, l.y2) && isMark(l) {
			places = append(places, l.y1)
		}
	}
	slices.Sort(places)
	if len(places) != marks+1 {
		t.Fatalf("%s: found %d marks, want %d", d.Title, len(places), marks+1)
	}
	for i, y := range places {
		if want := places[0] + float64(i)*markMM; !alike(y, want) {
			t.Errorf("%s: found mark %d at %v mm, want %v", d.Title, i, y, want)
		}
	}
	numbers := 0
	for _, text := range d.Texts {
		value, err := strconv.Atoi(text.Text)
		if err != nil {
			continue
		}
		numbers++
		if off := text.Y - places[value*toUnit]; off < 0 || off > 2 { // its baseline lies a little below the mark
			t.Errorf("%s: found number %d %v mm off its mark", d.Title, value, off)
		}
	}
	if want := marks/10 + 1; numbers != want {
		t.Errorf("%s: found %d numbers, want %d", d.Title, numbers, want)
	}
}

func TestWriteSheet_columnsAreLifeSize(t *testing.T) {
	inBothUnits(t, func(t *testing.T, u layers.Units, sheet string) {
		marks, toUnit := 130, 1
		if u == layers.Inches {
			marks, toUnit = 50, 10
		}
		columns := drawingsOf(t, sheet, "Column")
		if len(columns) != 4 {
			t.Errorf("found %d columns, want 4", len(columns))
		}
		for _, d := range columns {
			checkRuler(t, d, func(l lineOnPaper) bool { return alike(l.x2, 11.5) }, markMM(u), marks, toUnit)
		}
	})
}

func TestWriteSheet_rulersAreTrue(t *testing.T) {
	inBothUnits(t, func(t *testing.T, u layers.Units, sheet string) {
		marks, toUnit, targets := 200, 1, []float64{0, 50, 100, 150, 200}
		if u == layers.Inches {
			marks, toUnit, targets = 80, 10, []float64{0, 50.8, 101.6, 152.4, 203.2}
		}
		rulers := drawingsOf(t, sheet, "Ruler")
		if len(rulers) != 2 {
			t.Errorf("found %d rulers, want 2", len(rulers))
		}
		for _, d := range rulers {
			width := decimal(t, strings.TrimSuffix(d.Width, "mm"))
			checkRuler(t, d, func(l lineOnPaper) bool { return l.x1 == 0 }, markMM(u), marks, toUnit)
			checkRuler(t, d, func(l lineOnPaper) bool { return alike(l.x2, width) }, markMM(u), marks, toUnit)
			var crosses []float64
			for _, l := range d.lines(t) {
				if alike(l.x1, l.x2) {
					crosses = append(crosses, (l.y1+l.y2)/2-12) // 0 lies below a margin for the tape
				}
			}
			if !slices.EqualFunc(crosses, targets, alike) {
				t.Errorf("%s: found targets at %v mm, want %v", d.Title, crosses, targets)
			}
			if width < 18 {
				t.Errorf("%s: found it %v mm wide, want 18 at least", d.Title, width)
			}
		}
	})
}

func TestWriteSheet_greysAreNeutralAndEven(t *testing.T) {
	sheet := writtenSheet(t, layers.MM)
	greys := drawingsOf(t, sheet, "grey patches")[0].Rects
	if len(greys) != 6 {
		t.Fatalf("found %d patches, want 6", len(greys))
	}
	for i, r := range greys {
		color, err := palette.ParseColor(r.Fill)
		if err != nil {
			t.Fatal(err)
		}
		if color.R != color.G || color.G != color.B {
			t.Errorf("patch %d: found %s, want a neutral grey", i+1, color)
		}
		// Eight bits leave half a step of up to 0.3 in L*.
		if got, want := color.Lab().L, 100-20*float64(i); math.Abs(got-want) > 0.3 {
			t.Errorf("patch %d: found L* %.2f, want %v", i+1, got, want)
		}
		if r.Width < 18 || r.Height < 18 {
			t.Errorf("patch %d: found %v × %v mm, want 18 at least", i+1, r.Width, r.Height)
		}
	}
}

func TestWriteSheet_knowsTheProgramsWords(t *testing.T) {
	inBothUnits(t, func(t *testing.T, _ layers.Units, sheet string) {
		var want []string
		for _, sign := range layers.Signs() {
			want = append(want, "<b>"+strings.ReplaceAll(string(sign), "-", " ")+"</b> ")
		}
		for _, kind := range layers.EventKinds() {
			if slices.Contains(layers.Signs(), layers.Sign(kind)) {
				continue
			}
			want = append(want, "<b>"+strings.ReplaceAll(string(kind), "-", " ")+"</b></th>")
		}
		for _, band := range palette.Bands() {
			want = append(want, "<dt>"+band.String()+"</dt><dd>")
		}
		for _, text := range want {
			if !strings.Contains(sheet, text) {
				t.Errorf("found no %q", text)
			}
		}
		if strings.Contains(sheet, "<dd></dd>") {
			t.Error("found a band without what it looks like")
		}
	})
}

// What the sheet shows how to type is what the program reads, in its units.
func TestWriteSheet_examplesCanBeTyped(t *testing.T) {
	inBothUnits(t, func(t *testing.T, u layers.Units, sheet string) {
		typed := regexp.MustCompile(`'(.*)' …`).FindStringSubmatch(sheet)
		if typed == nil {
			t.Fatal("found no layer as it is typed")
		}
		layer, err := layers.ParseLayer(typed[1], func(string) (palette.Color, bool) { return palette.Color{}, false })
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(layer.ThicknessMM-18) > 0.2 {
			t.Errorf("found %v mm, want 18", layer.ThicknessMM)
		}
		ruler := "--ruler X1,Y1,X2,Y2,200mm"
		if u == layers.Inches {
			ruler = "--ruler X1,Y1,X2,Y2,8in"
		}
		if !strings.Contains(sheet, ruler) {
			t.Errorf("found no %q", ruler)
		}
	})
}

func TestWriteSheet_standsAlone(t *testing.T) {
	inBothUnits(t, func(t *testing.T, _ layers.Units, sheet string) {
		bare := strings.ReplaceAll(sheet, `xmlns="http://www.w3.org/2000/svg"`, "")
		for _, outside := range []string{"<script", "://", "src=", "href", "url(", "@import"} {
			if strings.Contains(strings.ToLower(bare), outside) {
				t.Errorf("found %q, want a page that fetches and runs nothing", outside)
			}
		}
		for _, part := range []string{`<html lang="en">`, "<title>", "<h1>", "<h2"} {
			if !strings.Contains(sheet, part) {
				t.Errorf("found no %s", part)
			}
		}
	})
}

func TestWriteSheet_sameBytes(t *testing.T) {
	inBothUnits(t, func(t *testing.T, u layers.Units, sheet string) {
		if writtenSheet(t, u) != sheet {
			t.Error("found other bytes the second time")
		}
	})
}

type fullDisk struct{}

var errFullDisk = errors.New("no room")

func (fullDisk) Write([]byte) (int, error) { return 0, fmt.Errorf("disk: %w", errFullDisk) }

func TestWriteSheet_passesOnErrors(t *testing.T) {
	if err := page.WriteSheet(fullDisk{}, layers.MM); !errors.Is(err, errFullDisk) {
		t.Errorf("found error %v, want that of the writer", err)
	}
}
