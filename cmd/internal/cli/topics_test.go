package cli

import (
	"os"
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
)

// The smallest document that the help topic shows must be one.
func TestLogbookTopic_exampleReads(t *testing.T) {
	_, rest, _ := strings.Cut(logbookTopic(), "A smallest one:\n")
	example, _, _ := strings.Cut(rest, "\nA tank\n")
	if !strings.Contains(example, "panecore/1") {
		t.Fatal("found no example in the topic")
	}
	readsAsOneTank(t, example)
}

// So must the first reading of the README.
func TestReadme_exampleReads(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(readme), "```json\n")
	example, _, found := strings.Cut(rest, "```")
	if !found {
		t.Fatal("found no example in the README")
	}
	readsAsOneTank(t, example)
}

func readsAsOneTank(t *testing.T, example string) {
	t.Helper()
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
