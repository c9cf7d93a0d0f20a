package serve_test

import (
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"panecore/cmd/internal/browsertest"
	"panecore/cmd/internal/programtest"
)

// held is how the camera was held for another photo of the same pane: shifted, turned by degrees and so many times as near.
type held struct{ across, down, turn, nearer float64 }

// at is where a place of the first photo lies in the other.
func (h held) at(middle, p place) place {
	sin, cos := math.Sincos(h.turn * math.Pi / 180)
	dx, dy := p[0]-middle[0], p[1]-middle[1]
	return place{middle[0] + h.across + h.nearer*(cos*dx-sin*dy), middle[1] + h.down + h.nearer*(sin*dx+cos*dy)}
}

// taken is the file of a photo as another one that was held so shows it, in less light.
func (h held) taken(t *testing.T, file string) string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	from, err := jpeg.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	to := image.NewRGBA(from.Bounds())
	middle := place{float64(to.Rect.Dx()) / 2, float64(to.Rect.Dy()) / 2}
	sin, cos := math.Sincos(-h.turn * math.Pi / 180)
	for y := range to.Rect.Dy() {
		for x := range to.Rect.Dx() {
			dx, dy := (float64(x)-middle[0]-h.across)/h.nearer, (float64(y)-middle[1]-h.down)/h.nearer
			r, g, b, _ := from.At(min(max(0, int(math.Round(middle[0]+cos*dx-sin*dy))), to.Rect.Dx()-1), min(max(0, int(math.Round(middle[1]+sin*dx+cos*dy))), to.Rect.Dy()-1)).RGBA()
			darker := func(v uint32) uint8 { return uint8(float64(v>>8) * 0.9) }
			to.SetRGBA(x, y, color.RGBA{darker(r), darker(g), darker(b), 255})
		}
	}
	path := filepath.Join(t.TempDir(), "later.jpg")
	out, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	if err := jpeg.Encode(out, to, &jpeg.Options{Quality: 92}); err != nil {
		t.Fatal(err)
	}
	return path
}

// filePhoto reads a photo from the tank's page on by as few actions as the page lets: it opens the reader, chooses the file, says
// yes to what the page asks, and saves. It returns how many that were.
func (tab *tab) filePhoto(t *testing.T, p pointer, file string) (actions int) {
	t.Helper()
	tab.leads(t, tab.pressing(t, p, `a[href^="/photo?tank=hall"]`))
	tab.choosePhoto(t, file)
	actions = 2
	for {
		tab.until(t, `!document.getElementById("photo-save").hidden || !document.getElementById("photo-asked").hidden`)
		tab.Drawn(t)
		if !browsertest.Found[bool](t, tab, `document.getElementById("photo-save").hidden`) {
			break
		}
		question := tab.text(t, "#photo-question")
		t.Logf("asked: %s", question)
		tab.press(t, p, `#photo-asked [data-answer="yes"]`)
		tab.until(t, fmt.Sprintf(`document.getElementById("photo-asked").hidden || document.getElementById("photo-question").textContent != %q`, question))
		actions++
	}
	tab.leads(t, tab.pressing(t, p, "#photo-save"))
	if at := tab.at(t); at != "/tank/hall" {
		t.Fatalf("at %s after saving", at)
	}
	return actions + 1
}

// The first photo of a tank is read and saved by four actions at most, and a later one by three, whose marks lie on the pane
// where those of the first do.
func TestServe_photoByFewActions(t *testing.T) {
	t.Parallel()
	browser := browsertest.Start(t)
	for _, by := range []struct {
		look browsertest.Look
		pointer
	}{{look(390, 844, "light"), finger{}}, {look(1280, 900, "light"), mouse{}}} {
		s, truth := hallAnd(t, "buff-sand.jpg")
		tab := enter(t, browser, s.served, by.look)
		if by.look.Width < 600 {
			tab = enter(t, browser, s.served, by.look, asPhone...)
		}
		tab.goTo(t, "/tank/hall")
		if actions := tab.filePhoto(t, by.pointer, truth.Path()); actions > 4 {
			t.Errorf("%v: the first photo takes %d actions, want at most 4", by.look, actions)
		}
		s.says(t, "core", "amend", "hall", "--date", "2026-11-25", "--new-date", "2026-10-01")
		h := held{across: 21, down: -16, turn: 1.1, nearer: 1.03}
		if actions := tab.filePhoto(t, by.pointer, h.taken(t, truth.Path())); actions > 3 {
			t.Errorf("%v: a later photo takes %d actions, want at most 3", by.look, actions)
		}
		wantQuiet(t, tab)
	}
}

