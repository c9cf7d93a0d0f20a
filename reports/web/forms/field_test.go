package forms

import (
	"testing"

	"panecore/reports/web/site"
)

// A unit stays on a line with the last word of its label.
func TestField_tiesUnit(t *testing.T) {
	if label := newForm(nil).field("event", "share", "Share of the water").decimal("%").Label; label != "Share of the water,"+site.Unbroken+"%" {
		t.Errorf("found label %q", label)
	}
}
