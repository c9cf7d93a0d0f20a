package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"panecore/layers"
	"panecore/palette"
	"panecore/reports/web/reader"
)

const fakePhoto = "photo 1600x1200 2026-10-30 of a bed"

// A photo is sent, shown, read, cut otherwise and saved; then the tank has its core and
// the photo is no draft any more.
func TestPhoto_fromFileToTank(t *testing.T) {
	p := newPhotoServer(t)
	at := p.sendPhoto(fakePhoto)
	p.want(p.get("/photo"), http.StatusOK, at, "1600 × 1200 pixels, taken 2026-10-30")
	p.want(p.get(at), http.StatusOK, `data-address="`+at+`"`, `<script type="module" src="/static/photo.js">`, `name="sign" value="gas-bubbles"`)
	p.want(p.get(at+"/screen.jpg"), http.StatusOK, "screen of "+fakePhoto)

	q := fakeRequest()
	read := answerOf[readingTold](p, p.postJSON(at+"/read", q).Body.Bytes())
	if len(read.Read.Layers) != 3 || len(read.Edges) != 4 || len(read.Words.Layers) != 3 {
		t.Fatalf("read %+v, want three layers", read)
	}
	q.Surface, q.Cuts = 1, []cutRequest{{BottomMM: 14, Band: "mulm-dark"}, {BottomMM: 80}}
	cut := answerOf[readingTold](p, p.postJSON(at+"/read", q).Body.Bytes())
	if len(cut.Read.Layers) != 2 || !cut.Read.Layers[0].Labelled || cut.Read.Layers[0].Thickness.Value != 13 {
		t.Fatalf("read %+v, want the keeper's own two layers", cut.Read.Layers)
	}

	lit := false
	q.Lit, q.Signs = &lit, []string{"gas-bubbles"}
	saved := p.save(at, saveRequest{readRequest: q})
	p.want(saved, http.StatusOK, `{"to":"/tank/sill-tray"}`)
	tank, _ := p.store.Tank(t.Context(), "sill-tray")
	core := tank.Cores[coreAt(&tank, "front", p.store.today)]
	if core.Photo == nil || len(core.Layers) != 2 || core.Note != "wiped the pane" || *core.Lit || core.Signs[0] != "gas-bubbles" || core.Layers[0].Band != palette.MulmDark {
		t.Errorf("saved %+v", core)
	}
	photo := p.store.photos[reading{"sill-tray", "front", p.store.today}]
	want := `{"strip":[600,200,400,800],"surface":230,"ruler":[180,90,182,790,70],"neutral":[{"box":[1350,650,150,95],"reflectance":0.18}]}`
	if string(photo.Content) != fakePhoto || string(photo.Picks) != want {
		t.Errorf("kept %q with the picks %s, want %s", photo.Content, photo.Picks, want)
	}

	next := httptest.NewRequest(http.MethodGet, "/tank/sill-tray", nil)
	for _, cookie := range saved.Result().Cookies() {
		next.AddCookie(cookie)
	}
	p.want(p.send(next), http.StatusOK, "Saved: front on 2026-11-01, with its photo.")
	p.want(p.get(at), http.StatusNotFound, "This photo is no longer here", `href="/photo"`)
	p.want(p.postJSON(at+"/read", q), http.StatusNotFound, "it was saved as the reading of front on 2026-11-01", `"to":"/tank/sill-tray/core/front/2026-11-01"`)
	p.want(p.get(at), http.StatusNotFound, "it was saved as the reading of front on 2026-11-01", `href="/tank/sill-tray/core/front/2026-11-01"`)
}

