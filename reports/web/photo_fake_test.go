package web

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports"
	"panecore/reports/judge"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// fakePhotos opens texts such as "photo 1600x1200 2026-05-01 of a bed".
type fakePhotos struct {
	opening chan string   // not nil: told what is being opened,
	goOn    chan struct{} // and waits for this
	opened  atomic.Int32
}

func (f *fakePhotos) Open(content []byte) (reader.Shot, error) {
	shot := &fakeShot{content: content}
	text := string(content)
	if _, err := fmt.Sscanf(text, "photo %dx%d", &shot.width, &shot.height); err != nil {
		return nil, fmt.Errorf("found a file that begins with %.8q, want a JPEG, HEIC, PNG, WebP or TIFF picture", text)
	}
	if words := strings.Fields(text); len(words) > 2 {
		shot.taken, _ = layers.ParseDate(words[2]) // else none
	}
	if f.opening != nil {
		f.opening <- text
		<-f.goOn
	}
	f.opened.Add(1)
	return shot, nil
}

// fakeShot shows mulm, a rust front and black, or what the cuts say, ten pixels to a millimetre.
type fakeShot struct {
	content       []byte
	width, height int
	taken         layers.Date
	busy          atomic.Bool
	last          []byte // picks
}

const fakePixels = 10 // to a millimetre

func (f *fakeShot) Size() (width, height int) { return f.width, f.height }
func (f *fakeShot) Taken() layers.Date        { return f.taken }
func (f *fakeShot) Screen() ([]byte, error)   { return []byte("screen of " + string(f.content)), nil }

// Found finds what the photo's text names, as in "photo 1600x1200 - with ruler card strip surface", doubtful where that is
// said before it, and the marks of the last photo.
func (f *fakeShot) Found(of reader.Place, last func(reader.Place) (reader.LastPhoto, bool, error)) (found reader.Found, err error) {
	found.Place = of
	if before, any, err := last(of); err != nil || any {
		found.Marks, found.Said = before.Marks, "marks as on the last photo"
		found.Marks.Surface = nil
		return found, err
	}
	row := 210.0
	for name, mark := range map[string]struct {
		to  *reader.Sighting
		put func()
	}{
		"ruler":   {&found.Ruler, func() { found.Marks.Ruler = [5]float64{180, 90, 182, 790, 70} }},
		"card":    {&found.Card, func() { found.Marks.Neutral = []layers.GreyCard{{Box: [4]float64{1350, 650, 150, 95}}} }},
		"strip":   {&found.Strip, func() { found.Marks.Strip = [4]float64{600, 200, 400, 800} }},
		"surface": {&found.Surface, func() { found.Marks.Surface = &row }},
	} {
		switch text := string(f.content); {
		case strings.Contains(text, "doubtful "+name):
			*mark.to = reader.Sighting{Confidence: 0.4, Doubtful: true, Note: "a " + name + " like another"}
			mark.put()
		case strings.Contains(text, name):
			*mark.to = reader.Sighting{Confidence: 0.9, Note: "a " + name}
			mark.put()
		}
	}
	return found, nil
}

