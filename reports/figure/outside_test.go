package figure

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/draw"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"panecore/reports/figure/internal/testpictures"
	"panecore/reports/figure/pen"
)

// These tests let programs outside the project show the stored pictures: rsvg-convert of
// librsvg, chromium, and pdftoppm, pdftotext and pdfinfo of poppler.

// tool is where a program outside the project stands. Without it the test is skipped, or
// fails where PANECORE_TOOLS=required says so.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil && os.Getenv("PANECORE_TOOLS") == "required" {
		t.Fatalf("%s is not installed, and PANECORE_TOOLS=required", name)
	}
	if err != nil {
		t.Skipf("%s is not installed: skipped; CI makes it mandatory", name)
	}
	return path
}

// output is what a program prints within three minutes, many times what any of them takes on a busy machine.
func output(t *testing.T, path string, args ...string) []byte {
	t.Helper()
	ctx, stop := context.WithTimeout(context.Background(), 3*time.Minute)
	defer stop()
	var errors bytes.Buffer
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Stderr = &errors
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %q: %v: %s", path, args, err, &errors)
	}
	return out
}

// stored writes a file into a folder and returns its path.
func stored(t *testing.T, dir, name string, file []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// drawn are a figure's files.
type drawn struct {
	*pen.Figure
	name          string
	png, svg, pdf []byte
}

func drawnGoldens(t *testing.T) (list []drawn) {
	t.Helper()
	for _, g := range goldens {
		var png, svg, pdf bytes.Buffer
		f := g.draw()
		for _, err := range []error{f.WritePNG(&png, goldenScale), f.WriteSVG(&svg), f.WritePDF(&pdf)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		list = append(list, drawn{f, g.name, png.Bytes(), svg.Bytes(), pdf.Bytes()})
	}
	return list
}

// Other programs show our files as our own PNG shows them.
func TestFigures_alikeElsewhere(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped: three programs draw every golden picture, which takes its time; run without -short")
	}
	list := drawnGoldens(t)
	for _, by := range []struct {
		name    string
		strict  float64 // how far off a cell without letters may be, of 255
		showing func(t *testing.T, list []drawn) []image.Image
	}{
		// Measured at most 11, 11 and 20: pdftoppm draws hairs stronger.
		{"rsvg-convert", 18, func(t *testing.T, list []drawn) (shown []image.Image) {
			path := tool(t, "rsvg-convert")
			for _, d := range list {
				file := stored(t, t.TempDir(), "figure.svg", d.svg)
				shown = append(shown, decoded(t, output(t, path, "--zoom", fmt.Sprint(goldenScale*inch/cssPixels), file)))
			}
			return shown
		}},
		{"chromium", 18, inBrowser},
		{"pdftoppm", 28, func(t *testing.T, list []drawn) (shown []image.Image) {
			path := tool(t, "pdftoppm")
			for _, d := range list {
				file := stored(t, t.TempDir(), "figure.pdf", d.pdf)
				shown = append(shown, decoded(t, output(t, path, "-png", "-r", fmt.Sprint(goldenScale*inch), file)))
			}
			return shown
		}},
	} {
		t.Run(by.name, func(t *testing.T) {
			for i, shown := range by.showing(t, list) {
				d := list[i]
				if fault := unlike(d.Figure, decoded(t, d.png), shown, by.strict); fault != "" {
					t.Errorf("%s: %s", d.name, fault)
				}
				if d.name != "core" {
					continue
				}
				faulty := maimed(d.Figure)
				if len(faulty) < 10 {
					t.Errorf("%s: found %d faults to make, want 10 and more", d.name, len(faulty))
				}
				for name, m := range faulty {
					var png bytes.Buffer
					if err := m.WritePNG(&png, goldenScale); err != nil {
						t.Fatal(err)
					}
					if unlike(d.Figure, decoded(t, png.Bytes()), shown, by.strict) == "" {
						t.Errorf("%s with %s still counts as like what %s shows", d.name, name, by.name)
					}
				}
			}
		})
	}
}

const (
	inch      = 25.4 // mm
	cssPixels = 96   // an inch, by the definition of CSS
	pdfPoints = 72   // an inch, by the definition of PDF
)

// inBrowser shows the pictures as they stand in a page, one below the other in one shot.
func inBrowser(t *testing.T, list []drawn) (shown []image.Image) {
	path := tool(t, "chromium")
	dir := t.TempDir()
	page := bytes.NewBufferString("<!doctype html><meta charset=utf-8><style>body{margin:0}div{position:absolute;left:0}</style>\n")
	var places []image.Rectangle
	var size image.Point
	for _, d := range list {
		box := decoded(t, d.png).Bounds()
		places = append(places, box.Add(image.Pt(0, size.Y)))
		fmt.Fprintf(page, "<div style='top:%dpx;width:%gpx'>%s</div>\n", size.Y, d.Width*goldenScale, d.Inline())
		size = image.Pt(max(size.X, box.Dx()), size.Y+box.Dy())
	}
	file := stored(t, dir, "page.html", page.Bytes())
	shot := filepath.Join(dir, "page.png")
	output(t, path, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--hide-scrollbars",
		"--force-color-profile=srgb", "--user-data-dir="+filepath.Join(dir, "profile"), "--screenshot="+shot,
		fmt.Sprintf("--window-size=%d,%d", size.X, size.Y), "file://"+file)
	png, err := os.ReadFile(shot)
	if err != nil {
		t.Fatal(err)
	}
	all := decoded(t, png)
	if all.Bounds().Size() != size {
		t.Fatalf("a shot of %v pixels, want %v", all.Bounds().Size(), size)
	}
	for _, place := range places {
		one := image.NewRGBA(image.Rectangle{Max: place.Size()})
		draw.Draw(one, one.Bounds(), all, place.Min, draw.Src)
		shown = append(shown, one)
	}
	return shown
}

// How pictures of two programs are held against each other: by the mean colours of cells,
// so that neither a letter's form nor an edge's smoothing counts.
const (
	cellMM = 2

	// lettersOff is how far the cells that letters reach into may be off on average, of
	// 255: machines have other fonts. Measured 3 to 8, and 28 without letters.
	lettersOff = 14
)

// unlike says how one picture of a figure differs from another in cells, by more than
// strict of 255 where no letters are; empty: they are alike.
func unlike(f *pen.Figure, one, other image.Image, strict float64) string {
	size, size2 := one.Bounds().Size(), other.Bounds().Size()
	if d := size.Sub(size2); max(d.X, -d.X, d.Y, -d.Y) > 1 { // a part of a pixel is rounded up or down
		return fmt.Sprintf("%v and %v pixels", size, size2)
	}
	texts := testpictures.MarksOf(f).Texts
	const cell = cellMM * goldenScale
	letters, lettered := 0.0, 0
	for y := 0; y+cell <= min(size.Y, size2.Y); y += cell {
		for x := 0; x+cell <= min(size.X, size2.X); x += cell {
			pixels := image.Rect(x, y, x+cell, y+cell)
			off := apart(meanColour(one, pixels), meanColour(other, pixels))
			mm := pen.Box{Left: float64(x) / goldenScale, Top: float64(y) / goldenScale, Right: float64(x+cell) / goldenScale, Foot: float64(y+cell) / goldenScale}
			switch {
			case reached(texts, mm):
				letters, lettered = letters+off, lettered+1
			case off > strict:
				return fmt.Sprintf("the cell %v mm is off by %.0f of 255, want at most %.0f", mm, off, strict)
			}
		}
	}
	if lettered > 0 && letters/float64(lettered) > lettersOff {
		return fmt.Sprintf("cells with letters are off by %.1f of 255 on average, want at most %v", letters/float64(lettered), lettersOff)
	}
	return ""
}

// reached reports whether letters reach into a box.
func reached(texts []testpictures.Text, b pen.Box) bool {
	for _, text := range texts {
		if testpictures.Overlap(text.Box, b) {
			return true
		}
	}
	return false
}

// apart is how far two colours are from each other in the channel where they are most.
func apart(a, b [3]float64) (off float64) {
	for i := range a {
		off = max(off, math.Abs(a[i]-b[i]))
	}
	return off
}

// meanColour is red, green and blue of 255.
func meanColour(img image.Image, of image.Rectangle) (mean [3]float64) {
	of = of.Add(img.Bounds().Min)
	for y := of.Min.Y; y < of.Max.Y; y++ {
		for x := of.Min.X; x < of.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			mean[0], mean[1], mean[2] = mean[0]+float64(r), mean[1]+float64(g), mean[2]+float64(b)
		}
	}
	for i := range mean {
		mean[i] /= 257 * float64(of.Dx()*of.Dy())
	}
	return mean
}