// What is told as "read" is what the photo command prints with --json.
func TestPhotoRead_findingsAsTheCommandPrintsThem(t *testing.T) {
	p := newPhotoServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	answer := answerOf[struct{ Read json.RawMessage }](p, p.postJSON(at+"/read", q).Body.Bytes())
	shot, err := (&fakePhotos{}).Open([]byte(fakePhoto))
	if err != nil {
		t.Fatal(err)
	}
	marks := layers.Marks{
		Ruler: [5]float64{180, 90, 182, 790, 70}, Strip: *q.Picks.Strip, Surface: q.Picks.Surface,
		Neutral: []layers.GreyCard{{Box: q.Picks.Cards[0].Box, Reflectance: 0.18}},
	}
	tank, _ := p.store.Tank(t.Context(), q.Tank)
	core := layers.Core{Station: q.Station, Date: p.store.today, Note: q.Note}
	result, err := shot.Read(reader.Task{Tank: tank, Marks: marks, Core: core})
	if err != nil {
		t.Fatal(err)
	}
	want, err := json.Marshal(result.PhotoCore)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(answer.Read, want) {
		t.Errorf("read differs (-want +got):\n%s", cmp.Diff(string(want), string(answer.Read)))
	}
}

// What can't be a photo is refused in words, and no draft is left of it.
func TestPhotoTake_refused(t *testing.T) {
	p := newPhotoServer(t)
	for name, test := range map[string]struct {
		body   []byte
		status int
		words  string
	}{
		"too large": {make([]byte, 64<<20+1), http.StatusRequestEntityTooLarge, "larger than 64 MB"},
		"empty":     {nil, http.StatusUnprocessableEntity, "the file is empty"},
		"no photo":  {[]byte("GIF89a<script>"), http.StatusUnprocessableEntity, `want a JPEG`},
	} {
		t.Run(name, func(t *testing.T) {
			p.want(p.postBytes("/photo", "application/octet-stream", test.body), test.status, `{"error":`, test.words)
			if w := p.get("/photo"); strings.Contains(w.Body.String(), "Not yet saved") {
				t.Errorf("a draft is left: %s", w.Body)
			}
		})
	}
}

// A photo that isn't there is told as such everywhere, with the way back.
func TestPhoto_unknownDraft(t *testing.T) {
	p := newPhotoServer(t)
	p.want(p.get("/photo/0123"), http.StatusNotFound, "no longer here", "8 newer photos were opened", `href="/photo"`)
	p.want(p.get("/photo/0123/screen.jpg"), http.StatusNotFound)
	for _, path := range []string{"/photo/0123/read", "/photo/0123/save"} {
		p.want(p.postJSON(path, fakeRequest()), http.StatusNotFound, `{"error":"this photo is no longer here`)
	}
	r := httptest.NewRequest(http.MethodGet, "/photo/0123/state", nil)
	r.Header.Set("Accept", "application/json")
	p.want(p.send(r), http.StatusNotFound, `{"error":"this photo is no longer here`)
	p.want(p.follow(p.post("/photo/0123/drop", nil)), http.StatusOK, "was thrown away")
}

// While a photo is being opened another one waits, whatever is asked of it; then it comes.
func TestPhoto_oneIsOpenedAtATime(t *testing.T) {
	photos := &fakePhotos{opening: make(chan string), goOn: make(chan struct{})}
	p := newTestServerOn(t, Options{Photos: photos})
	first := make(chan *httptest.ResponseRecorder)
	go func() { first <- p.postBytes("/photo", "application/octet-stream", []byte("photo 10x10 first")) }()
	<-photos.opening
	w := p.postBytes("/photo", "application/octet-stream", []byte(fakePhoto))
	p.want(w, http.StatusAccepted, `"waiting":"another photo is being opened`)
	at := answerOf[struct{ Address string }](p, w.Body.Bytes()).Address
	for _, ask := range []func() *httptest.ResponseRecorder{
		func() *httptest.ResponseRecorder { return p.get(at + "/state") },
		func() *httptest.ResponseRecorder { return p.get(at + "/screen.jpg") },
		func() *httptest.ResponseRecorder { return p.postJSON(at+"/read", fakeRequest()) },
		func() *httptest.ResponseRecorder {
			return p.save(at, saveRequest{readRequest: fakeRequest()})
		},
	} {
		p.want(ask(), http.StatusAccepted, `{"waiting":"another photo is being opened`)
	}
	p.want(p.get("/photo"), http.StatusOK, "not opened yet")
	photos.goOn <- struct{}{}
	p.want(<-first, http.StatusOK)
	photos.opening, photos.goOn = nil, nil
	p.want(p.get(at+"/state"), http.StatusOK, `"width":1600`, `"strip":[600,200,400,800]`) // what was told while it waited
}