func (f *fakeShot) Read(task reader.Task) (r reader.Result, err error) {
	if f.busy.Swap(true) {
		return r, errors.New("two read in one photo at once")
	}
	defer f.busy.Store(false)
	s := task.Marks.Strip
	if s[0] < 0 || s[1] < 0 || s[0]+s[2] > float64(f.width) || s[1]+s[3] > float64(f.height) {
		return r, site.WithKind(site.ErrInput, fmt.Errorf("picks outside the picture: the strip reaches out of %d x %d pixels; mark it inside", f.width, f.height))
	}
	if f.last, err = json.Marshal(task.Marks); err != nil {
		return r, err
	}
	cuts := task.Cuts
	if len(cuts) == 0 {
		cuts = []reader.Cut{{BottomMM: 12}, {BottomMM: 18}, {BottomMM: s[3] / fakePixels}}
	}
	colors := []palette.Color{{R: 0x8b, G: 0x6a, B: 0x48}, {R: 0xb0, G: 0x6a, B: 0x33}, {R: 0x3d, G: 0x3c, B: 0x35}}
	sum := sha256.Sum256(f.content)
	r.Core = task.Core
	r.Core.Layers = nil
	r.Core.Photo = &layers.Photo{SHA256: hex.EncodeToString(sum[:]), ColorDoubt: 3, ScaleError: 0.01}
	top := task.Surface.BottomMM
	line := func(mm float64) [][2]float64 {
		y := s[1] + mm*fakePixels
		return [][2]float64{{s[0], y}, {s[0] + s[2], y}}
	}
	r.Edges = append(r.Edges, line(top))
	for i, cut := range cuts {
		if cut.BottomMM-top < 0.5 {
			return reader.Result{}, site.WithKind(site.ErrInput, fmt.Errorf("found layer %d %.1f mm thick, want 0.5 mm or more", i+1, cut.BottomMM-top))
		}
		depth := cut.BottomMM - task.Surface.BottomMM
		r.Core.Layers = append(r.Core.Layers, layers.Layer{
			ThicknessMM: cut.BottomMM - top, Color: colors[i%len(colors)], Band: cut.Band,
			Edge: &layers.Edge{ErrorMM: 0.2, HighestMM: depth - 1, LowestMM: depth + 1},
		})
		r.Edges = append(r.Edges, line(cut.BottomMM))
		top = cut.BottomMM
	}
	r.Strip = [4][2]float64{{s[0], s[1]}, {s[0] + s[2], s[1]}, {s[0] + s[2], s[1] + s[3]}, {s[0], s[1] + s[3]}}
	how := reports.Photo{PxPerMM: fakePixels, Correction: reports.Correction{Cards: len(task.Marks.Neutral)}, Taken: f.taken}
	if foot := r.Edges[1][0][1]; strings.Contains(string(f.content), "water") && (task.Marks.Surface == nil || *task.Marks.Surface < foot) {
		how.Water = &reports.TopWater{DepthMM: r.Core.Layers[0].ThicknessMM, Surface: foot}
	}
	r.PhotoCore = judge.ReadPhotoCore(judge.Learn(task.Tank, task.Own), r.Core, how, reports.Settings{Draws: 100, Seed: 1})
	return r, nil
}

func (f *fakeShot) Kept() (site.KeptPhoto, error) {
	return site.KeptPhoto{Kind: "jpeg", Width: f.width, Height: f.height, Picks: f.last, Preview: []byte("small"), Content: f.content}, nil
}

// newPhotoServer is a page that opens fake photos.
func newPhotoServer(t *testing.T) *testPage {
	t.Helper()
	return newTestServerOn(t, Options{Photos: &fakePhotos{}})
}

// sendPhoto sends a photo and gives the address of its page.
func (p *testPage) sendPhoto(content string) (address string) {
	p.t.Helper()
	w := p.postBytes("/photo", "application/octet-stream", []byte(content))
	p.want(w, http.StatusOK)
	return answerOf[struct{ Address string }](p, w.Body.Bytes()).Address
}

// save saves a photo's reading, and, where that raises a question, says that it is right.
func (p *testPage) save(at string, q saveRequest) *httptest.ResponseRecorder {
	p.t.Helper()
	w := p.postJSON(at+"/save", q)
	if !strings.Contains(w.Body.String(), `"question":`) {
		return w
	}
	q.Answer, q.Asked = string(reports.SlipNone), answerOf[saveQuestion](p, w.Body.Bytes()).Asked
	return p.postJSON(at+"/save", q)
}

func answerOf[T any](p *testPage, text []byte) (answer T) {
	p.t.Helper()
	if err := json.Unmarshal(text, &answer); err != nil {
		p.t.Fatalf("%v: %s", err, text)
	}
	return answer
}

// readingTold is what a script is told of a reading.
type readingTold struct {
	Read struct {
		Layers []struct {
			Band      string
			Labelled  bool
			Thickness reports.Estimate `json:"thickness_mm"`
		}
	}
	Edges          [][][2]float64
	Words          wordsTold
	Refused, Field string
}

// fakeRequest is a whole request for a photo of 1600x1200.
func fakeRequest() readRequest {
	surface := 230.0
	return readRequest{
		Tank: "sill-tray", Station: "front", Date: fakeToday, Note: "wiped the pane",
		Picks: marks{
			Ruler: &rulerMark{From: [2]float64{180, 90}, To: [2]float64{182, 790}, Length: "70mm"},
			Cards: []cardMark{{Box: [4]float64{1350, 650, 150, 95}, Reflectance: "18%"}},
			Strip: &[4]float64{600, 200, 400, 800}, Surface: &surface,
		},
	}
}
