package cli

import (
	"bytes"

	"panecore/reports"
	"panecore/reports/page"
)

func (s *shell) encodePage(record reports.Record, photos []page.Photo, notice string) ([]byte, error) {
	var b bytes.Buffer
	err := page.Write(&b, page.Report{Record: record, Photos: photos, Units: s.units, Notice: notice, Version: version()})
	return b.Bytes(), err
}

func (s *shell) encodeSheet() ([]byte, error) {
	var b bytes.Buffer
	err := page.WriteSheet(&b, s.units)
	return b.Bytes(), err
}
