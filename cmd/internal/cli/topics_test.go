package cli

import (
	"regexp"
	"strings"
	"testing"

	"panecore/layers"
)

// The smallest document that the help topic shows must be one.
func TestLogbookTopic_exampleReads(t *testing.T) {
	_, rest, _ := strings.Cut(logbookTopic(), "A short one:\n")
	example, _, _ := strings.Cut(rest, "\nA tank\n")
	if !strings.Contains(example, "panecore/1") {
		t.Fatal("found no example in the topic")
	}
	const farDay layers.Date = 47482 // 2100-01-01, behind every date of the example
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

// Help on the method is short enough to be read, on lines that fit any terminal.
func TestMethodTopic_isShort(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(methodText), "\n")
	if len(lines) >= 70 {
		t.Errorf("%d lines, want fewer than 70", len(lines))
	}
	for _, line := range lines {
		if len(line) > 78 {
			t.Errorf("%q is longer than 78 columns", line)
		}
	}
}

// The topic tells every field of a tank and a core; those of water tests and events come from
// their tables.
func TestLogbookTopic_everyField(t *testing.T) {
	topic := logbookTopic()
	for _, f := range layers.TankFields() {
		checkWord(t, topic, f.Name)
	}
	for _, f := range layers.CoreFields() {
		checkWord(t, topic, f.Name)
	}
}

func checkWord(t *testing.T, text, word string) {
	t.Helper()
	if !regexp.MustCompile(`\b` + word + `\b`).MatchString(text) {
		t.Errorf("the topic does not tell %s", word)
	}
}