// Each is wrong in one thing, which is told in words and, where it was typed, at its field.
func TestPhotoRead_refused(t *testing.T) {
	p := newPhotoServer(t)
	at := p.sendPhoto(fakePhoto)
	for name, test := range map[string]struct {
		change func(*readRequest)
		words  string
		field  string
	}{
		"strip outside":      {func(q *readRequest) { q.Picks.Strip[2] = 1001 }, "picks outside the picture", ""},
		"strip without area": {func(q *readRequest) { q.Picks.Strip[3] = 0 }, "above 0", ""},
		"strip inside out":   {func(q *readRequest) { q.Picks.Strip[2] = -5 }, "above 0", ""},
		"bare length":        {func(q *readRequest) { q.Picks.Ruler.Length = "70" }, "found length", "length"},
		"length of nothing":  {func(q *readRequest) { q.Picks.Ruler.Length = "0mm" }, "above 0", "length"},
		"reflectance":        {func(q *readRequest) { q.Picks.Cards[0].Reflectance = "grey" }, "as in 18%", "reflectance-0"},
		"flat card":          {func(q *readRequest) { q.Picks.Cards[0].Box[3] = 0 }, "grey card 1", ""},
		"many cards":         {func(q *readRequest) { q.Picks.Cards = make([]cardMark, 7) }, "at most 6", ""},
		"unknown tank":       {func(q *readRequest) { q.Tank = "<b>" }, "found no tank", "tank"},
		"date":               {func(q *readRequest) { q.Date = "1 May" }, "found date", "date"},
		"station":            {func(q *readRequest) { q.Station = "a\tb" }, "found", "station"},
		"note":               {func(q *readRequest) { q.Note = strings.Repeat("x", 5000) }, "found", "note"},
		"sign":               {func(q *readRequest) { q.Signs = []string{"thunder"} }, "thunder", "signs"},
		"band":               {func(q *readRequest) { q.Cuts = []cutRequest{{10, "gold"}} }, "found band", ""},
		"thin layer":         {func(q *readRequest) { q.Cuts = []cutRequest{{0.1, ""}, {80, ""}} }, "0.5 mm or more", ""},
		"many layers":        {func(q *readRequest) { q.Cuts = make([]cutRequest, 201) }, "at most 100", ""},
	} {
		t.Run(name, func(t *testing.T) {
			q := fakeRequest()
			test.change(&q)
			w := p.postJSON(at+"/read", q)
			p.want(w, http.StatusUnprocessableEntity)
			answer := answerOf[readingTold](p, w.Body.Bytes())
			if !strings.Contains(answer.Refused, test.words) || answer.Field != test.field || answer.Read.Layers != nil {
				t.Errorf("refused %q at %q, want %q at %q", answer.Refused, answer.Field, test.words, test.field)
			}
		})
	}
	for name, body := range map[string]string{
		"garbage": `%!`, "nothing": ``, "an unknown field": `{"stripe": 1}`, "two": `{}{}`, "a text for a number": `{"surface_mm":"1"}`,
		"no number": `{"surface_mm":NaN}`, "too large a number": `{"surface_mm":1e999}`,
	} {
		t.Run(name, func(t *testing.T) {
			p.want(p.postBytes(at+"/read", "application/json", []byte(body)), http.StatusUnprocessableEntity, `{"refused":"found `)
			p.want(p.postBytes(at+"/save", "application/json", []byte(body)), http.StatusUnprocessableEntity, `{"refused":"found `)
		})
	}
	p.want(p.postBytes(at+"/read", "application/json", make([]byte, 256<<10+1)), http.StatusRequestEntityTooLarge)
}

