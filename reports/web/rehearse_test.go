package web

import (
	"net/http"
	"strings"
	"testing"
)

// A rehearsal follows what is asked, on a page of its own and, for a script, by itself.
func TestRehearse_followsSliders(t *testing.T) {
	p := newTestServer(t)
	p.want(p.get("/tank/wheel-room/rehearse"), http.StatusOK, "siphoning 25 % of the floor down to 10 mm", `max="118"`, "Never start a siphon by mouth", "Step by step", "<svg")
	p.want(p.get("/tank/wheel-room/rehearse?method=stir&share=60&to=40"), http.StatusOK, "stirring 60 % of the floor down to 40 mm", `value="60"`, `value="40"`)
	part := p.get("/tank/wheel-room/rehearse?method=stir&share=60&to=40&part=result")
	p.want(part, http.StatusOK, "stirring 60 % of the floor down to 40 mm", "<svg")
	if strings.Contains(part.Body.String(), "<html") {
		t.Error("a script gets the whole page")
	}
	if len(p.store.past) > 0 {
		t.Error("a rehearsal was kept")
	}
}

func TestRehearse_faults(t *testing.T) {
	p := newTestServer(t)
	for query, want := range map[string]string{
		"?method=burn": "found &#34;burn&#34;, want one of the list", "?share=0": "want a whole number from 5 to 100 %", "?share=x": "from 5 to 100 %",
		"?to=500": "want a whole number from 1 to 118 mm", "?to=-1": "from 1 to 118 mm",
	} {
		p.want(p.get("/tank/wheel-room/rehearse"+query), http.StatusUnprocessableEntity, want)
		p.want(p.get("/tank/wheel-room/rehearse"+query+"&part=result"), http.StatusUnprocessableEntity, want)
	}
}

// What must not be done is refused first of all, with what helps instead and without steps.
func TestRehearse_forbidden(t *testing.T) {
	p := newTestServer(t)
	for _, query := range []string{"", "?method=stir", "?method=stir&part=result"} {
		page := p.get("/tank/loft-jar/rehearse" + query)
		p.want(page, http.StatusOK, `<p class="verdict dont" data-verdict>Don&#39;t. Oxygen was 1.7`)
		body := page.Body.String()
		verdict, instead, picture := strings.Index(body, "data-verdict>"), strings.Index(body, "What helps instead"), strings.Index(body, "rehearsed")
		if verdict > instead || instead > picture || strings.Contains(body, "Step by step") {
			t.Errorf("%q: the verdict stands at %d, what helps at %d, the numbers at %d", query, verdict, instead, picture)
		}
	}
}

// What a rehearsal lacks is said, with where it can be told.
func TestRehearse_lacking(t *testing.T) {
	p := newTestServer(t)
	p.store.tanks[0].Vessel = nil
	p.want(p.get("/tank/wheel-room/rehearse"), http.StatusOK, "it needs the vessel&#39;s measurements.", `href="/tank/wheel-room/edit"`)
	p.store.tanks[1].Water = nil
	p.want(p.get("/tank/loft-jar/rehearse"), http.StatusOK, "it needs a water temperature of the last 90 days.", `href="/tank/loft-jar#water"`)
	p.store.tanks[2].Cores = nil
	p.want(p.get("/tank/sill-tray/rehearse"), http.StatusOK, "it needs a core that has been read", `href="/tank/sill-tray/read"`)
}
