package reader

import (
	"fmt"

	"panecore/palette"
	"panecore/reports"
	"panecore/reports/words"
)

// readWords say what a photo shows.
type readWords struct {
	Said     string        `json:"said"`   // in one line
	Unsure   string        `json:"unsure"` // empty: the reading is reliable
	Taught   string        `json:"taught"` // what it starts from; empty: no photo taught
	Numbers  []numberWords `json:"numbers"`
	Oxic     string        `json:"oxic"`    // at its bracket on the photo
	Surface  string        `json:"surface"` // the name of the bed surface as an edge
	Layers   []layerWords  `json:"layers"`
	Warnings []string      `json:"warnings"`
	Helps    []string      `json:"helps"` // what would improve the reading
}

type numberWords struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Basis string `json:"basis"`
}

type layerWords struct {
	Plate     string       `json:"plate"` // next to the strip
	Short     string       `json:"short"` // the same where there is little room
	Depths    string       `json:"depths"`
	Thickness string       `json:"thickness"`
	Name      string       `json:"name"`
	Beside    string       `json:"beside"` // a second name, or who gave the name
	Edge      string       `json:"edge"`   // its lower one
	Bands     []bandChoice `json:"bands"`
}

// bandChoice is a name that a layer may have.
type bandChoice struct {
	Band  string `json:"band"`
	Words string `json:"words"`
}

func (s *room) readWords(read reports.PhotoCore, asked *reports.Question, task Task, cards int) readWords {
	length, u := words.Length(s.Units), s.Units
	w := readWords{Surface: "bed surface", Warnings: read.Photo.Warnings, Helps: helps(read, task, cards)}
	if asked != nil {
		w.Warnings = append([]string{asked.Text}, w.Warnings...)
	}
	if !read.Reliable {
		w.Unsure = "Not reliable: the layers may differ from what is shown here."
	}
	if by := read.Photo.TaughtBy; by != nil {
		w.Taught = words.TaughtBy(*by)
	}
	for _, n := range []struct {
		name string
		e    *reports.Estimate
	}{{"Colour oxic depth", read.OxicDepth}, {"Mulm", read.Mulm}, {"Top of the black zone", read.BlackTop}, {"Thickness of the black zone", read.BlackZone}} {
		if n.e != nil {
			w.Numbers = append(w.Numbers, numberWords{n.name, length.Estimate(*n.e), words.Basis(*n.e)})
		}
	}
	w.Said = words.Count(len(read.Layers), "layer")
	if e := read.OxicDepth; e != nil {
		w.Oxic = "oxic " + length.Value(*e) + " " + length.Unit
		w.Said += ", colour oxic depth " + length.Estimate(*e)
	}
	for i, l := range read.Layers {
		bottom := l.BottomMM()
		depths := u.Number(l.TopMM) + "–" + u.Number(bottom)
		lw := layerWords{
			Short:     fmt.Sprintf("%s %s", l.Band, depths),
			Depths:    fmt.Sprintf("%s to %s %s", words.OnRuler(u, l.TopMM), words.OnRuler(u, bottom), u),
			Thickness: length.Estimate(l.Thickness),
			Name:      words.Band(l),
			Beside:    words.Beside(l),
			Edge:      fmt.Sprintf("lower edge of layer %d, %s", i+1, l.Band),
			Bands:     bandChoices(l),
		}
		lw.Plate = lw.Short
		if l.Doubtful() {
			lw.Plate = fmt.Sprintf("%s or %s %s", l.Band, l.Alternatives[0].Band, depths)
		}
		w.Layers = append(w.Layers, lw)
	}
	return w
}

// whatToCheck says what to look at before answering a question about a reading.
func whatToCheck(q *reports.Question) string {
	switch q.Mends[0].Slip {
	case reports.SlipTurnedOver:
		return "Check that the photo is upright and the strip runs from the bed surface down."
	case reports.SlipDepths, reports.SlipTenfold, reports.SlipTenth:
		return "Check the ruler's two points, the length between them and its unit."
	case reports.SlipRemoval, reports.SlipTopUp:
		return "Check the tank, the place and the day."
	}
	return "Check the tank, the place and the day, and the ruler's two points with the length between them."
}

// bandChoices are the names that a layer may have, the likeliest first.
func bandChoices(l reports.Layer) (list []bandChoice) {
	likely := map[palette.Band]bool{}
	add := func(band palette.Band, share float64) {
		likely[band] = true
		list = append(list, bandChoice{band.String(), fmt.Sprintf("%s %d %%", band, words.Hundred(share))})
	}
	if !l.Labelled {
		add(l.Band, l.Probability)
	}
	for _, other := range l.Alternatives {
		add(other.Band, other.Probability)
	}
	for _, band := range palette.Bands() {
		if !likely[band] {
			list = append(list, bandChoice{band.String(), band.String()})
		}
	}
	return list
}

// The photo itself needs improving from these on (assumptions).
const (
	muchGlare = 0.05 // share of the strip masked
	steepRoll = 5.0  // degrees: the limit of package photo
)

// helps say what would improve a reading.
func helps(read reports.PhotoCore, task Task, cards int) []string {
	list := []string{}
	if !read.Reliable {
		list = append(list, "Look at every edge on the photo. If some are wrong, move them, draw another strip, or take another photo: square to the pane, with the focus on the grains.")
	}
	switch {
	case cards == 0:
		list = append(list, "If a grey card or white paper is on the pane, mark it: it corrects the tint.")
	case read.Photo.Correction.Cards < cards:
		list = append(list, "Mark the card that was left out again, well inside its edges and clear of glare and shadow, or take another photo with less exposure.")
	}
	if read.Photo.GlareShare >= muchGlare {
		list = append(list, "Glare hides part of the strip: draw the strip next to it, or take another photo with the lamp off or diffused.")
	}
	if roll := read.Photo.RollDegrees; roll > steepRoll || roll < -steepRoll {
		list = append(list, "The ruler leans in the photo: check that its two points are one above the other, or hold the camera level next time.")
	}
	switch {
	case task.Tank.ID == "":
		list = append(list, "Choose the tank below: the colour of its substrate when laid makes the names more certain.")
	case len(task.Tank.Native) == 0:
		list = append(list, "Add the colour of the substrate when laid on the tank's page: it makes the names more certain.")
	}
	return list
}

// ask holds numbers back while a question is open that they depend on.
func (w *readWords) ask(list []question) {
	if len(list) == 0 {
		return
	}
	w.Unsure = "Not sure yet: " + list[0].Text
	for _, q := range list {
		if q.About == aboutWater {
			w.Said, w.Oxic, w.Numbers = "", "", nil
		}
	}
}