// Where marks are missing it says which, and keeps the others.
func TestPhotoRead_marksMissing(t *testing.T) {
	p := newPhotoServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	q.Picks.Strip = nil
	p.want(p.postJSON(at+"/read", q), http.StatusOK, `{"wanted":["strip"]}`)
	q.Picks.Ruler.Length = ""
	p.want(p.postJSON(at+"/read", q), http.StatusOK, `{"wanted":["ruler","strip"]}`)
	q.Picks.Cards[0].Reflectance = "grey" // what was typed is refused at once
	p.want(p.postJSON(at+"/read", q), http.StatusUnprocessableEntity, `"field":"reflectance-0"`)
	q.Picks.Cards[0].Reflectance = ""
	p.want(p.postJSON(at+"/read", readRequest{}), http.StatusOK, `{"wanted":["ruler","strip"]}`)
	p.want(p.postJSON(at+"/read", q), http.StatusOK)
	if state := answerOf[stateAnswer](p, p.get(at+"/state").Body.Bytes()); !cmp.Equal(state.State, q) {
		t.Errorf("the state differs from what was told:\n%s", cmp.Diff(q, state.State))
	}
}

// A photo begins with what was chosen before it was sent, its own day or else today's.
func TestPhotoState_first(t *testing.T) {
	p := newPhotoServer(t)
	for photo, day := range map[string]string{fakePhoto: "2026-10-30", "photo 1600x1200 undated": fakeToday} {
		s := answerOf[stateAnswer](p, p.get(p.sendPhoto(photo)+"/state?tank=sill-tray&station=left").Body.Bytes())
		if s.State.Tank != "sill-tray" || s.State.Station != "left" || s.State.Date != day || s.Again || s.Width != 1600 || len(s.Tanks) == 0 {
			t.Errorf("%s begins with %+v", photo, s)
		}
	}
	s := answerOf[stateAnswer](p, p.get(p.sendPhoto(fakePhoto)+"/state?tank=nowhere").Body.Bytes())
	if s.State.Tank != "" {
		t.Errorf("begins with the tank %q, which there is not", s.State.Tank)
	}
}

// The marks of the station's last photo are found again; and the same photo sent again begins
// with all that was noted when it was saved.
func TestPhotoState_afterSaving(t *testing.T) {
	p := newPhotoServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	p.want(p.save(at, saveRequest{readRequest: q}), http.StatusOK)

	other := answerOf[foundAnswer](p, p.get(p.sendPhoto("photo 1600x1200 another")+"/found?tank=sill-tray&station=front").Body.Bytes())
	last := q.Picks
	last.Surface = nil
	if !cmp.Equal(other.Picks, last) || other.Said == "" {
		t.Errorf("finds the marks %+v (%q), want those of the last photo but for the surface", other.Picks, other.Said)
	}
	again := answerOf[stateAnswer](p, p.get(p.sendPhoto(fakePhoto)+"/state").Body.Bytes())
	q.Confirmed = saved
	if !again.Again || !cmp.Equal(again.State, q) {
		t.Errorf("the same photo begins otherwise than it was saved:\n%s", cmp.Diff(q, again.State))
	}
}

