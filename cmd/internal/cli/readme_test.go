package cli_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The README's commands run as they stand there, from the first to the last. Those of the
// page run until they are stopped, which TestServe does.
func TestReadme_commandsRun(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var script strings.Builder
	for _, command := range commandsOf(string(readme)) {
		if !strings.HasPrefix(command, "panecore serve") {
			script.WriteString("exec " + command + "\n")
		}
	}
	if commands := strings.Count(script.String(), "\n"); commands < 30 {
		t.Fatalf("found %d commands, want 30 or more", commands)
	}
	file := filepath.Join(t.TempDir(), "readme.txtar")
	if err := os.WriteFile(file, []byte(script.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Files:               []string{file},
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv(todayVariable, "2026-07-02")
			env.Setenv("PANECORE_LOGBOOK", filepath.Join(env.WorkDir, "logbook.db"))
			photo, err := os.ReadFile("../demo/photo.jpg")
			if err != nil {
				return err
			}
			for _, name := range []string{"front.jpg", "next-month.jpg"} {
				if err := os.WriteFile(filepath.Join(env.WorkDir, name), photo, 0o644); err != nil {
					return err
				}
			}
			return nil
		},
	})
}

var commandInSentence = regexp.MustCompile("`(panecore [^`]+)`")

// commandsOf are the panecore commands that a text in Markdown shows, in blocks and in
// sentences, in their order.
func commandsOf(text string) (commands []string) {
	inBlock := false
	for line := range strings.Lines(text) {
		line = strings.TrimPrefix(strings.TrimSpace(line), "go run ./cmd/")
		switch {
		case strings.HasPrefix(line, "```"):
			inBlock = !inBlock
		case inBlock && strings.HasPrefix(line, "panecore "):
			commands = append(commands, line)
		case !inBlock:
			for _, found := range commandInSentence.FindAllStringSubmatch(line, -1) {
				commands = append(commands, found[1])
			}
		}
	}
	return commands
}

// readmePictures is the folder of the README's pictures: files of 'demo --out' as they are,
// and pictures of the local page.
const readmePictures = "../../../testdata/readme"

// The README shows its pictures, and those of the demo are what the program draws. Renewed
// with -update.
func TestReadme_picturesAreFresh(t *testing.T) {
	readme, err := os.ReadFile("../../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	stored, err := filepath.Glob(filepath.Join(readmePictures, "*.png"))
	if err != nil || len(stored) < 4 {
		t.Fatalf("%d pictures in %s, want 4 or more: %v", len(stored), readmePictures, err)
	}
	drawn, err := demoFiles()
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range stored {
		name := filepath.Base(path)
		if !strings.Contains(string(readme), "](testdata/readme/"+name+")") {
			t.Errorf("%s is not shown in the README", name)
		}
		if strings.HasPrefix(name, "serve-") { // of the local page, held fresh beside the server
			continue
		}
		got, ok := drawn[name]
		if !ok {
			t.Errorf("%s is stored, and 'demo --out' writes no such file", name)
			continue
		}
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is stale; renew it with -update and look at it", name)
		}
	}
}
