package cli

import (
	"strings"
	"testing"

	"panecore/layers"
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

func TestLimitsTopic_namesEveryLimit(t *testing.T) {
	text := limitsTopic()
	for _, rule := range layers.LimitRules() {
		if !strings.Contains(text, rule.Name) {
			t.Errorf("lacks %s", rule.Name)
		}
	}
}

// Help on the method is short enough to be read, on lines that fit any terminal.
func TestMethodTopic_isShort(t *testing.T) {
	lines := strings.Split(methodTopic, "\n")
	if len(lines) >= 70 {
		t.Errorf("%d lines, want fewer than 70", len(lines))
	}
	for _, line := range lines {
		if len(line) > 78 {
			t.Errorf("%q is longer than 78 columns", line)
		}
	}
}