// maimed are copies of a core's picture, each with one fault that must be seen: a layer
// missing, moved or in another colour, and the letters missing.
func maimed(f *pen.Figure) map[string]*pen.Figure {
	list := map[string]*pen.Figure{}
	through := func(p func(pen.Pen) pen.Pen) *pen.Figure {
		maimed := pen.NewFigure(f.Title, f.Width)
		maimed.Height = f.Height
		maimed.Add(func(to pen.Pen) { f.Play(p(to)) })
		return maimed
	}
	list["no letters"] = through(func(to pen.Pen) pen.Pen { return unlettered{to} })
	for n, outline := range testpictures.MarksOf(f).Areas {
		if span := pen.Extremes(outline); span[1]-span[0] < 2*cellMM {
			continue
		}
		for name, change := range map[string]func([]pen.Point, pen.Ink) ([]pen.Point, pen.Ink){
			"missing":           func([]pen.Point, pen.Ink) ([]pen.Point, pen.Ink) { return nil, pen.Ink{} },
			"2 mm to the right": func(o []pen.Point, ink pen.Ink) ([]pen.Point, pen.Ink) { return moved(o, 2, 0), ink },
			"2 mm deeper":       func(o []pen.Point, ink pen.Ink) ([]pen.Point, pen.Ink) { return moved(o, 0, 2), ink },
			"of another red":    func(o []pen.Point, ink pen.Ink) ([]pen.Point, pen.Ink) { ink.Color.R ^= 0x40; return o, ink },
			"half seen through": func(o []pen.Point, ink pen.Ink) ([]pen.Point, pen.Ink) { ink.Alpha /= 2; return o, ink },
		} {
			list[fmt.Sprintf("area %d %s", n, name)] = through(func(to pen.Pen) pen.Pen { return &maimer{to, n, change} })
		}
	}
	return list
}