// The marks of the station's last photo lie on the next one where the pane has them, not where they were in the picture, and
// a photo of another pane takes none of them.
func TestServe_photoLastMarksFollow(t *testing.T) {
	t.Parallel()
	truth, tab := hallReadBefore(t)
	r := truth.Picks.Ruler
	h := held{across: 30, down: 22, turn: -1.3, nearer: 0.96}
	tab.goTo(t, "/photo?tank=hall&station=front")
	tab.choosePhoto(t, h.taken(t, truth.Path()))
	q, _ := exchange(t, tab, "/read", func(q photoQuestion) bool { return q.Picks.Ruler != nil && q.Picks.Strip[2] > 0 })
	middle := place{800, 600}
	for name, off := range map[string][2]place{
		"ruler's upper end": {q.Picks.Ruler.From, h.at(middle, place{r[0], r[1]})},
		"ruler's lower end": {q.Picks.Ruler.To, h.at(middle, place{r[2], r[3]})},
		"strip":             {{q.Picks.Strip[0] + q.Picks.Strip[2]/2, q.Picks.Strip[1]}, h.at(middle, place{truth.Picks.Strip[0] + truth.Picks.Strip[2]/2, truth.Picks.Strip[1]})},
	} {
		if px := math.Hypot(off[0][0]-off[1][0], off[0][1]-off[1][1]); px > 3 {
			t.Errorf("the %s is at %v, %.1f px from %v", name, off[0], px, off[1])
		}
	}
	if told := tab.text(t, "#photo-said"); told == "" {
		t.Error("it is not told where the marks come from")
	}
	tab.goTo(t, "/photo?tank=hall&station=front")
	tab.choosePhoto(t, programtest.Photos+"/sand.jpg")
	if told := tab.text(t, "#photo-said"); told != "No mark of the last photo was used: too little of the last photo is seen again in this one." {
		t.Errorf("told %q of a photo of another pane", told)
	}
	wantQuiet(t, tab)
}

// What a finger paints over is left out of the reading, and one step back takes it in again.
func TestServe_photoPaintedOut(t *testing.T) {
	t.Parallel()
	_, truth, tab := openHall(t, "buff-sand.jpg")
	tab.markPhoto(t, mouse{}, truth.Picks)
	tab.press(t, mouse{}, "#paint")
	s := truth.Picks.Strip
	middle := place{s[0] + s[2]/2, s[1] + s[3]/2}
	tab.Do(t, mouse{}.drag(tab.on(t, middle), tab.on(t, place{middle[0], middle[1] + 60})))
	type painted struct {
		Picks struct{ Hidden [][3]float64 }
	}
	q, _ := exchange(t, tab, "/read", func(q painted) bool { return len(q.Picks.Hidden) > 1 })
	if first := q.Picks.Hidden[0]; math.Hypot(first[0]-middle[0], first[1]-middle[1]) > 3 || first[2] <= 0 {
		t.Errorf("painted at %v, want it to begin at %v", first, middle)
	}
	if *browsertest.Shots != "" {
		tab.Shoot(t, filepath.Join(*browsertest.Shots, "painted"))
	}
	tab.press(t, mouse{}, "#photo-back")
	exchange(t, tab, "/read", func(q painted) bool { return len(q.Picks.Hidden) == 0 })
	tab.until(t, `document.getElementById("handle-edge-1")`)
	wantQuiet(t, tab)
}

// A layer of a photo is set as the tank's substrate by two taps, and the photo is then named by it.
func TestServe_photoLaid(t *testing.T) {
	t.Parallel()
	s := standing(t, []string{"tank", "add", "hall"})
	_, truth := hallAnd(t, "buff-sand.jpg")
	tab := enter(t, browsertest.Start(t), s.served, look(390, 844, "light"), asPhone...)
	tab.goTo(t, "/photo?tank=hall")
	tab.choosePhoto(t, truth.Path())
	tab.markPhoto(t, finger{}, truth.Picks)
	tab.press(t, finger{}, `#layers-list .layer:nth-child(2) [data-do="laid"]`)
	tab.press(t, finger{}, `#native-answers [value="sand"]`)
	tab.until(t, `document.getElementById("photo-said").textContent.startsWith("The substrate of hall as laid is now ")`)
	tab.Drawn(t)
	if *browsertest.Shots != "" {
		tab.Shoot(t, filepath.Join(*browsertest.Shots, "laid"))
	}
	if shown := s.says(t, "tank", "show", "hall"); !strings.Contains(shown, "sand") {
		t.Errorf("the tank is %s", shown)
	}
}
