package cli

import (
	"os"
	"strings"
	"testing"

	"panecore/layers"
)

// The smallest document that the help topic shows must be one.
func TestLogbookTopic_exampleReads(t *testing.T) {
	_, rest, _ := strings.Cut(logbookTopic, "A smallest one:\n")
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
	const farDay layers.Date = 47482 // 2100-01-01, behind every date of the examples
	tanks, err := layers.Decode(strings.NewReader(example), farDay)
	if err != nil || len(tanks) != 1 {
		t.Errorf("%d tanks, %v", len(tanks), err)
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
