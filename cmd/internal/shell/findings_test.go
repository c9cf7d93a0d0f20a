package shell

import (
	"bytes"
	"fmt"
	"testing"

	"panecore/reports"
)

func TestWriteFindingsJSON_bytesOfOnePass(t *testing.T) {
	findings := reports.Findings{Format: reports.FindingsFormat, Tanks: []reports.Tank{}}
	for range 3 {
		var streamed, whole bytes.Buffer
		if err := WriteFindingsJSON(&streamed, findings); err != nil {
			t.Fatal(err)
		}
		if err := WriteJSON(&whole, findings); err != nil {
			t.Fatal(err)
		}
		if streamed.String() != whole.String() {
			t.Errorf("%d tanks: got\n%s\nwant\n%s", len(findings.Tanks), &streamed, &whole)
		}
		findings.Tanks = append(findings.Tanks, reports.Tank{
			ID: fmt.Sprint(len(findings.Tanks)), Name: "shelf <left> & “right”", Notices: []string{"one", "two"},
			Mulm: &reports.Estimate{Value: 12, Low: 11.2, High: 12.8},
		})
	}
}
