package cli

import (
	"strings"
	"testing"

	"panecore/reports"
)

// The smallest document that the help topic shows must be one.
func TestLogbookTopic_exampleReads(t *testing.T) {
	_, rest, _ := strings.Cut(logbookTopic, "A smallest one:\n")
	example, _, _ := strings.Cut(rest, "\nA tank\n")
	if !strings.Contains(example, "panecore/1") {
		t.Fatal("found no example in the topic")
	}
	findings, err := (&shell{}).findingsOf(strings.NewReader(example), demoToday, reports.Settings{Draws: minDraws})
	if err != nil || len(findings.Tanks) != 1 {
		t.Errorf("%d tanks, %v", len(findings.Tanks), err)
	}
}
