package words

import (
	"fmt"

	"panecore/reports"
)

// Runaway says that a runaway is under way, how likely, since when and what that means; empty: none
// is told.
func Runaway(w *reports.Watch) string {
	if !w.Runaway() {
		return ""
	}
	text := "A runaway is under way with a probability of " + percent(*w.Probability)
	if w.Since != 0 {
		text += ", since " + w.Since.String()
	}
	return text + ": black is swelling up through the bed towards the surface."
}

// percent is a probability, never quite certain.
func percent(p float64) string {
	if p > 0.99 {
		return "over 99 %"
	}
	return fmt.Sprintf("%d %%", Hundred(p))
}

// Watch says what there is to say of a runaway, and when to look again; empty: nothing.
func Watch(w *reports.Watch) string {
	switch {
	case w.Runaway():
		return Runaway(w) + " Read the bed again by " + w.NextReading.String() + "."
	case w != nil && w.Probability != nil && *w.Probability >= reports.Suspected:
		return fmt.Sprintf("A runaway may be beginning (%s): read the bed again by %s.", percent(*w.Probability), w.NextReading)
	}
	return ""
}

// WatchSigns are the signs that speak for what Watch says and that the advice does not name already.
func WatchSigns(w *reports.Watch, a *reports.Advice) (list []string) {
	if Watch(w) == "" {
		return nil
	}
	said := map[string]bool{}
	if a != nil {
		for _, r := range a.Because {
			said[r.Text] = true
		}
	}
	for _, sign := range w.Signs {
		if !said[sign] {
			list = append(list, sign)
		}
	}
	return list
}

// RunawaySince is the short form for a mark in a picture: "runaway since 2026-08-02".
func RunawaySince(w *reports.Watch) string {
	if w.Since == 0 {
		return "runaway"
	}
	return "runaway since " + w.Since.String()
}