func moved(outline []pen.Point, dx, dy float64) (to []pen.Point) {
	for _, p := range outline {
		to = append(to, pen.At(p.X+dx, p.Y+dy))
	}
	return to
}

// maimer changes the area that is drawn after so many others.
type maimer struct {
	pen.Pen
	before int
	change func([]pen.Point, pen.Ink) ([]pen.Point, pen.Ink)
}

func (m *maimer) Area(outline []pen.Point, ink pen.Ink) {
	if m.before == 0 {
		outline, ink = m.change(outline, ink)
	}
	m.before--
	m.Pen.Area(outline, ink)
}

type unlettered struct{ pen.Pen }

func (unlettered) Text(pen.Point, string, pen.Lettering) {}

// A figure's PDF is one page of its size.
func TestWritePDF_onePageOfItsSize(t *testing.T) {
	path := tool(t, "pdfinfo")
	for _, d := range drawnGoldens(t) {
		told := string(output(t, path, stored(t, t.TempDir(), "figure.pdf", d.pdf)))
		if pages := regexp.MustCompile(`(?m)^Pages: +1$`); !pages.MatchString(told) {
			t.Errorf("%s: want one page:\n%s", d.name, told)
		}
		size := regexp.MustCompile(`(?m)^Page size: +([0-9.]+) x ([0-9.]+) pts`).FindStringSubmatch(told)
		if size == nil {
			t.Errorf("%s: found no page size:\n%s", d.name, told)
			continue
		}
		for i, want := range []float64{d.Width / inch * pdfPoints, d.Height / inch * pdfPoints} {
			if got, err := strconv.ParseFloat(size[i+1], 64); err != nil || math.Abs(got-want) > 0.02 { // written to hundredths
				t.Errorf("%s: %s points, want %.2f (%v)", d.name, size[i+1], want, err)
			}
		}
	}
}

// Whoever searches a PDF or has it read out finds every text as often as it was set.
func TestWritePDF_textsFound(t *testing.T) {
	path := tool(t, "pdftotext")
	for _, d := range drawnGoldens(t) {
		found := unspaced(string(output(t, path, "-raw", stored(t, t.TempDir(), "figure.pdf", d.pdf), "-")))
		set := map[string]int{}
		for _, text := range testpictures.MarksOf(d.Figure).Texts {
			set[text.Text]++
		}
		if len(set) == 0 {
			t.Errorf("%s: found no text in the figure", d.name)
		}
		for text, times := range set {
			if got := strings.Count(found, unspaced(text)); got < times {
				t.Errorf("%s: %q is found %d times, want %d", d.name, text, got, times)
			}
		}
	}
}

// unspaced is a text without spaces: where lines end, and how wide a gap is, is for the
// reader of a PDF to guess.
func unspaced(text string) string { return strings.Join(strings.Fields(text), "") }