// A photo that was saved with edges, names or a bed surface of the keeper's own begins with
// them when it is sent again, so that saving it once more loses none.
func TestPhotoState_ownCutsAgain(t *testing.T) {
	for name, test := range map[string]struct {
		surface float64
		cuts    []cutRequest
	}{
		"a name":         {0, []cutRequest{{12, ""}, {18, "grey"}, {80, ""}}},
		"an edge":        {0, []cutRequest{{13, ""}, {18, ""}, {80, ""}}},
		"a split":        {0, []cutRequest{{12, ""}, {15, ""}, {18, ""}, {80, ""}}},
		"the surface":    {1, []cutRequest{{12, ""}, {18, ""}, {80, ""}}},
		"all of it":      {-1.5, []cutRequest{{14, "mulm-dark"}, {80, ""}}},
		"as it was read": {0, nil},
		"nothing to see": {0, []cutRequest{{12.004, ""}, {18, ""}, {80, ""}}},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPhotoServer(t)
			q := fakeRequest()
			q.Surface, q.Cuts = test.surface, test.cuts
			p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: q}), http.StatusOK)
			if name == "nothing to see" {
				q.Cuts = nil
			}
			at := p.sendPhoto(fakePhoto)
			again := answerOf[stateAnswer](p, p.get(at+"/state").Body.Bytes())
			q.Confirmed = saved
			if diff := cmp.Diff(q, again.State, cmpopts.EquateApprox(0, 1e-9)); !again.Again || diff != "" {
				t.Errorf("the same photo begins otherwise than it was saved (-saved +again):\n%s", diff)
			}
			before, _ := p.store.Tank(t.Context(), q.Tank)
			p.want(p.save(at, saveRequest{readRequest: again.State, Replace: true}), http.StatusOK)
			if after, _ := p.store.Tank(t.Context(), q.Tank); !cmp.Equal(before, after, cmpopts.EquateApprox(0, 1e-2)) {
				t.Errorf("saved again it is another core:\n%s", cmp.Diff(before, after))
			}
		})
	}
}

// saved is what saving a photo confirms of it.
var saved = []string{"ruler", "card", "strip", "surface", "water"}

// A core whose foot was amended by hand since has its depths from the surface.
func TestPhotoState_amendedByHandAgain(t *testing.T) {
	p := newPhotoServer(t)
	q := fakeRequest()
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: q}), http.StatusOK)
	tank, _ := p.store.Tank(t.Context(), q.Tank)
	core := tank.Cores[coreAt(&tank, q.Station, p.store.today)]
	core.Layers = []layers.Layer{{ThicknessMM: 10}, {ThicknessMM: 60, Band: palette.Black}}
	if err := p.store.AmendCore(t.Context(), q.Tank, q.Station, p.store.today, core); err != nil {
		t.Fatal(err)
	}
	again := answerOf[stateAnswer](p, p.get(p.sendPhoto(fakePhoto)+"/state").Body.Bytes())
	if want := []cutRequest{{10, ""}, {70, "black"}}; again.State.Surface != 0 || !cmp.Equal(again.State.Cuts, want) {
		t.Errorf("begins with the surface at %g and %v, want %v", again.State.Surface, again.State.Cuts, want)
	}
}

// Nothing is filed for want of something, and nothing is replaced unless that is said.
func TestPhotoSave_refused(t *testing.T) {
	p := newPhotoServer(t)
	at := p.sendPhoto(fakePhoto)
	for name, test := range map[string]struct {
		change func(*readRequest)
		field  string
	}{
		"no tank":    {func(q *readRequest) { q.Tank = "" }, "tank"},
		"no station": {func(q *readRequest) { q.Station = "" }, "station"},
		"no date":    {func(q *readRequest) { q.Date = "" }, "date"},
		"no strip":   {func(q *readRequest) { q.Picks.Strip = nil }, ""},
	} {
		t.Run(name, func(t *testing.T) {
			q := fakeRequest()
			test.change(&q)
			w := p.save(at, saveRequest{readRequest: q})
			p.want(w, http.StatusUnprocessableEntity)
			if answer := answerOf[readingTold](p, w.Body.Bytes()); answer.Refused == "" || answer.Field != test.field {
				t.Errorf("refused %q at %q, want it at %q", answer.Refused, answer.Field, test.field)
			}
		})
	}
	q := fakeRequest()
	core := layers.Core{Station: q.Station, Date: p.store.today, Layers: []layers.Layer{{ThicknessMM: 10}}}
	if err := p.store.AddCore(t.Context(), q.Tank, core); err != nil {
		t.Fatal(err)
	}
	p.want(p.save(at, saveRequest{readRequest: q}), http.StatusConflict, `{"error":"there is already a reading of front on 2026-11-01`)
	p.want(p.get(at), http.StatusOK)
	p.want(p.save(at, saveRequest{readRequest: q, Replace: true}), http.StatusOK)
	if tank, _ := p.store.Tank(t.Context(), q.Tank); tank.Cores[coreAt(&tank, q.Station, p.store.today)].Photo == nil {
		t.Error("the reading was not put in its place")
	}
}

