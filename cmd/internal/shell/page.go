package shell

import (
	"bytes"

	"panecore/reports"
	"panecore/reports/page"
)

// EncodePage is a tank's report as a page, with the photos given; a notice stands on top.
func (s *Shell) EncodePage(record reports.Record, photos []page.Photo, notice string) ([]byte, error) {
	var b bytes.Buffer
	err := page.Write(&b, page.Report{Record: record, Photos: photos, Units: s.Units, Notice: notice, Version: Version()})
	return b.Bytes(), err
}

// EncodeSheet is the blank recording sheet as a page.
func (s *Shell) EncodeSheet() ([]byte, error) {
	var b bytes.Buffer
	err := page.WriteSheet(&b, s.Units)
	return b.Bytes(), err
}
