package web

import (
	"net/http"
	"slices"
	"strings"
	"testing"
)

// onFound sends a photo and asks what is found on it, and how it reads by that.
func onFound(t *testing.T, photo string) (p *testPage, at string, q readRequest) {
	t.Helper()
	p = newPhotoServer(t)
	at = p.sendPhoto(photo)
	found := answerOf[foundAnswer](p, p.get(at+"/found?tank=sill-tray&station=new").Body.Bytes())
	return p, at, readRequest{Tank: "sill-tray", Station: "new", Date: fakeToday, Picks: found.Picks}
}

// What is found surely is read without a question, what is found doubtfully is asked about until it is confirmed or moved,
// and nothing is saved while a question is open.
func TestPhotoFound_askedAbout(t *testing.T) {
	moved := func(q *readRequest) { q.Picks.Ruler.From[0]++ }
	confirmed := func(about string) func(*readRequest) {
		return func(q *readRequest) { q.Confirmed = append(q.Confirmed, about) }
	}
	for photo, c := range map[string]struct {
		asks   string // about, of each question
		answer func(*readRequest)
	}{
		"ruler card strip surface":                   {asks: ""},
		"ruler strip surface":                        {asks: ""},
		"doubtful ruler card strip surface":          {"ruler", moved},
		"doubtful ruler strip surface, no water":     {"ruler water", func(q *readRequest) { moved(q); confirmed("water")(q) }},
		"ruler strip doubtful surface":               {"surface", confirmed("surface")},
		"ruler strip":                                {"surface", confirmed("surface")},
		"ruler doubtful card strip surface":          {"card", func(q *readRequest) { q.Picks.Cards = nil }},
		"ruler doubtful strip surface":               {"strip", confirmed("strip")},
		"ruler strip surface above water":            {"water", confirmed("water")},
		"ruler strip surface above so much of water": {"water", func(q *readRequest) { y := 320.0; q.Picks.Surface = &y }},
	} {
		t.Run(photo, func(t *testing.T) {
			p, at, q := onFound(t, "photo 1600x1200 - with "+photo)
			answer := answerOf[asking](p, p.postJSON(at+"/read", q).Body.Bytes())
			var about []string
			for _, ask := range answer.Asks {
				about = append(about, ask.About)
			}
			if got := strings.Join(about, " "); got != c.asks || (answer.Words.Unsure == "") != (c.asks == "") {
				t.Fatalf("asks about %q, unsure %q, want %q", got, answer.Words.Unsure, c.asks)
			}
			if slices.Contains(about, "water") && (answer.Words.Said != "" || answer.Words.Numbers != nil) {
				t.Errorf("it tells %q, %v before it is known where the bed begins", answer.Words.Said, answer.Words.Numbers)
			}
			if c.answer == nil {
				return
			}
			p.want(p.save(at, saveRequest{readRequest: q}), http.StatusUnprocessableEntity, "not saved, since this is still open: ")
			c.answer(&q)
			if answer := answerOf[asking](p, p.postJSON(at+"/read", q).Body.Bytes()); len(answer.Asks) > 0 {
				t.Errorf("asks still: %+v", answer.Asks)
			}
			p.want(p.save(at, saveRequest{readRequest: q}), http.StatusOK)
		})
	}
}

// What is not found is told, and wanted of the keeper.
func TestPhotoFound_missing(t *testing.T) {
	p, at, q := onFound(t, "photo 1600x1200 - with strip surface")
	answer := answerOf[asking](p, p.postJSON(at+"/read", q).Body.Bytes())
	if len(answer.Asks) != 1 || answer.Asks[0].Text != "No ruler was found." || answer.Asks[0].Yes != "" || !slices.Equal(answer.Wanted, []string{"ruler"}) {
		t.Errorf("told %+v, want a ruler", answer)
	}
}

// It is looked for once for a place, and anew for another.
func TestPhotoFound_ofAnotherPlace(t *testing.T) {
	p := newPhotoServer(t)
	p.want(p.save(p.sendPhoto(fakePhoto), saveRequest{readRequest: fakeRequest()}), http.StatusOK)
	at := p.sendPhoto("photo 1600x1200 - with ruler")
	for place, last := range map[string]bool{"tank=sill-tray&station=front": true, "tank=sill-tray&station=left": false, "": false, "tank=nowhere&station=front": false} {
		found := answerOf[foundAnswer](p, p.get(at+"/found?"+place).Body.Bytes())
		if (found.Picks.Strip != nil) != last || (found.Said != "") != last {
			t.Errorf("%s: found %+v", place, found)
		}
	}
}
