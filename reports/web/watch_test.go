package web

import (
	"io/fs"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"panecore/reports"
	"panecore/reports/web/forms"
	"panecore/reports/web/reader"
	"panecore/reports/web/site"
)

// A runaway stands on a tank's page and on its card, one that may be beginning on the page only, and a
// quiet watch is silent. The page tells the two frames of the front apart.
func TestPages_watch(t *testing.T) {
	s := &site.Site{}
	if err := s.Load([]fs.FS{files, site.Files, forms.Files, reader.Files}...); err != nil {
		t.Fatal(err)
	}
	part := func(name string, body any) string {
		w := httptest.NewRecorder()
		if err := s.ShowPart(w, http.StatusOK, name, site.Frame{Body: body}); err != nil {
			t.Fatal(err)
		}
		return strings.ReplaceAll(w.Body.String(), site.Unbroken, " ")
	}
	const told = "A runaway is under way with a probability of 87 %: black is swelling up"
	for _, test := range []struct {
		probability  float64
		tank, onCard string // empty: nothing is said
	}{
		{0.03, "", ""}, {0.3, "A runaway may be beginning (30 %): read the bed again by", ""}, {0.87, told, told},
	} {
		watch := &reports.Watch{Probability: &test.probability, Signs: []string{"The black zone thickens.", "A dark film was seen."}}
		tank := part("tank", tankView{
			Tank: reports.Tank{
				ID: "weir", Name: "weir", Watch: watch,
				FrontShift: &reports.Estimate{Value: 1, Low: 0.5, High: 1.5}, FloorShift: &reports.Estimate{Value: -2.5, Low: -3, High: -2},
				Advice: &reports.Advice{Action: reports.Leave, Because: []reports.Reason{{Text: "A dark film was seen."}}},
			},
			Columns: []picture{{}}, Water: forms.Records{Form: &forms.Form{}}, Events: forms.Records{Form: &forms.Form{}},
		})
		card := part("overview", overviewView{Cards: []card{{OverviewLine: reports.OverviewLine{ID: "weir", Action: reports.Leave, Watch: watch}}}})
		for _, page := range []struct{ name, text, want string }{{"tank", tank, test.tank}, {"card", card, test.onCard}} {
			if !strings.Contains(page.text, page.want) || strings.Contains(page.text, "runaway") != (page.want != "") {
				t.Errorf("%v: the %s does not say %q, or says something else", test.probability, page.name, page.want)
			}
		}
		if strings.Contains(tank, "The black zone thickens.") != (test.tank != "") || strings.Count(tank, "A dark film was seen.") != 1 {
			t.Errorf("%v: the signs are missing, or said twice", test.probability)
		}
		if want := "The front rises by 2.5 mm a month against the floor, though its depth below the surface grows by 1.0 mm a month: the mulm grows faster."; !strings.Contains(tank, want) || !strings.Contains(tank, "−2.5 mm/month (−3.0 to −2.0)") {
			t.Errorf("the tank's page does not say %q, or not the numbers", want)
		}
	}
}
