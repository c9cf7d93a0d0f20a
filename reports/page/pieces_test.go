package page_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"panecore/reports"
	"panecore/reports/page"
)

// Days and numbers with their units are not broken, the text stays what it was, and what a
// record brings is escaped within them and beside.
func TestWrite_wholes(t *testing.T) {
	long := strings.Repeat("7", 60)
	said := "<b>melt</b> (2026-10-25), 5 %: 1.6 mg/L of 2026-10-251, 22.5 °C, 5 mmol, " + long + " mm & 0.02 mg N/L."
	text := written(t, page.Report{Record: reports.Record{Tank: reports.Tank{ID: "jar", Notices: []string{said}}}})
	_, item, _ := strings.Cut(text, "The bed and its water</h3>")
	item, _, _ = strings.Cut(item, "</ul>")
	var wholes []string
	for _, m := range regexp.MustCompile(`<span class="whole">([^<]*)</span>`).FindAllStringSubmatch(item, -1) {
		wholes = append(wholes, m[1])
	}
	if want := []string{"2026-10-25", "5 %", "1.6 mg/L", "22.5 °C", "0.02 mg N/L"}; !slices.Equal(wholes, want) {
		t.Errorf("whole are %q, want %q", wholes, want)
	}
	if got := strings.TrimSpace(plainText(item)); got != said {
		t.Errorf("the page says %q, want %q", got, said)
	}
	if strings.Contains(item, "<b>") {
		t.Error("a record's tag stands in the page")
	}
}