// A logbook that fails leaves the draft as it is.
func TestPhotoSave_storeFails(t *testing.T) {
	p := newPhotoServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	p.store.broken = fmt.Errorf("the disk is full")
	p.want(p.save(at, saveRequest{readRequest: q}), http.StatusInternalServerError, "the disk is full")
	p.store.broken = nil
	p.want(p.save(at, saveRequest{readRequest: q}), http.StatusOK)
}

// Names from records are text, on pages and in answers.
func TestPhoto_namesAreText(t *testing.T) {
	p := newPhotoServer(t)
	const name = `"><script>alert(1)</script>`
	today := p.store.today
	tank := layers.Tank{ID: name, Name: name, Cores: []layers.Core{{Station: name, Date: today, Layers: []layers.Layer{{ThicknessMM: 10}}}}}
	if err := p.store.AddTank(t.Context(), tank); err != nil {
		t.Fatal(err)
	}
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	q.Tank, q.Station, q.Note = name, name, name
	p.want(p.postJSON(at+"/read", q), http.StatusOK, `"read":`)
	for _, path := range []string{"/photo", "/photo?station=%22%3E%3Cscript%3Ealert(1)%3C/script%3E", at, at + "/state"} {
		w := p.get(path)
		p.want(w, http.StatusOK)
		if strings.Contains(w.Body.String(), "<script>alert") {
			t.Errorf("%s holds a name as markup: %s", path, w.Body)
		}
	}
	if state := answerOf[stateAnswer](p, p.get(at+"/state").Body.Bytes()); state.State.Note != name || state.State.Tank != name {
		t.Errorf("the state holds %+v, want the names as they are", state.State)
	}
}

// Words say all names that a layer may have once, the likeliest first, and lists are never
// null, which scripts would stumble over.
func TestPhotoWords_bandsAndLists(t *testing.T) {
	p := newPhotoServer(t)
	at, q := p.sendPhoto(fakePhoto), fakeRequest()
	w := p.postJSON(at+"/read", q)
	if strings.Contains(w.Body.String(), `"helps":null`) || strings.Contains(w.Body.String(), `"warnings":null`) {
		t.Errorf("a list is null: %s", w.Body)
	}
	answer := answerOf[readingTold](p, w.Body.Bytes())
	for i, l := range answer.Words.Layers {
		seen := map[string]bool{}
		for _, band := range l.Bands {
			seen[band.Band] = true
		}
		if len(seen) != len(l.Bands) || len(seen) != len(palette.Bands()) || l.Bands[0].Band != answer.Read.Layers[i].Band {
			t.Errorf("layer %d, %s: may be named %+v", i+1, l.Name, l.Bands)
		}
	}
	if top := answer.Words.Layers[1]; top.Depths != "12 to 18 mm" || !strings.HasPrefix(top.Thickness, "6.0 mm (") {
		t.Errorf("the second layer is told as %+v", top)
	}
}

// Numbers that no picture has are refused rather than passed on as none.
func TestPhotoRead_farNumbers(t *testing.T) {
	p := newPhotoServer(t)
	at := p.sendPhoto(fakePhoto)
	for _, far := range []float64{-1, 1e9, math.MaxFloat64, -math.MaxFloat64} {
		q := fakeRequest()
		q.Picks.Strip = &[4]float64{far, far, 10, 10}
		p.want(p.postJSON(at+"/read", q), http.StatusUnprocessableEntity, `{"refused":`)
	}
}
