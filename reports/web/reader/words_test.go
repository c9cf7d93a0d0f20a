package reader

import (
	"strings"
	"testing"

	"panecore/layers"
	"panecore/reports"
)

// What would help is told where it would, and only there.
func TestPhotoWords_helps(t *testing.T) {
	native := []layers.Native{{Name: "sand", Kind: layers.Sand}}
	good := reports.PhotoCore{Core: reports.Core{Reliable: true}, Photo: reports.Photo{Correction: reports.Correction{Cards: 1}}}
	for name, test := range map[string]struct {
		change func(*reports.PhotoCore, *Task)
		cards  int
		want   string
	}{
		"nothing":      {func(*reports.PhotoCore, *Task) {}, 1, ""},
		"no card":      {func(r *reports.PhotoCore, _ *Task) { r.Photo.Correction.Cards = 0 }, 0, "If a grey card"},
		"card burnt":   {func(r *reports.PhotoCore, _ *Task) { r.Photo.Correction.Cards = 0 }, 1, "the card that was left out"},
		"glare":        {func(r *reports.PhotoCore, _ *Task) { r.Photo.GlareShare = 0.2 }, 1, "Glare hides"},
		"rolled":       {func(r *reports.PhotoCore, _ *Task) { r.Photo.RollDegrees = -7 }, 1, "The ruler leans"},
		"not reliable": {func(r *reports.PhotoCore, _ *Task) { r.Reliable = false }, 1, "Look at every edge"},
		"no tank":      {func(_ *reports.PhotoCore, task *Task) { task.Tank = layers.Tank{} }, 1, "Choose the tank"},
		"no native":    {func(_ *reports.PhotoCore, task *Task) { task.Tank.Native = nil }, 1, "Add the colour"},
	} {
		t.Run(name, func(t *testing.T) {
			read, task := good, Task{Tank: layers.Tank{ID: "kettle", Native: native}}
			test.change(&read, &task)
			switch got := helps(read, task, test.cards); {
			case test.want == "" && len(got) == 0:
			case len(got) != 1 || test.want == "" || !strings.Contains(got[0], test.want):
				t.Errorf("helps %q, want one with %q", got, test.want)
			}
		})
	}
}
